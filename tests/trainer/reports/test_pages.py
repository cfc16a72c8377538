"""The printed pages: what stands where, nothing left out, nothing that a person typed is taken for markup."""

from __future__ import annotations

import re
import subprocess
import sys
from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest
from jinja2 import UndefinedError

from sim.controller.ports import Panel
from sim.units import Us
from trainer import CAUTION
from trainer.reports.commissioning import commissioning_html, record_of
from trainer.reports.debrief import debrief_html
from trainer.reports.page import Heading, page
from trainer.session.lookback import CompetenceView, OverruledView, RulingView
from trainer.session.view import Curve, DebriefView, StripView, View

HEADING = Heading(
    "First run", "Tannery Lane", "working", "practice", 3, "0:42:12.40", "25 November 2026", "R. Fenwick"
)
NASTY = "<script>alert(1)</script>\"'><img src=x onerror=alert(2)>{{ 7*7 }}&$x_2$"


def poisoned(thing: Any) -> Any:
    """The same data with every text a person may have typed replaced by markup."""
    if isinstance(thing, str):
        return NASTY
    if isinstance(thing, tuple):
        return tuple(poisoned(one) for one in thing)
    if is_dataclass(thing) and not isinstance(thing, type):
        kept = {"outcome", "grave", "points", "mode", "state"}
        changed = {f.name: poisoned(getattr(thing, f.name)) for f in fields(thing) if f.name not in kept}
        return replace(thing, **changed)
    return thing


def pages(view: View, heading: Heading, debrief: DebriefView, strip: StripView) -> list[str]:
    """Both pages of a session."""
    return [
        debrief_html(heading, debrief, view.curves, strip),
        commissioning_html(heading, record_of(view)),
    ]


def test_the_caution_comes_before_everything(view: View, debrief: DebriefView, trace: StripView, reader: Any) -> None:
    """Both pages say first what they are not; the result and the record come after it (the project's own rule)."""
    for html, after in zip(
        pages(view, HEADING, debrief, trace), ("Not yet: one grave", "Not handed over"), strict=True
    ):
        words = reader(html).words
        assert words.index(CAUTION) < words.index(after)


def test_both_marks_are_told_where_an_instructor_overruled(debrief: DebriefView, reader: Any) -> None:
    """The computed mark, the overruled one after it, and each ruling with who and why; nothing typed is markup."""
    rulings = (
        RulingView("Sheet sealed", "passed", "failed", None, "T. Marsh", "It was open.", "2026-05-04T09:30:00+00:00"),
        RulingView("mud", "", "failed", 3.0, NASTY, "Mud.", "2026-05-05T09:30:00+00:00", grave=True),
    )
    html = debrief_html(HEADING, replace(debrief, overruled=OverruledView(71.0, "developing", rulings)))
    words = reader(html).words
    assert words.index("39 of 100") < words.index("Overruled by an instructor: developing 71 of 100")
    assert "Sheet sealed computed: passed; overruled: failed T. Marsh , 2026-05-04: It was open." in words
    assert "mud added: grave · failed · 3.0 points lost" in words
    assert "<script>" not in html
    assert "Overruled" not in reader(debrief_html(HEADING, debrief)).words


def test_competences_are_told_where_there_is_a_list(debrief: DebriefView, reader: Any) -> None:
    """Name, what it means, how it stands and what shows it; without a list there is no such heading."""
    one = CompetenceView("Measures force", "Reads it three times.", "shown", "Passed: Closing force measured.")
    told = reader(debrief_html(HEADING, replace(debrief, competences=(one,)))).words
    assert "Measures force Reads it three times. shown Passed: Closing force measured." in told
    assert "Competences" not in reader(debrief_html(HEADING, debrief)).words


def test_every_finding_carries_its_evidence(debrief: DebriefView, reader: Any) -> None:
    """Result, three lines, parts, and of each finding its words and each line of evidence with number and time."""
    words = reader(debrief_html(HEADING, debrief)).words
    for text in ("Not yet: one grave finding", "39 of 100", "Safe? no", "Right? nearly", "Systematic? yes",
                 "outcome 26.0 of 30", "diagnosis not judged"):  # fmt: skip
        assert text in words
    for finding in debrief.findings:
        assert finding.title in words
        assert finding.what in words
        if finding.outcome != "passed":
            assert finding.why in words
            assert finding.instead in words
    assert "line 23 0:04:12.00 bridge: inner beam" in words
    assert "line 31 0:06:28.00 the gate closed by itself, inner beam bridged" in words


def test_what_is_grave_comes_first_and_what_passed_last(debrief: DebriefView, reader: Any) -> None:
    """Order of attention: grave, failed, marginal, not judged, passed."""
    words = reader(debrief_html(HEADING, debrief)).words
    titles = ["A guard was bridged", "Closing force measured", "Monthly checks shown", "Both leaves turn"]
    places = [words.index(title) for title in titles]
    assert places == sorted(places)
    assert "grave failed safety" in words


def test_markup_that_was_typed_stays_text(view: View, trace: StripView, reader: Any) -> None:
    """With markup in every field no page has a tag, an attribute or an expression that we didn't write."""
    poison = poisoned(replace(view, debrief=None, strip=None, settings=view.settings, guards=view.guards))
    clean = pages(view, HEADING, view.debrief, trace)  # type: ignore[arg-type]
    dirty = pages(
        replace(poison, mode="practice"), poisoned(HEADING), poisoned(view.debrief), replace(trace, marks=trace.marks)
    )
    for good, bad in zip(clean, dirty, strict=True):
        found = reader(bad)
        assert "alert(1)" in found.words
        assert "{{ 7*7 }}" in found.words
        assert {tag for tag, _ in found.tags} <= {tag for tag, _ in reader(good).tags}
        assert not any(name.startswith("on") for _, attributes in found.tags for name in attributes)


def test_a_page_needs_nothing_beside_it(view: View, debrief: DebriefView, trace: StripView, reader: Any) -> None:
    """No script, no link, nothing fetched: every reference points into the page or carries its data."""
    for html in pages(view, HEADING, debrief, trace):
        found = reader(html)
        assert not {"script", "link", "iframe", "object", "img"} & {tag for tag, _ in found.tags}
        for _, attributes in found.tags:
            for name in ("src", "href", "xlink:href", "action", "srcset"):
                assert (attributes.get(name) or "#").startswith("#")
        addresses = re.findall(r"url\(([^)]{0,12})", html)
        assert addresses
        assert all(address.strip("'\"").startswith(("data:", "#")) for address in addresses)
        assert "@import" not in found.style


def test_ids_are_given_once(view: View, debrief: DebriefView, trace: StripView, reader: Any) -> None:
    """Several drawings on one page don't share an id, so none borrows another's clipping."""
    other = tuple(replace(curve, gap_mm=500.0) for curve in view.curves)
    found = reader(debrief_html(HEADING, debrief, (*view.curves, *other), trace))
    ids = [attributes["id"] for _, attributes in found.tags if "id" in attributes]
    assert len(ids) > 20
    assert len(ids) == len(set(ids))


def test_the_same_session_gives_the_same_bytes(view: View, debrief: DebriefView, trace: StripView) -> None:
    """No date, no random id: a page can be compared with one written yesterday."""
    assert pages(view, HEADING, debrief, trace) == pages(view, HEADING, debrief, trace)


def test_a_template_with_a_gap_fails() -> None:
    """What a template asks for and isn't given is an error, never an empty place."""
    with pytest.raises(UndefinedError, match="debrief"):
        page("debrief.html", "Debrief", HEADING, findings=[], counts=[], words={}, force_points=(), trace="")


def test_left_out_names_leave_no_empty_field(debrief: DebriefView, reader: Any) -> None:
    """Without a date and a name the title block has no row for them."""
    words = reader(debrief_html(replace(HEADING, when="", who=""), debrief)).words
    assert "done by" not in words
    assert " date " not in words
    assert "done by R. Fenwick date 25 November 2026" in reader(debrief_html(HEADING, debrief)).words


@pytest.mark.parametrize("state", ["stale", "not yet", "failed"])
def test_no_record_of_a_gate_that_may_not_be_used(view: View, reader: Any, state: str) -> None:
    """One check that is not passed, and the page says *not handed over*."""
    passed = tuple((check, "passed") for check, _ in view.acceptance)
    good = replace(view, acceptance=passed)
    assert "Handed over. Every acceptance check was passed and the sheet is sealed." in reader(
        commissioning_html(HEADING, record_of(good))
    ).words.replace("passed .", "passed.")
    for bad in (replace(view, acceptance=((passed[0][0], state), *passed[1:])), replace(good, finished=False)):
        words = reader(commissioning_html(HEADING, record_of(bad))).words
        assert "Not handed over." in words
        assert "Handed over. Every" not in words


def test_the_record_says_what_was_set_learned_measured_and_by_whom(view: View, reader: Any) -> None:
    """Survey, settings with units, travel, guards as left, force by point, transmitters, log, next visit."""
    words = reader(commissioning_html(HEADING, record_of(view, next_visit="in May"))).words
    for text in (
        "gap at the hinge not written down", "leaf delay, opening 2 s", "slow zone before stop 20 % of travel",
        "travel, active leaf 4210 pulses", "travel, inactive leaf not learned",
        "inner beam not fitted not fitted bridged",
        "outer beam fitted reopen as it should be", "active leaf, gap 300 mm, 900 mm above ground",
        "M. Ashdown open", "0:25:00.00 outer beam tripped while closing", "Next visit in May",
    ):  # fmt: skip
        assert text in words, text


def test_readings_that_do_not_count_are_shown_and_not_judged(
    debrief: DebriefView, readings: Any, reader: Any
) -> None:
    """A gauge held by hand gives a curve and no verdict; with three on a rigid rest the mean is judged."""
    by_hand = tuple(replace(curve, rest="by hand") for curve in readings)
    words = reader(debrief_html(HEADING, debrief, (*readings[:2], by_hand[2]))).words
    assert "by hand, does not count" in words
    assert "Not judged: 2 of 3 readings; one reading is not a verdict." in words
    words = reader(debrief_html(HEADING, debrief, readings)).words
    assert "mean 374 0.240 12 0.46 within limits" in words
    over: tuple[Curve, ...] = tuple(replace(curve, peak_n=curve.peak_n + 30) for curve in readings)
    assert "mean 404 0.240 12 0.46 over the limit" in reader(debrief_html(HEADING, debrief, over)).words
    assert "No closing force was measured." in reader(debrief_html(HEADING, debrief)).words


def test_an_empty_session_has_its_pages(view: View, reader: Any) -> None:
    """Nothing done, nothing recorded: the pages stand and say so."""
    bare = replace(
        view, curves=(), survey=(), settings=(), guards=(), acceptance=(), notes=(), finished=False,
        strip=StripView((), {}), panel=Panel("no power", ""),
    )  # fmt: skip
    nothing = DebriefView("Given up", 0.0, (), (), (), "")
    for html in pages(bare, Heading.of(bare), nothing, bare.strip):
        assert reader(html).words
    assert "There are no findings." in reader(debrief_html(HEADING, nothing)).words


def test_the_heading_of_a_view(view: View) -> None:
    """Job, place, grade, mode, seed and time come from the session; the date only from the caller."""
    assert Heading.of(view) == Heading("First run", "Tannery Lane, yard gate", "working", "practice", 3, "0:42:12.40")
    assert Heading.of(replace(view, now=Us(0))).time == "0:00:00.00"


def test_the_drawing_library_is_loaded_when_something_is_drawn() -> None:
    """Importing the reports loads neither matplotlib nor anything that opens a window."""
    code = "import sys, trainer.reports; sys.exit('matplotlib' in sys.modules or 'pygame' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
