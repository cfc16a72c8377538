"""Faults of edges, access and radio at every severity, and what their tempting wrong repairs leave."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Final

import pytest

from sim.bench.branching import branched
from sim.bench.fault_readings import Outcome, gate, lies_in, played, put_back
from sim.faults.entries.access import ACCESS
from sim.faults.entries.edges import EDGES
from sim.faults.entries.radio import RADIO
from sim.faults.entry import Fault
from sim.site import load_site
from sim.units import SECOND
from sim.world.world import World

BENCH: Final = load_site(Path(__file__).parents[3] / "scenarios" / "sites" / "reference_bench.yaml")

every = pytest.mark.parametrize("fault", [pytest.param(f, id=f.name) for f in (*EDGES, *ACCESS, *RADIO)])

pytestmark = pytest.mark.slow


@cache
def bench(variant: str) -> World:
    """The learned bench of a variant; only ever gone on with in a branch."""
    return gate(BENCH, json.loads(variant))


def found(fault: Fault, share: float) -> World:
    """The bench with the fault, a second later. Called in a branch."""
    world = bench(json.dumps(dict(fault.variant), sort_keys=True))
    world.faults.bring(fault.name, share)
    world.run_to(world.now + SECOND)
    return world


@every
@pytest.mark.parametrize("share", [0.0, 0.5])
def test_it_is_told_when_it_is_mild_too(fault: Fault, share: float) -> None:
    """The reference measurement reads in the faulty band at every severity, not at the gravest alone."""

    def work() -> Outcome:
        return played(found(fault, share), fault.reference.steps)

    outcome = branched(work)
    assert lies_in(outcome, fault.reference, fault.reference.faulty), outcome.text


@every
def test_a_wrong_repair_can_be_done_and_mends_nothing(fault: Fault) -> None:
    """Whatever is tempting is possible, and the reference measurement still tells the fault afterwards."""
    for wrong in fault.wrong:

        def work() -> tuple[Outcome, Outcome]:
            world = found(fault, 1.0)
            done = played(world, wrong.steps)  # noqa: B023 - called at once
            put_back(world)
            return done, played(world, fault.reference.steps)

        done, after = branched(work)
        assert done.refused == ""
        assert not lies_in(after, fault.reference, fault.reference.healthy), after.text
