"""Repairs of electrical parts: a new one has everything as the old one was built."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sim.wiring.elements import Contact, Element
from sim.world.mending.row import Mend
from sim.world.mending.wires import conductors, screws

BY_HAND = (" pole", "isolator", "battery link", ", switch")
"""Contacts that a hand moves, or the board's outputs: a new part doesn't."""


def rows(built: Mapping[str, Element]) -> Iterator[Mend]:
    """Every part can be replaced: its elements are those whose names begin with its own, but for what belongs to the
    cable that leads to it."""
    cores = conductors(built)
    led = tuple(f"{core}, " for core in cores)
    own = {name: element for name, element in built.items() if name not in cores and not name.startswith(led)}
    for part in dict.fromkeys(name.partition(",")[0] for name in own if name not in screws(built)):
        mine = tuple(name for name in own if name.partition(",")[0] == part and name not in screws(built))
        moved = tuple(name for name in mine if isinstance(built[name], Contact) and not _is_by_hand(name))
        yield Mend(
            "replace",
            part,
            elements=mine,
            closes=moved,
            extras=(f"{part}, *", f"{part} output*"),
            seconds=1200.0,
            parts=(part,),
        )
    for name, element in built.items():
        if isinstance(element, Contact) and ("breaker" in name or "residual-current" in name):
            yield Mend(
                "reset", name.partition(",")[0], closes=(f"{name.partition(',')[0]}*",), seconds=10.0, dead=False
            )


def _is_by_hand(name: str) -> bool:
    return any(word in name for word in BY_HAND)


def links(net: Mapping[str, Element], built: Mapping[str, Element]) -> Iterator[Mend]:
    """What lies in a net that nobody wired, and a hand can take out."""
    for name in net:
        if name not in built:
            yield Mend("remove link", name, extras=(name,), seconds=60.0)
