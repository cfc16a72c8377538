"""What a debrief tells of worth: by hand on a table of four causes, and of an attempt at a gate."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from sim.bench.fault_seen import CYCLED, EYES, LIVE, RADIO, SHEET, TRIPPED
from sim.bench.fault_sweep import ISOLATED
from sim.site import Site
from sim.units import Us
from sim.world.actions import checked
from sim.world.history import Entry, Event, History
from tests.trainer.diagnosis.test_advising import resolved as resolved
from trainer.diagnosis.advising import Advice
from trainer.diagnosis.keeping import Tables
from trainer.diagnosis.observing import Found
from trainer.diagnosis.priors import NOTHING
from trainer.diagnosis.reckoner import Reckoner
from trainer.diagnosis.site_table import SiteTable
from trainer.diagnosis.weighing import named, weighed
from trainer.session.desk import Desk

HALVES = (LIVE, "multimeter", "volts dc", "lamp, supply", "lamp, return")
SPLITS_ONE = (LIVE, "multimeter", "volts dc", "buzzer, supply", "buzzer, return")
"""Invented places: the first parts the causes in two and two, the second one from three."""

CAUSES = (NOTHING, "edge line broken", "photo beam misaligned", "transmitter flat")


@pytest.fixture
def by_hand(site: Site) -> Reckoner:
    """Four causes, two readings: what each shows is `24 V` or `0 V`."""
    shown = np.array([[0, 0], [0, 0], [1, 0], [1, 1]], dtype=np.int64)
    both = np.stack([shown, shown], axis=1)
    table = SiteTable(CAUSES, (HALVES, SPLITS_ONE), ("V", "V"), ("24 V", "0 V"), both, both)
    return Reckoner(table, Found.of(site, mains=True, battery_linked=True))


def lived(standing, *steps: tuple[str, object]) -> History:
    """A history of readings (column, shown) and repairs (kind, arguments), a second apart."""
    entries, events = [], []
    for line, (what, told) in enumerate(steps, 1):
        at = Us(line * 1_000_000)
        if isinstance(told, str):
            _, instrument, function, red, black = what
            data = {"instrument": instrument, "function": function, "red": red, "black": black, "shown": told}
            events.append(Event(at, "reading", "", data, line))
        else:
            entries.append(Entry(line, at, checked(what, told)))
    return History(tuple(entries), tuple(events), standing, Us(60_000_000))


@pytest.fixture
def standing(resolved, tmp_path: Path):
    session = Desk(folder=tmp_path / "own").begin(resolved, "stands")
    session.close()
    return session.standing()


def entropy(*shares: float) -> float:
    return -sum(share * np.log2(share) for share in shares if share)


def test_the_lesser_of_two_measurements_stands_beside_the_better(by_hand, standing) -> None:
    """By hand, without the table's doubt of a few thousandths: what a measurement that can't surprise tells is the
    uncertainty of what it shows. Entropy after Shannon (1948)."""
    prior = by_hand.table.prior
    (row,) = weighed(by_hand, lived(standing, (SPLITS_ONE, "24 V"))).made
    assert row.expected_bit == pytest.approx(entropy(prior[3], 1 - prior[3]), abs=0.1)
    assert row.best_bit == pytest.approx(entropy(prior[2] + prior[3], prior[0] + prior[1]), abs=0.1)
    assert row.best_bit > row.expected_bit + 0.05
    assert row.best == "multimeter, volts dc, lamp, supply and lamp, return"
    assert row.what == "multimeter, volts dc, buzzer, supply and buzzer, return"
    left = entropy(*(prior[:3] / prior[:3].sum()))
    assert row.told_bit == pytest.approx(entropy(*prior) - left, abs=0.1)


def test_of_the_best_there_is_nothing_better_to_name(by_hand, standing) -> None:
    """And afterwards the other is the best that is left."""
    first, second = weighed(by_hand, lived(standing, (HALVES, "0 V"), (SPLITS_ONE, "0 V"))).made
    assert (first.best, first.best_bit) == ("", first.expected_bit)
    assert "nothing would have told more" in first.words
    assert second.best == ""
    prior = by_hand.table.prior[2:]
    assert second.expected_bit == pytest.approx(entropy(*(prior / prior.sum())), abs=0.1)


def test_what_may_not_be_measured_is_no_best(by_hand, standing) -> None:
    """Out of the bag: then the lesser is the best that there was."""
    bare = Reckoner(by_hand.table, by_hand.found, lambda column: column != HALVES)
    (row,) = weighed(bare, lived(standing, (SPLITS_ONE, "24 V"))).made
    assert row.best == ""


def test_a_repair_tells_how_likely_its_cause_was(by_hand, standing) -> None:
    """Bayes by hand: of the two causes that read 0 V at the lamp, one is mended."""
    repair = ("align", {"what": "outer beam"})
    guess, known = (
        weighed(by_hand, lived(standing, *steps)).repaired[0] for steps in ([repair], [(HALVES, "0 V"), repair])
    )
    prior = by_hand.table.prior
    assert guess.belief_pct == pytest.approx(100 * prior[2])
    assert known.belief_pct == pytest.approx(100 * prior[2] / (prior[2] + prior[3]), abs=2.0)
    assert known.causes == ("photo beam misaligned",)
    assert "photo beam misaligned" in known.words
    assert known.what == "align: outer beam"


@pytest.mark.parametrize(
    ("column", "words"),
    [
        ((ISOLATED, "tester", "ohms", "a", "b"), "tester, ohms, a and b, with both sources off and proved dead"),
        ((CYCLED, "look", "hinges", "active", ""), "look, hinges, the active leaf, through an opening and a closing"),
        ((CYCLED, EYES, "opening", "panel", ""), "watching it open from shut"),
        ((CYCLED, EYES, "closing", "panel", ""), "watching it close after an opening"),
        ((LIVE, EYES, SHEET, "auto-close after", ""), "what stands on the sheet for auto-close after"),
        ((LIVE, EYES, RADIO, "grey", ""), "grey, pressed close by"),
        ((LIVE, EYES, TRIPPED, "outer beam", ""), "outer beam, tripped by hand while the gate rests"),
    ],
)  # fmt: skip
def test_everything_has_its_words(column, words: str) -> None:
    """Each state and each look."""
    assert named(column) == words


def test_a_debrief_tells_worth_once_there_is_a_table(resolved, small, tmp_path: Path) -> None:
    """Through the session's own door: being worked out, then there; and it stands in the debrief from then on."""
    tables = Tables(tmp_path / "tables")
    begun: list[bool] = []

    class Patient(Advice):
        def _have_it_made(self) -> None:
            begun.append(True)

    desk = Desk(judge=_judge(), folder=tmp_path / "own", advises=lambda each: Patient(each, tables))
    session = desk.begin(resolved, "weighed")
    assert session.worth() is None
    session.do("press", {"control": "open button"})
    session.run_for(Us(1_000_000))
    session.do("release", {"control": "open button"})
    session.run_for(Us(8_000_000))
    session.finish()
    before = session.debrief()
    assert before.worth is None
    assert begun == []
    assert session.worth().standing == "being worked out"
    assert begun
    tables.keep(resolved.job.base_site, small)
    told = session.worth()
    assert told.standing == "there"
    assert "watching it open from shut" in [row.what for row in told.made]
    assert session.debrief().worth == told
    assert session.debrief().score == before.score
    session.close()


def test_a_table_that_is_kept_is_used_at_once(resolved, small, tmp_path: Path) -> None:
    """Nobody needs to ask."""
    tables = Tables(tmp_path / "tables")
    tables.keep(resolved.job.base_site, small)
    desk = Desk(judge=_judge(), folder=tmp_path / "own", advises=lambda each: Advice(each, tables))
    session = desk.begin(resolved, "weighed")
    session.finish()
    assert session.debrief().worth.standing == "there"
    session.close()


def test_a_job_that_asks_for_no_cause_says_so(tmp_path: Path) -> None:
    """There is nothing to weigh against."""
    desk = Desk(judge=_judge(), folder=tmp_path, advises=lambda _each: pytest.fail("nobody is to be asked"))
    session = desk.start("meet_the_gate")
    session.finish()
    told = session.worth()
    assert told.standing == "can't be worked out"
    assert "asks for no cause" in told.why
    session.close()


def _judge():
    from trainer.grading import Grader

    return Grader()
