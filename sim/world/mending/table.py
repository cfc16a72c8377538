"""Every repair of a gate: those of its conductors and parts, and those that the families' files add."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final
from weakref import WeakKeyDictionary

from sim.devices.cabinet import Cabinet
from sim.errors import Refused, nearest_right
from sim.faults.edit import fact
from sim.said import said
from sim.site import Site
from sim.world.mending import access, board, drive, light, mechanics, parts, wires
from sim.world.mending.row import Mend

if TYPE_CHECKING:
    from sim.world.world import World

ROWS: Final[tuple[Mend, ...]] = (*access.ROWS, *drive.ROWS, *board.ROWS, *light.ROWS, *mechanics.ROWS)
"""What the families' files add, in their order."""


_LASTING: Final[WeakKeyDictionary[Cabinet, tuple[Mend, ...]]] = WeakKeyDictionary()
"""What a gate's own wiring gives, which never changes."""


def mend_of(world: World, verb: str, what: str) -> Mend:
    """The entry of a verb on a thing; an entry of the table adds to what the wiring gives by itself.

    Raises Refused naming the nearest right thing.
    """
    found = [mend for mend in all_of(world) if mend.verb == verb and mend.what == what]
    if not found:
        raise Refused(
            said(
                "there is nothing called '{what}' here to {verb}{hint}",
                what=what,
                verb=verb,
                hint=nearest_right(what, targets(world, verb)),
            )
        )
    return found[0] if len(found) == 1 else _joined(found)


def targets(world: World, verb: str) -> tuple[str, ...]:
    """Everything on this gate that a verb can be done to."""
    return tuple(dict.fromkeys(mend.what for mend in all_of(world) if mend.verb == verb))


def all_of(world: World) -> Iterator[Mend]:
    """Every entry that this gate has the things for."""
    cabinet = world.cabinet
    if cabinet not in _LASTING:
        here = (mend for mend in ROWS if _is_here(world.designed, mend))
        wiring = (*wires.rows(cabinet.built), *parts.rows(cabinet.built))
        _LASTING[cabinet] = (*here, *access.rows(world.designed), *wiring)
    yield from _LASTING[cabinet]
    for net in (cabinet.netlist, cabinet.mains):
        yield from parts.links(net.elements, cabinet.built)


def _is_here(site: Site, mend: Mend) -> bool:
    """Whether the site has all that it sets back. One leaf alone has no strip, and its gap to a post is still one."""
    try:
        for path in mend.site:
            if fact(site, path) == "not fitted":
                return False
    except Refused:
        return False
    return True


def _joined(found: list[Mend]) -> Mend:
    """Several entries of one verb on one thing as one; time, parts and conditions are those of the first."""
    first = found[0]
    return Mend(
        first.verb,
        first.what,
        elements=tuple(name for mend in found for name in mend.elements),
        closes=tuple(name for mend in found for name in mend.closes),
        extras=tuple(name for mend in found for name in mend.extras),
        site=tuple(dict.fromkeys(path for mend in found for path in mend.site)),
        ohms={name: ohm for mend in found for name, ohm in mend.ohms.items()},
        seconds=first.seconds,
        dead=any(mend.dead for mend in found) if not first.site else first.dead,
        parts=first.parts or found[-1].parts,
        ready=next((mend.ready for mend in found if mend.ready is not None), None),
        does=first.does,
    )
