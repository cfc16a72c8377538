"""What a drawing of the wiring shows: which terminal is joined to which, as one sees it: no ohms, no leaks.

A core that sits under another screw is seen; a core that is broken inside its sheath isn't.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from sim.devices.part import Terminal
from sim.wiring.elements import Contact, Element

Way: TypeAlias = Literal["core", "wire", "plug", "link", "switch", "fuse", "bridge"]
"""A core of a cable, a wire inside the cabinet, a pole of a plug, a link, a pole of a switch, a fuse in its carrier,
a piece of wire that somebody laid."""

JOINTS: Final = ("joint", ", screw", ", splice")
"""Elements with one of these in their name are screws and splices: a drawing looks through them."""


@dataclass(frozen=True, slots=True)
class Core:
    """One line of the drawing."""

    name: str
    run: str
    """The cable it belongs to: what stands before the comma of its name."""
    way: Way
    a: str
    """Terminal at the cabinet's end, '' for an end that hangs loose."""
    b: str
    """Terminal at the far end."""
    closed: bool = True
    """Whether a plug is in, a link fitted, a switch closed. A fuse is in its carrier, blown or not."""


def way_of(element: Element) -> Way | None:
    """What an element is on the drawing; None for what is not seen as a line. Names say it."""
    name = element.name
    if any(joint in name for joint in JOINTS) or name.endswith(", insulation"):
        return None
    if name.endswith(", bridge"):
        return "bridge"
    if name.endswith(" core"):
        return "core"
    if name.endswith(" wire") or any(word in name for word in (" wire, ", " lead, ", "protective conductor, ")):
        return "wire"
    if not isinstance(element, Contact):
        return None
    if name.endswith(" pole"):
        return "plug" if " plug, " in name else "switch"
    if name.endswith(" link"):
        return "link"
    if name.endswith(" fuse"):
        return "fuse"
    return None


def drawn_cores(elements: Iterable[Element], terminals: Mapping[str, Terminal]) -> tuple[Core, ...]:
    """Every line between two terminals, in the order of the elements. What ends inside a part isn't seen."""
    held = tuple(elements)
    at_node = {terminal.node: terminal.name for terminal in terminals.values()}
    screws: dict[str, list[str]] = {}
    inner: dict[str, list[str]] = {}
    """Screws, and what sits in one part in series: a pole and the fuse behind it."""
    for element in held:
        joint = any(word in element.name for word in JOINTS)
        for ways in (screws,) * joint + (inner,) * (joint or way_of(element) in ("switch", "fuse")):
            ways.setdefault(element.a, []).append(element.b)
            ways.setdefault(element.b, []).append(element.a)
    cores = []
    for element in held:
        way = way_of(element)
        if way is None:
            continue
        ways, other = (inner, (element.b, element.a)) if way in ("switch", "fuse") else (screws, ("", ""))
        a = _terminal(element.a, at_node, ways, other[0])
        b = _terminal(element.b, at_node, ways, other[1])
        if way in ("switch", "fuse", "link") and not (a and b):
            continue
        closed = element.closed if isinstance(element, Contact) and way in ("plug", "link", "switch") else True
        cores.append(Core(element.name, element.name.split(", ")[0], way, a, b, closed))
    return tuple(cores)


def _terminal(node: str, at_node: Mapping[str, str], screws: Mapping[str, list[str]], barred: str) -> str:
    """The terminal under whose screw an end sits: the node's own, or the nearest through screws, `barred` apart."""
    seen, edge = {node, barred}, [node]
    while edge:
        found = [at_node[each] for each in edge if each in at_node]
        if found:
            return found[0]
        edge = [other for each in edge for other in screws.get(each, ()) if other not in seen]
        seen.update(edge)
    return ""
