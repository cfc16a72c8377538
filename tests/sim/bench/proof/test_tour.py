"""The tour comes to every state of the reference controller, by every way its table has."""

from __future__ import annotations

import pytest

from sim.bench.proof.case import Case
from sim.bench.proof.play import Stage, play
from sim.bench.proof.search import Search
from sim.bench.proof.tour import DISTURBANCES, WAYS, tour
from sim.controller.machine import ROWS, State
from sim.world.world import World


@pytest.mark.slow
def test_every_way_of_the_table_is_taken(stage: Stage) -> None:
    """A way of the table that nothing takes is dead, or a search never looks at it."""
    search = Search(stage, ())
    assert search.play_all(tour(stage.site)) == []
    ways = {(trigger, state.value) for trigger, sources, _ in ROWS for state in sources}
    assert search.tally.taken == ways
    assert {state for _, state in ways} == {state.value for state in State}


def test_no_step_of_the_undisturbed_tour_is_refused(stage: Stage) -> None:
    """What can't be done brings the gate nowhere."""
    for name, (sheet, way) in WAYS.items():
        case = Case((*way, *DISTURBANCES["nothing"]), sheet, tail_s=0.1)

        def refused(world: World, case: Case = case) -> list[str]:
            return [f"{step.act}: {step.refused}" for step in play(world, case).steps if step.refused]

        assert stage.in_branch(refused) == [], name
