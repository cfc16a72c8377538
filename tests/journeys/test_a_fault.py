"""A call-out in the real window: a gate that won't open, measured at the wiring drawing, mended and handed over."""

from __future__ import annotations

from typing import Any

import pytest

from tests.journeys.sight import leaves_are_drawn_where_they_are

pytestmark = [pytest.mark.display, pytest.mark.slow]


def test_he_measures_a_broken_line_mends_it_and_hands_the_gate_over(call_out: str, person: Any) -> None:
    """It refuses and says what it waits for; both edges are measured, the cause is written, mended, proved."""
    person.open_job(call_out)
    person.until(lambda: person.view().board_on, "a gate with power")
    leaves_are_drawn_where_they_are(person)
    person.tab("Why still")
    person.hold("Open", 0.5)
    person.reads("active edge reads line open")
    assert person.view().leaves[0].angle_deg < 1, "a gate that won't open"
    person.picture("why-still")

    person.tab("Cabinet")
    person.use("isolate")
    person.until(lambda: not person.view().board_on, "the board is dead")
    for nth, edge in ((2, "active edge"), (3, "inactive edge")):
        person.use("unplug", nth=nth - (nth == 3))  # of the plugs that are still in
        person.until(lambda e=edge: not plugged(person, e), f"the plug of the {edge} is out")
    assert "over range" in measured(person, "active edge")
    value, unit = measured(person, "inactive edge").split()
    assert unit == "kΩ"
    assert 7.4 <= float(value) <= 9.0, "the sound one, as its resistor has it"
    person.picture("measured")

    person.tab("Notebook")
    person.click("What I suspect", "option")
    person.click("new note", "text entry")
    person.type("a core of the active edge's line is broken")
    person.key("Return")
    person.until(lambda: [n.entry for n in person.view().notes if "core" in n.text] == ["suspected"], "the cause")
    person.reads("a core of the active edge's line is broken")

    person.tab("Repair")
    person.choose("act: repair", "Splice")
    person.choose("what", "active edge, line core", inside="splice")
    person.use("splice")
    person.until(lambda: measured(person, "active edge").endswith("kΩ"), "its resistor is read again", 1)

    _proved(person)
    _handed_over(person, call_out)


def plugged(person: Any, guard: str) -> bool:
    """Whether a guard's plug is in."""
    return next(g.plugged for g in person.view().guards if g.name == guard)


def measured(person: Any, edge: str) -> str:
    """The multimeter on the two cores of an edge's plug, put there by mouse: what its face shows."""
    person.tab("Instruments")
    person.click("Multimeter", "option")
    if person.find("function", "dropdown")["value"] != "ohms":
        person.choose("function", "ohms")
    person.tab("Cabinet")
    for name, button in ((f"{edge} plug, line", 1), (f"{edge} plug, common", 3)):
        person.put_lead(name, button)
    person.tab("Instruments")
    begun = person.app.session.clock_us
    person.use("measure")
    person.until(lambda: person.app.session.clock_us > begun + 10_000_000, "it was put on, read, and taken off")
    return str(person.find("multimeter", "reading")["value"])


def _proved(person: Any) -> None:
    """Plugs in, power on: it opens, goes back from a pressed edge, and opens all the way."""
    person.tab("Cabinet")
    for edge in ("active edge", "inactive edge"):
        person.use("plug in")
        person.until(lambda e=edge: plugged(person, e), f"the plug of the {edge} is in")
    person.use("restore")
    person.until(lambda: person.view().board_on, "the board has power")
    person.click("Yard", "button")
    person.through(3.0)
    person.hold("Open", 0.5)
    person.until(lambda: person.view().leaves[0].angle_deg > 15, "the active leaf opens", 3000)
    leaves_are_drawn_where_they_are(person)
    person.choose("Guards", "Active edge: Press it")
    person.until(lambda: person.view().guards[2].tripped, "the edge is pressed")
    met = person.view().leaves[0].angle_deg
    person.until(lambda: person.view().leaves[0].angle_deg < met - 0.5, "it goes back from it", 2000)
    person.choose("Guards", "Active edge: Let it go")
    person.through(3.0)
    person.hold("Open", 0.5)
    person.choose("Wait until…", "Fully open")
    person.until(lambda: person.view().leaves[0].angle_deg > 85, "the gate is open")
    leaves_are_drawn_where_they_are(person)


def _handed_over(person: Any, title: str) -> None:
    person.hand_over()
    person.reads(f"Debrief: {title}")
    told = person.view().debrief
    assert {f.title: f.outcome for f in told.findings}["Handed over to the user"] == "passed"
    person.reads(f"{told.score:g}")
    person.click("Measurements", "option")
    person.reads("over range")
    person.picture("debrief")
