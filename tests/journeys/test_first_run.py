"""An apprentice commissions her first gate in the real window: from the front desk to the debrief and its files."""

from __future__ import annotations

import json
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from tests.journeys.commissioning import (
    at_sheet,
    directions,
    guards,
    learn,
    power_and_the_inner_beam,
    survey,
    swing_by_hand,
)
from tests.journeys.sight import leaves_are_drawn_where_they_are, plan_of

pytestmark = [pytest.mark.display, pytest.mark.slow]

BEAM_Y_M = -0.3
"""Where the outer beam runs at Orchard Row: outside, along the opening."""

TRANSMITTER = "Transmitter, while held"


def test_she_commissions_the_gate_hands_it_over_and_reads_the_debrief(person: Any) -> None:
    """Survey to handover, nothing ticked by hand: each check passes by what was seen; then score, page and print."""
    person.reads("First run")
    person.click("First run", "job")
    person.click("Start the job", "button")
    person.reads("Orchard Row")
    person.reads("Isolated")
    leaves_are_drawn_where_they_are(person)
    survey(person)
    swing_by_hand(person)
    power_and_the_inner_beam(person)
    directions(person)
    guards(person)
    at_sheet(person, "leaf delay, opening", "3")
    at_sheet(person, "leaf delay, closing", "12")
    at_sheet(person, "slow zone before stop", "20")
    learn(person)
    person.tab("Acceptance")
    person.reads("Travel learned")
    person.picture("five-steps-done")

    _transmitter(person)
    _beam_at_three_places(person)
    _unplugged_receiver(person)
    _closing_force(person)
    _auto_close(person)
    _hand_over(person)
    _debrief(person)


def _stands(person: Any, where: str) -> None:
    """Time runs on, fast, until the gate stands fully open or closed; the picture agrees."""
    person.choose("Wait until…", f"Fully {where}")
    end = 90.0 if where == "open" else 0.0
    person.until(lambda: abs(person.view().leaves[0].angle_deg - end) < 12, f"the gate stands {where}")
    leaves_are_drawn_where_they_are(person)


def _press(person: Any, button: str) -> None:
    person.hold(button, 0.5, inside="Wired controls, while held")


def _transmitter(person: Any) -> None:
    person.tab("Sheet")
    person.click("holder", "text entry")
    person.type("the left-hand house")
    person.use("enrol transmitter")
    person.hold("1", 0.5, inside=TRANSMITTER)
    person.reads("the left-hand house")
    person.through(3.0)
    person.hold("1", 0.5, inside=TRANSMITTER)
    _stands(person, "open")
    person.passed("transmitter opens")


def _beam_at_three_places(person: Any) -> None:
    """From outside the arc, lying low: the gate opens again each time."""
    for x_m in (1.0, 2.0, 3.0):
        _press(person, "Close")
        person.pace("4×")
        person.until(lambda: person.view().leaves[0].angle_deg < 80, "the active leaf comes", 3000)
        person.pace("1×")
        person.choose("Bodies", "Place lying: test body")
        x, y = plan_of(person).port.to_screen(x_m, BEAM_Y_M)
        person.down((round(x), round(y)))
        person.up()
        person.until(lambda: person.view().guards[0].tripped, "the beam is cut")
        lay = person.view().leaves[0].angle_deg
        person.until(lambda a=lay: person.view().leaves[0].angle_deg > a + 3, "the active leaf goes back", 2000)
        person.picture(f"beam-{x_m:g}")
        person.choose("Bodies", "Take away: test body")
        _stands(person, "open")
    person.passed("beam reopens at three places")


def _unplugged_receiver(person: Any) -> None:
    person.tab("Cabinet")
    person.use("unplug")
    person.until(lambda: not person.view().guards[0].plugged, "the beam's plug is out")
    _press(person, "Close")
    person.through(4.0)
    assert person.view().leaves[0].angle_deg > 80, "it closes with its beam unplugged"
    person.use("plug in")
    person.passed("unplugged receiver refused")
    person.click("Yard", "button")  # the wiring drawing stood in its place


def _closing_force(person: Any) -> None:
    """Three readings at one point on a rigid rest."""
    person.tab("Instruments")
    person.click("Mechanical", "option", inside="group")
    person.click("Force gauge", "option")
    for field, value in (("gap_mm", "300"), ("height_mm", "900")):
        person.click(field, "number entry", inside="place force gauge")
        person.key("ctrl+a")
        person.type(value)
    person.use("place force gauge")
    person.until(lambda: person.view().gauge, "the gauge stands")
    person.pace("16×")
    for nth in range(1, 4):
        _press(person, "Close")
        person.choose("Wait until…", "The gate rests")
        person.through(7.0)
        person.use("read force gauge")
        person.until(lambda n=nth: len(person.view().curves) == n, f"reading {nth}")
        _press(person, "Open")
        _stands(person, "open")
    person.pace("1×")
    person.picture("force")
    person.use("remove force gauge")
    person.passed("closing force measured")


def _auto_close(person: Any) -> None:
    at_sheet(person, "auto-close", "on")
    at_sheet(person, "auto-close after", "20")
    _press(person, "Close")
    _stands(person, "closed")
    person.hold("1", 0.5, inside=TRANSMITTER)
    _stands(person, "open")
    _stands(person, "closed")
    person.passed("auto-close closes")
    person.passed("leaf order true")
    person.passed("slow zone before the gap")


def _hand_over(person: Any) -> None:
    person.tab("Sheet")
    person.click("name", "text entry", inside="seal sheet")
    person.type("the fitter")
    person.use("seal sheet")
    person.reads("The sheet is sealed by the fitter.")
    assert person.view().panel.sealed
    person.tab("Survey")
    person.use("remove cordon")
    person.picture("before-the-handover")
    person.hand_over()


def _debrief(person: Any) -> None:
    """Score and result on the screen are those that were kept; page and print say the same."""
    person.reads("Debrief: First run")
    told = person.view().debrief
    assert told.result == "competent", [(f.title, f.what) for f in told.findings if f.outcome == "failed"]
    person.reads("Competent")
    person.reads(f"{told.score:g}")
    person.picture("debrief")
    kept = json.loads((person.app.desk.folder / "first_run-0001" / "result.json").read_text(encoding="utf-8"))
    assert kept["score"] == pytest.approx(told.score)

    folder = person.app.pictures
    for answer in ("Page for a browser (HTML)", "Print (PDF)"):
        person.click("Write the report…", "button")
        person.click(answer, "button")
        person.reads("The report is in", frames=6000)
        person.until(lambda: not person.sees("The report is in"), "the message goes", frames=6000)
    page = _page(next(folder.glob("*.html")))
    print_ = " ".join(sheet.extract_text() for sheet in PdfReader(next(folder.glob("*.pdf"))).pages)
    for text in ("First run", "Orchard Row", f"{told.score:.0f} of 100", "Closing force measured"):
        assert text in page, text
        assert text in print_, text
    person.click("To the front desk", "button")
    person.reads(f"best {told.score:.0f}")


class _Words(HTMLParser):
    """The text of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.told: list[str] = []

    def handle_data(self, data: str) -> None:
        """A piece of text."""
        self.told.append(data)


def _page(path: Path) -> str:
    words = _Words()
    words.feed(path.read_text(encoding="utf-8"))
    return " ".join(" ".join(words.told).split())
