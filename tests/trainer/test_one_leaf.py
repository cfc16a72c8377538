"""A gate with one leaf in the trainer: a whole commissioning, what is seen of it, and what of a second is refused."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from sim.errors import ScenarioError
from trainer.grading.judge import Grader
from trainer.job import load_job
from trainer.reports import write_reports
from trainer.session.desk import Desk
from trainer.session.session import Session
from trainer.session.view import View

SCENARIOS = Path(__file__).parents[2] / "scenarios"


@pytest.fixture(scope="module")
def session(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Session]:
    """The commissioning of the side entrance, played to its end."""
    session = Desk(Grader(), tmp_path_factory.mktemp("sessions")).play("side_entrance", 0)
    yield session
    session.close()


@pytest.fixture(scope="module")
def view(session: Session) -> View:
    """What is seen of it at the end."""
    return session.observe()


def test_it_can_be_commissioned_with_full_marks(session: Session) -> None:
    """Every check that a gate with one leaf can meet is met, and the record says so."""
    grade = Grader().graded(session.history(), session.assignment)
    open_ = {finding.name: finding.outcome for finding in grade.findings if finding.outcome != "passed"}
    assert open_ == {}
    assert grade.result == "competent"
    assert grade.score == 100.0


def test_findings_speak_of_one_leaf(session: Session) -> None:
    """No sentence counts two where one hangs."""
    grade = Grader().graded(session.history(), session.assignment)
    said = " ".join(finding.what for finding in grade.findings)
    assert "both" not in said.lower().replace("both sources", "").replace("both signed", "")
    assert "inactive" not in said


def test_what_is_seen_has_one_leaf(view: View) -> None:
    """Leaf, curves and strip of the one; no cover strip."""
    assert [leaf.name for leaf in view.leaves] == ["active"]
    assert (view.strip_carrier, view.strip_face, view.strip_overlap_m) == ("", "", 0.0)
    assert set(view.strip.channels) == {"active angle", "active current", "supply", "guards", "commands"}
    assert view.panel.travel[1] is None


def test_reports_name_no_other(view: View, tmp_path: Path) -> None:
    """Debrief and commissioning record of a gate with one leaf, its force and its curves among them."""
    written = write_reports(view, tmp_path)
    assert written.record is not None
    assert "<b>Handed over.</b>" in written.record.read_text(encoding="utf-8")
    for page in (written.debrief, written.record):
        text = page.read_text(encoding="utf-8")
        assert "active leaf" in text
        assert "inactive leaf" not in text


def test_the_past_can_be_looked_at(session: Session) -> None:
    """Looking back shows the one leaf as it stood: open before it last shut."""
    end = session.clock_us
    angles = [session.strip.at(type(end)(end * part // 200))["active angle"] for part in range(201)]
    assert max(angles) > 86.0
    assert abs(angles[-1]) < 2.9


@pytest.mark.parametrize(
    ("old", "new", "place"),
    [
        ("swapped_leads: [active]", "swapped_leads: [inactive]", "arrival.swapped_leads.0"),
        ("angles_deg: {active: 20}", "angles_deg: {active: 20, inactive: 5}", "arrival.angles_deg.inactive"),
        ("released: []", "released: [inactive]", "arrival.released.0"),
        ("  - leaves swing free\n", "  - leaf order true\n", "acceptance.1"),
        ("swapped_leads: [active]", "in_hinge_gaps: [{leaf: inactive}]", "arrival.in_hinge_gaps.0.leaf"),
    ],
)
def test_a_job_finds_no_second_leaf_on_it(tmp_path: Path, old: str, new: str, place: str) -> None:
    """Each is told at its key, before anything runs."""
    text = (SCENARIOS / "jobs" / "side_entrance.yaml").read_text(encoding="utf-8")
    assert old in text
    shutil.copy(SCENARIOS / "sites" / "bellows_passage.yaml", tmp_path)
    path = tmp_path / "changed.yaml"
    path.write_text(text.replace(old, new).replace("solution: side_entrance.yaml\n", ""), encoding="utf-8")
    with pytest.raises(ScenarioError) as caught:
        load_job(path)
    mine = [problem for problem in caught.value.problems if place in problem]
    assert mine
    assert "Bellows Passage has one leaf" in mine[0]
