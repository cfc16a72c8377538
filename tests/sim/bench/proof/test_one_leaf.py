"""The promises on a gate with one leaf: those that need two aren't asked, all others are looked at and held."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.bench.proof.case import Case, Step
from sim.bench.proof.catalogue import CATALOGUE
from sim.bench.proof.play import Stage, everything_wired, features
from sim.bench.proof.search import Search
from sim.bench.proof.tour import WAYS, tour
from sim.controller.machine import ROWS, State
from sim.site import load_site, with_changes

SITE = Path(__file__).resolve().parents[4] / "scenarios" / "sites" / "bellows_passage.yaml"


@pytest.fixture(scope="module")
def alone() -> Stage:
    """The side entrance, everything wired, learned."""
    return Stage(everything_wired(load_site(SITE)))


def test_it_has_no_two_leaves(alone: Stage) -> None:
    """What a property may need of a gate."""
    assert "two leaves" not in features(alone.site)
    assert "active edge" in features(alone.site)


@pytest.mark.slow
def test_what_is_promised_is_held_on_a_tour_of_every_way_but_those_of_a_lock(alone: Stage) -> None:
    """What this gate has no use for is left out of its cases, every other way of the table is taken and nothing is
    broken; no look at a recording asks for a leaf that isn't in it."""
    asked = [each for each in CATALOGUE.values() if set(each.needs) <= features(alone.site)]
    assert 0 < len(asked) < len(CATALOGUE)
    search = Search(alone, asked)
    assert search.play_all(tour(alone.site)) == []
    ways = {(trigger, state) for trigger, states, _ in ROWS for state in states}
    of_a_lock = {(trigger, state.value) for trigger, state in ways if state is State.UNLOCKING}
    of_a_lock.add(("lock is freed", State.WARNING.value))
    assert {(trigger, state.value) for trigger, state in ways} - search.tally.taken == of_a_lock


@pytest.mark.slow
def test_a_lock_is_freed_before_the_one_leaf_opens() -> None:
    """Whether all leaves are shut is asked of the leaf there is."""
    locked = Stage(everything_wired(with_changes(load_site(SITE), {"lock": {"leaf": "active"}})))
    search = Search(locked, [CATALOGUE["frees the lock before it opens"]])
    assert search.play_all([Case(way, sheet) for sheet, way in WAYS.values()]) == []


def test_a_leaf_that_is_jogged_against_something_is_jogged_back_by_whoever_holds_the_panel(alone: Stage) -> None:
    """A stop and a body feel the same to a gate whose place nobody knows yet: it stands, and frees nothing by
    itself. Whoever jogs sees it."""
    case = Case(
        (
            Step("place body", (("body", "test body"), ("x_m", 0.66), ("y_m", 0.3)), seconds=0.0),
            Step("jog press", (("leaf", "active"), ("direction", "open")), seconds=3.0),
        )
    )
    search = Search(alone, [CATALOGUE["a contact leaves no lasting force"]])
    assert search.play_all([case]) == []
