"""What a person in front of the window is told of a job is in the catalogue: each shipped solution is played to its
debrief while a stand-in language marks every sentence that the catalogue has. Whatever stays unmarked was glued
together, or never gathered, and would be English in every language.
"""

from __future__ import annotations

import importlib.util
import io
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from html import unescape
from pathlib import Path
from string import Formatter
from types import ModuleType

import pytest
from pypdf import PdfReader

from trainer.drills.run import begin
from trainer.grading import Grader
from trainer.job import (
    FAMILIES,
    job_files,
    load_drill,
    load_named_job,
    load_solution,
    reference_solution,
    resolve,
    scenarios_folder,
)
from trainer.job.script import Step
from trainer.language import _, speak
from trainer.reports.commissioning import commissioning_html, record_of
from trainer.reports.debrief import debrief_html
from trainer.reports.debrief_pdf import debrief_pdf
from trainer.reports.page import Heading
from trainer.session.desk import Desk
from trainer.session.play import Hands
from trainer.session.session import Session
from trainer.session.view import View

ROOT = Path(__file__).resolve().parents[2]
ALWAYS = (
    *("first_run", "meet_the_gate", "side_entrance", "nothing_since_this_morning", "it_will_not_close"),
    *("it_hums_and_stays", "the_gate_groans", "too_quick", "hers_works", "still_in_the_morning"),
    *("no_trouble_since", "spring_service", "the_house_is_sold", "it_has_his_hand"),
)
"""Jobs of every family that are played at each run; the others are slow only by being many."""

JOBS = tuple(path.stem for path in job_files())
DRILLS = ("beam_goes_dark",)

UNITS = frozenset(["N", "mm", "kΩ", "min", "kg", "Hz", "lx", "µH", "kHz", "dB", "dBm", "MΩ", "µF"])

PROPER_NAMES = (
    *("Orchard Row", "Mill Lane", "Bellows Passage", "Ferry Terrace", "Brick Field", "Walnut Court"),
    *("Cobbler Hill", "Amber Lodge", "Larkfold Farm", "Steep Garth", "Saltings Yard", "Thimble Row", "Mint Court"),
    *("R. Fenwick", "B612", "Sheet"),
)
"""Invented places and people, and the typeface."""


@cache
def gathering() -> ModuleType:
    """The program that gathers sentences; it stands beside the catalogues and is in no package."""
    spec = importlib.util.spec_from_file_location("gather", ROOT / "assets" / "translations" / "gather.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@cache
def sentences() -> frozenset[str]:
    """Every sentence that is gathered; of one with a sense, the sentence alone."""
    return frozenset(str(message.id) for message in gathering().gathered() if message.id)


def marked(sentence: str) -> str:
    """A sentence of the catalogue with marks round its words and none round its gaps; any other as it is."""
    known = sentence.rpartition("\x04")[2]
    if known not in sentences():
        return sentence
    if "{" not in known:
        return f"«{known}»"
    pieces = []
    for words, gap, shape, _conversion in Formatter().parse(known):
        pieces.append(f"«{words}»" if words else "")
        if gap is not None:
            pieces.append("{" + gap + (f":{shape}" if shape else "") + "}")
    return "".join(pieces)


def unmarked(text: str, own_words: Iterable[str] = ()) -> list[str]:
    """Words that are in no catalogue, without numbers, units, invented names and what a person wrote."""
    bare = re.sub(r"«[^«»]*»", "\n", text)
    for name in sorted((*PROPER_NAMES, *own_words), key=len, reverse=True):
        bare = bare.replace(name, "\n")
    return [word for word in re.findall(r"[^\W\d_]{2,}", bare) if word not in UNITS]


def speak_the_stand_in() -> None:
    """From now on every sentence is marked. They are gathered beforehand: Python 3.11 loses count when two threads
    parse Python at once ("AST constructor recursion depth mismatch"), and a report is drawn beside a session."""
    sentences()
    speak(marked)


@pytest.fixture
def stand_in() -> Iterator[None]:
    """Speak the stand-in language; English again afterwards."""
    speak_the_stand_in()
    yield
    speak(str)


def test_the_stand_in_tells_what_no_catalogue_has(stand_in) -> None:
    """A sentence that was never gathered, and one that was glued, are found."""
    assert unmarked(_("Nobody ever gathered this")) == ["Nobody", "ever", "gathered", "this"]
    assert unmarked(_("Handed over to the user") + " by somebody") == ["by", "somebody"]
    assert unmarked(_("Handed over to the user") + " 12.5 N") == []


@dataclass(frozen=True)
class Played:
    """A solution that was played: how it stood on the way and at its end, and what a person wrote in their own
    words."""

    views: tuple[View, ...]
    own_words: frozenset[str]


FOOT = r"«Debrief» · [^·]*· [^·]*· R\. Fenwick «page ».*$"
"""The last line of each sheet."""

OWN = frozenset({"text", "holder", "name", "reason", "shown"})
"""Arguments of acts in which somebody writes in their own words."""


def play(session: Session, steps: Iterable[Step]) -> Played:
    """Play to the end, looking now and then."""
    views = [session.observe()]

    def look(_step: Step) -> None:
        if len(session.world.entries) % 15 == 0:
            views.append(session.observe())

    Hands(session).play(steps, look)
    session.finish()
    views.append(session.observe())
    written = {
        str(value)
        for entry in session.world.entries
        for name, value in entry.action.arguments.items()
        if name in OWN and value
    }
    session.close()
    return Played(tuple(views), frozenset(written))


def job(name: str, folder: Path) -> Played:
    """A job with its own solution."""
    solution = reference_solution(resolve(load_named_job(name), 0))
    assert solution is not None
    return play(Desk(Grader(), folder).start(name, seed=0), solution.steps)


def drill(name: str, folder: Path) -> Played:
    """A drill with its solution; the instructor's words are its own file's."""
    found = load_drill(scenarios_folder() / "drills" / f"{name}.yaml")
    assert found.solution is not None
    session, instructor = begin(found, Desk(Grader(), folder))
    played = play(session, load_solution(found.solution, found.resolved.values).steps)
    assert [word for said in instructor.messages for word in unmarked(_(said[1]))] == []
    return played


@pytest.fixture(
    scope="module",
    params=[
        *(pytest.param(name, marks=() if name in ALWAYS else pytest.mark.slow) for name in JOBS),
        *DRILLS,
    ],
)
def played(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Played]:
    """Each shipped solution, once, in the stand-in language."""
    speak_the_stand_in()
    yield (drill if request.param in DRILLS else job)(request.param, tmp_path_factory.mktemp(request.param))
    speak(str)


def test_every_family_is_here() -> None:
    """Each has a job that is played at every run; and every drill."""
    families = {load_named_job(name).family for name in ALWAYS}
    assert families >= set(FAMILIES)
    drills = scenarios_folder() / "drills" / "solutions"
    assert sorted(DRILLS) == sorted(path.stem for path in drills.glob("*.yaml"))


def test_every_solution_comes_to_a_competent_end(played: Played) -> None:
    """Of what the first pass draws."""
    assert played.views[-1].debrief is not None
    assert played.views[-1].debrief.result == "competent"


def test_the_debrief_says_nothing_outside_the_catalogue(played: Played) -> None:
    """Result, lines, parts, findings with their evidence, measurements, the expert's way and the advice."""
    debrief = played.views[-1].debrief
    assert debrief is not None
    told = [debrief.result, debrief.practise]
    told += [each for line in debrief.lines for each in line] + [part for part, _, _ in debrief.parts]
    for finding in debrief.findings:
        told += [finding.part, finding.outcome, finding.title, finding.what, finding.why, finding.instead]
        told += [text for _, _, text in finding.evidence]
    told += [each for one in debrief.measured for each in (one.what, one.shown)]
    told += [each for row in debrief.way for each in (row.expert, row.done)]
    assert outside(played, told) == {}


def test_the_session_says_nothing_outside_the_catalogue(played: Played) -> None:
    """On arrival, on the way and at the end: job, acceptance, guide, survey, predictions, sheet, force, marks."""
    told: list[str] = []
    for view in played.views:
        told += [view.job, view.grade, view.mode, view.brief, view.user_group, view.gauge_direction, view.opens_first]
        told += [*view.brief_points, *view.cautions, *view.controls, *view.held, view.last_reply]
        told += [text for _, _, text in view.strip.marks] + [text for _, text in view.alarms]
        told += [view.panel.state, view.panel.message, view.panel.learned, view.panel.counted]
        told += [each for check in view.checks for each in (check.name, check.state, check.what, check.how)]
        told += [step.text for step in view.steps]
        told += [each for question, answers, _ in view.questions for each in (question, *answers)]
        told += [each for row in view.survey for each in (row.hazard, row.protection, *row.choices)]
        told += [
            each for way, enough in view.needs for each in (way, *(level for levels in enough for level in levels))
        ]
        told += [each for row in view.settings for each in (row.name, row.group, row.value, row.unit, row.locked)]
        told += [each for point in view.force_plan for each in (point.leaf, point.place, point.verdict, point.told)]
        told += [each for curve in view.curves for each in (curve.leaf, curve.direction, curve.rest, curve.verdict)]
        told += [guard.name for guard in view.guards] + [wall[0] for wall in view.walls]
        told += [tag for tag, _ in view.transmitters] + [part.name for part in view.wiring.parts]
        told += [each for leaf in view.leaves for each in (leaf.name, leaf.drive.kind, leaf.touching, leaf.gap.held)]
        told += [each for one in view.tools.instruments for each in (one.name, one.group, one.help)]
        told += [each for one in view.tools.readings for each in (one.text, one.least, one.most)]
        told += [note.text for note in view.notes if not note.entry]
    assert outside(played, told) == {}


def test_the_pages_say_nothing_outside_the_catalogue(played: Played) -> None:
    """Debrief and commissioning record, every word of them, those of the drawings and those read aloud too."""
    view = played.views[-1]
    assert view.debrief is not None
    heading = Heading.of(view, who="R. Fenwick")
    debrief = debrief_html(heading, view.debrief, view.curves, view.strip)
    assert outside(played, texts_of(debrief)) == {}
    assert outside(played, texts_of(commissioning_html(heading, record_of(view)))) == {}


def test_the_print_says_nothing_outside_the_catalogue(played: Played) -> None:
    """Read back with another library (pypdf): the feet, and what stands above them in one, since a sentence may go on
    on the next sheet."""
    view = played.views[-1]
    assert view.debrief is not None
    printed = debrief_pdf(Heading.of(view, who="R. Fenwick"), view.debrief, view.curves, view.strip)
    sheets = [" ".join(sheet.extract_text().split()) for sheet in PdfReader(io.BytesIO(printed)).pages]
    feet = [foot for sheet in sheets for foot in re.findall(FOOT, sheet)]
    assert len(feet) == len(sheets)
    assert outside(played, [*feet, " ".join(re.sub(FOOT, "", sheet).strip() for sheet in sheets)]) == {}


def outside(played: Played, told: Iterable[str]) -> dict[str, list[str]]:
    """Which texts have words that are in no catalogue, and which words."""
    shown = {text: unmarked(text if "«" in text else _(text), played.own_words) for text in dict.fromkeys(told)}
    return {text: words for text, words in shown.items() if words}


def texts_of(page: str) -> list[str]:
    """Every text of a page, and every text that is read aloud to whoever can't see its drawings."""
    drawn = re.sub(r"<style.*?</style>|<!--.*?-->|<metadata>.*?</metadata>", "", page, flags=re.DOTALL)
    aloud = re.findall(r'(?:aria-label|alt|title)="([^"]*)"', drawn)
    return [unescape(text).strip() for text in (*re.findall(r">([^<]+)<", drawn), *aloud)]
