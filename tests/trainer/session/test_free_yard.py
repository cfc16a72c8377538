"""A free yard: any site, any fault that fits, nothing graded; kept and resumed as every session is."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.errors import DataError, Refused, ScenarioError
from sim.faults.catalogue import FAULTS
from sim.said import Said
from trainer.grading.judge import Grader
from trainer.job import scenarios_folder
from trainer.session.desk import FREE, Desk

SITES = scenarios_folder() / "sites"
GRAVE = ("worn brushes", 1.0)
ORCHARD = str(SITES / "orchard_row.yaml")


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """A desk with a judge, so that what isn't graded isn't graded on purpose."""
    return Desk(Grader(), tmp_path)


def test_every_shipped_site_can_be_chosen_and_says_what_place_it_is(desk: Desk) -> None:
    """By name, and none of them is broken."""
    cards = desk.sites()
    assert len(cards) == len(list(SITES.glob("*.yaml")))
    assert [card.name for card in cards] == sorted(card.name for card in cards)
    assert all(card.usable and card.setting for card in cards)


@pytest.mark.slow
@pytest.mark.parametrize("site", sorted(path.stem for path in SITES.glob("*.yaml")))
@pytest.mark.parametrize("commissioned", [True, False])
def test_a_yard_opens_on_every_shipped_site(desk: Desk, site: str, commissioned: bool) -> None:
    """As a good installer leaves it, it can be commanded at once; out of its box it has no supply."""
    session = desk.start_yard(str(SITES / f"{site}.yaml"), commissioned=commissioned)
    view = session.observe()
    assert (view.graded, view.acceptance, view.mains_on, view.job) == (False, (), commissioned, "Free yard")
    session.close()


def test_faults_that_were_chosen_are_there_and_told(desk: Desk) -> None:
    """Nothing is hidden in a free yard: its brief says what the gate was found with."""
    session = desk.start_yard(ORCHARD, [("seized hinge", 0.0), GRAVE])
    assert session.observe().brief_points == ("Found with: seized hinge, mild.", "Found with: worn brushes, grave.")
    first = session.observe().brief_points[0]
    assert isinstance(first, Said), "written to a file it had no parts: it is said anew"
    assert (first.sentence, dict(first.fields)) == ("Found with: {fault}, mild.", {"fault": "seized hinge"})
    with pytest.raises(Refused, match="has 'seized hinge' already"):
        session.world.faults.check("seized hinge")
    session.close()


def test_nothing_is_handed_over_and_nothing_is_judged(desk: Desk) -> None:
    """The acts that end a job are refused; even one that was ended by force has no debrief and no result."""
    session = desk.start_yard(ORCHARD)
    for kind, given in (("hand over", {"shown": "stop"}), ("make safe", {"reason": "no parts"})):
        assert session.do(kind, given).text == f"'{kind}' is not part of this job"
    assert session.do("press", {"control": "open button"}).accepted
    session.finish()
    assert session.observe().debrief is None
    assert not (session.journal.folder / "result.json").exists()
    session.close()


def test_a_yard_is_resumed_to_the_bit_even_when_its_sites_file_is_gone(desk: Desk, tmp_path: Path) -> None:
    """Its job and its site lie beside its journal."""
    own = tmp_path / "mine.yaml"
    own.write_text(Path(ORCHARD).read_text(encoding="utf-8"), encoding="utf-8")
    session = desk.start_yard(str(own), [GRAVE], seed=5)
    session.do("press", {"control": "open button"})
    session.run_for(3_000_000)  # type: ignore[arg-type]
    session.do("release", {"control": "open button"})
    session.run_for(2_000_000)  # type: ignore[arg-type]
    digest = session.world.digest()
    session.close()
    own.unlink()
    assert desk.yard_left() == "Orchard Row"
    again = desk.resume_yard()
    assert (again.world.digest(), again.observe().seed) == (digest, 5)
    again.close()


def test_a_yard_that_cant_be_opened_leaves_nothing_behind(desk: Desk, tmp_path: Path) -> None:
    """A broken site, an unknown fault, a fault this gate can't have, two of the same fact: told, and no folder."""
    broken = tmp_path / "broken.yaml"
    broken.write_text("format: gudgeon-site/1\nname: 7\n", encoding="utf-8")
    fits = {card.name for card in desk.faults(ORCHARD)}
    misfit = next(name for name in FAULTS if name not in fits)
    with pytest.raises(ScenarioError, match=r"broken\.yaml"):
        desk.start_yard(str(broken))
    with pytest.raises(DataError, match="no fault"):
        desk.start_yard(ORCHARD, [("gremlins", 1.0)])
    with pytest.raises(Refused):
        desk.start_yard(ORCHARD, [(misfit, 1.0)])
    with pytest.raises(Refused, match="already"):
        desk.start_yard(ORCHARD, [GRAVE, GRAVE])
    assert list(tmp_path.glob(f"{FREE}-*")) == []
    assert desk.yard_left() == ""


def test_only_faults_of_parts_that_are_there_are_offered(desk: Desk) -> None:
    """A gate with one leaf and no second drive has fewer; each offered one is in the catalogue, in its order."""
    one_leaf = [card.name for card in desk.faults(str(SITES / "bellows_passage.yaml"))]
    bench = [card.name for card in desk.faults(str(SITES / "reference_bench.yaml"))]
    assert len(one_leaf) < len(bench) <= len(FAULTS)
    assert bench == [name for name in FAULTS if name in bench]


def test_free_yards_are_no_jobs(desk: Desk) -> None:
    """They don't stand on the list, and touch no result."""
    desk.start_yard(ORCHARD).close()
    assert FREE not in [card.name for card in desk.jobs()]
