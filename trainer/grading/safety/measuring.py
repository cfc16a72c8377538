"""Instruments used so that they hurt somebody or break something: each with the caution that was shown for it."""

from __future__ import annotations

from collections.abc import Callable

from sim.said import begun, said
from trainer.grading.safety.rule import Breach, Rule, Severity, breach
from trainer.grading.story import Story, cite


def _told(what: str, kind: str) -> Callable[[Story], list[Breach]]:
    def look(story: Story) -> list[Breach]:
        events = story.events("damage" if kind == "damage" else "danger", what=what)
        return [breach(begun(said("{what}.", what=event.text)), cite(event)) for event in events]

    return look


def _rule(what: str, severity: Severity, title: str, why: str, instead: str, kind: str = "danger") -> Rule:
    return Rule(name=what, severity=severity, title=title, why=why, instead=instead, look=_told(what, kind))


RULES = (
    _rule(
        "ohms on a live circuit",
        "minor",
        "Resistance asked of a live circuit",
        "The meter measures its own little source against yours: the figure is worthless, and a lesser meter dies.",
        "Isolate both sources, prove dead, then ask for ohms.",
    ),
    _rule(
        "current range across a supply",
        "serious",
        "Meter on amps laid across a supply",
        "On amps a meter is a piece of wire. Its fuse is all that stands between you and an arc in your hand.",
        "Put the meter in series into an open circuit, or take a clamp; look where the leads are plugged.",
    ),
    _rule(
        "wrong category on mains",
        "serious",
        "Meter of too low a category on mains",
        "A surge on fixed mains wiring flashes over inside a meter that was not made for it, and the arc stays.",
        "Category III or better at the distribution board and the isolator; look at the marking first.",
    ),
    _rule(
        "insulation test on a live circuit",
        "serious",
        "Insulation test on a live circuit",
        "Two sources fight through the tester, and nothing it shows is true.",
        "Isolate both sources and prove dead before you press the button.",
    ),
    _rule(
        "board destroyed by an insulation test",
        "serious",
        "Insulation test with the board connected",
        "Insulation tests destroy electronics if boards stay connected: 500 V asks nobody.",
        "Pull every plug at the board first, test the cables alone, against earth.",
        kind="damage",
    ),
    _rule(
        "short circuit made by hand",
        "serious",
        "A lead clipped across a live circuit",
        "A battery drives hundreds of amperes through a clip: it welds, sprays and burns before any fuse goes.",
        "Dead first, and proved; then join what has to be joined, and take it off before the supply comes back.",
    ),
    _rule(
        "capacitance on a charged circuit",
        "minor",
        "Capacitance asked of a charged or fed circuit",
        "A capacitor holds what it had: it goes through the meter, or through you.",
        "Isolate, discharge through a resistor, take a lead off, then measure.",
    ),
)
