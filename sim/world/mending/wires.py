"""Repairs of conductors: made from the wiring itself, so that every screw, core and cable there is has its own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from sim.wiring.elements import Contact, Element, Resistor
from sim.world.mending.row import Mend

SPLICE_OHM: Final = 0.002
"""What a good splice adds to a core [Ω]. CP, no source."""

_ENDS: Final = (" core", " wire", ", live", ", neutral")
"""How the names of conductors end that a hand can lay anew."""


def conductors(built: Mapping[str, Element]) -> tuple[str, ...]:
    """Every core and wire there is."""
    return tuple(
        name
        for name, element in built.items()
        if isinstance(element, Resistor) and (name.endswith(_ENDS) or "wire, " in name or "conductor, " in name)
    )


def screws(built: Mapping[str, Element]) -> tuple[str, ...]:
    """Every joint that is held by a screw or a splice."""
    return tuple(
        name
        for name, element in built.items()
        if isinstance(element, Contact) and name.endswith((", screw", ", splice", "joint"))
    )


def rows(built: Mapping[str, Element]) -> Iterator[Mend]:
    """One of each kind for every conductor of a wiring."""
    for name in screws(built):
        yield Mend("tighten", name, elements=(_plain(name),), closes=(_plain(name),), seconds=120.0)
    for name in conductors(built):
        yield _re_terminated(built, name)
        whole = complex(built[name].ohm)
        ohm = whole + SPLICE_OHM if isinstance(built[name].ohm, complex) else whole.real + SPLICE_OHM
        yield Mend(
            "splice",
            name,
            elements=(_plain(name), f"{_plain(name)}, insulation", f"{_plain(name)}, splice"),
            closes=(f"{_plain(name)}, splice",),
            ohms={name: ohm},  # type: ignore[dict-item]
            seconds=900.0,
            parts=("crimped joint in gel",),
        )
    for run in dict.fromkeys(run_of(name) for name in conductors(built)):
        yield _laid_anew(built, run)


def run_of(name: str) -> str:
    """The cable or wire a conductor belongs to: what stands before its first comma."""
    return name.partition(",")[0]


def _re_terminated(built: Mapping[str, Element], name: str) -> Mend:
    """Its two ends under their own terminals again, and these tight."""
    ends = {built[name].a, built[name].b}
    held = tuple(_plain(each) for each in screws(built) if ends & {built[each].a, built[each].b})
    return Mend("re-terminate", name, elements=(_plain(name), *held), closes=held, seconds=300.0)


def _laid_anew(built: Mapping[str, Element], run: str) -> Mend:
    mine = tuple(name for name in conductors(built) if run_of(name) == run)
    patterns = tuple(pattern for name in mine for pattern in (_plain(name), f"{_plain(name)}, *"))
    cable = run if run.endswith(("cable", "wire", "lead", "conductor")) else f"{run} cable"
    return Mend(
        "re-lay cable",
        cable,
        elements=patterns,
        closes=patterns,
        extras=(f"{_plain(cable)}, *", f"{_plain(run)}, * core, *", f"{_plain(run)} cable*"),
        seconds=5400.0,
        parts=(cable,),
    )


def _plain(name: str) -> str:
    """A name as a pattern that fits itself alone."""
    return name.replace("[", "[[]").replace("*", "[*]").replace("?", "[?]")
