"""The five-minute job in the real window: predict, see, finish, and read the debrief."""

from __future__ import annotations

from typing import Any

import pytest

pytestmark = [pytest.mark.display, pytest.mark.slow]


def test_he_predicts_sees_and_finishes_with_a_debrief(person: Any) -> None:
    """One question answered, one guard seen while the gate opens; the debrief says what was and what was not done."""
    person.reads("Meet the gate")
    person.click("Meet the gate", "job")
    person.click("Start the job", "button")
    person.until(lambda: person.app.session is not None and person.view().board_on, "a gate with power")
    person.hold("Open", 0.5)
    person.until(lambda: person.view().lamp_on, "the warning lamp")
    person.until(lambda: person.view().leaves[0].angle_deg > 30, "the active leaf opens", frames=3000)
    person.choose("Guards", "Outer beam: Hold a card before it")
    person.until(lambda: person.view().guards[0].tripped, "the beam is covered")
    before = person.view().leaves[0].angle_deg
    person.through(3.0)
    assert person.view().leaves[0].angle_deg > before, "an outer beam does not act while opening"
    person.choose("Guards", "Outer beam: Uncover it")
    person.picture("opening")
    person.choose("More", "Finish as it stands…")
    person.click("Finish", "button")
    person.reads("Debrief: Meet the gate")
    view = person.view()
    assert view.debrief is not None
    assert view.debrief.result != "competent"
    person.reads(view.debrief.result.capitalize())
    person.picture("debrief")
    watch_again_and_write(person)
    person.click("To the front desk", "button")
    person.reads("First run")
    assert (person.app.desk.folder / "meet_the_gate-0001" / "result.json").is_file()


def watch_again_and_write(person: Any) -> None:
    """The moment the beam was covered is clicked on the timeline and played; then the report goes to a folder."""
    at, pin = next(
        (finding.evidence[0][1], label)
        for finding in person.view().debrief.findings
        if finding.title == "Each guard seen at work"
        for label in person.texts()
        if label.endswith("Each guard seen at work (failed)")
    )
    person.click(pin, "pin")
    person.until(lambda: person.view().strip.shown_s == pytest.approx(at / 1e6, abs=0.01), "the moment", frames=900)
    assert person.view().guards[0].tripped, "the beam was covered then"
    person.click("To the debrief", "button")
    person.click("Write the report…", "button")
    person.click("Print (PDF)", "button")
    person.reads("The report is in", frames=3000)
    assert (person.pictures / "debrief Meet the gate.pdf").read_bytes().startswith(b"%PDF-")


def test_she_closes_the_window_and_goes_on_later(person: Any) -> None:
    """Leaving keeps everything; the front desk offers to go on; the gate stands as it stood."""
    person.click("Meet the gate", "job")
    person.click("Start the job", "button")
    person.until(lambda: person.app.session is not None and person.view().board_on, "a gate with power")
    person.hold("Open", 0.5)
    person.until(lambda: person.view().leaves[0].angle_deg > 20, "the active leaf opens", frames=3000)
    person.choose("More", "Leave; resume later")
    person.reads("First run")
    person.click("Meet the gate", "job")
    person.click("Go on where it was left", "button")
    person.until(lambda: person.app.session is not None, "the session is back")
    assert person.view().leaves[0].angle_deg > 19
    assert not person.view().held
