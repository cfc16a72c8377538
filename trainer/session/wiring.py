"""What may be seen of the wiring: parts with their terminals, cores from screw to screw, what is plugged and linked.

A drawing shows the wiring as somebody with a lamp would see it: a core under the wrong screw is there, an ohm isn't.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final, Literal, TypeAlias
from weakref import WeakKeyDictionary

if TYPE_CHECKING:
    from sim.world.world import World

Where: TypeAlias = Literal["mains", "board", "cabinet", "yard"]
"""On the mains side, a block of the board, a device beside the board, a device in the yard."""

BESIDE_THE_BOARD: Final = ("supply", "battery", "receiver", "charger", "transformer", "detector", "converter")
"""Words of parts that stand in the cabinet as devices of their own. Whatever begins with `board` is on the board."""

LOOSE: Final = (" cell",)
"""Words of parts that nobody wires: they are carried about."""


@dataclass(frozen=True, slots=True)
class CoreView:
    """One line of the drawing."""

    name: str
    run: str
    """The cable it belongs to."""
    way: str
    """`core`, `wire`, `plug`, `link`, `switch`, `fuse` or `bridge`."""
    a: str
    """Terminal at the cabinet's end, '' where it hangs loose."""
    b: str
    closed: bool = True
    """A plug that is in, a link that is fitted, a switch that is closed."""


@dataclass(frozen=True, slots=True)
class PartView:
    """One part with its terminals."""

    name: str
    where: Where
    pins: tuple[tuple[str, str], ...]
    """(terminal, what its pin is called), in the order of the part."""
    plug_of: str = ""
    """For a plug: the block it goes into."""


@dataclass(frozen=True, slots=True)
class WiringView:
    """Everything a wiring drawing is made of."""

    parts: tuple[PartView, ...] = ()
    cores: tuple[CoreView, ...] = ()


def wiring_of(terminals: list[tuple[str, str, str, bool]], cores: tuple[CoreView, ...]) -> WiringView:
    """The drawing's data from terminals (name, part, pin, on the mains side) and cores."""
    pins: dict[str, list[tuple[str, str]]] = {}
    mains: set[str] = set()
    at: dict[str, str] = {}
    holds: dict[str, str] = {}
    for name, part, pin, on_mains in terminals:
        pins.setdefault(part, []).append((name, pin))
        at[name] = part
        if on_mains:
            mains.add(part)
    far = {at[core.b] for core in cores if core.way == "core" and core.b in at}
    where = {part: _where(part, part in mains, part in far) for part in pins}
    drawn = []
    for core in cores:
        if core.way == "plug" and core.a in at and core.b in at:
            if where[at[core.a]] == "board":
                holds[at[core.b]] = at[core.a]
            else:  # a plug that goes onto a device stands for itself, and its poles are drawn as links
                where[at[core.b]] = where[at[core.a]]
                core = replace(core, way="link")
        drawn.append(core)
    parts = tuple(PartView(part, where[part], tuple(own), holds.get(part, "")) for part, own in pins.items())
    return WiringView(parts, tuple(drawn))


def _where(part: str, on_mains: bool, far: bool) -> Where:
    if on_mains:
        return "mains"
    if far or part.endswith(LOOSE):
        return "yard"
    beside = not part.startswith("board") and part.endswith(BESIDE_THE_BOARD)
    feeds = part in ("accessory supply", "emitter supply")
    return "cabinet" if beside and not feeds else "board"


_kept: WeakKeyDictionary[object, tuple[object, WiringView]] = WeakKeyDictionary()


def wiring_view(world: World) -> WiringView:
    """The drawing of a world's cabinet; the same object as long as nothing that is seen changed."""
    cabinet = world.cabinet
    marks = (cabinet.netlist.mark, cabinet.mains.mark)
    held = _kept.get(cabinet)
    if held is not None and held[0] == marks:
        return held[1]
    cores = tuple(CoreView(c.name, c.run, c.way, c.a, c.b, c.closed) for c in cabinet.cores())
    found = wiring_of([(t.name, t.part, t.pin, t.net == "mains") for t in cabinet.terminals.values()], cores)
    if held is not None and held[1] == found:
        found = held[1]
    _kept[cabinet] = marks, found
    return found
