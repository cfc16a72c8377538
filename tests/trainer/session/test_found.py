"""How a job says the gate is found is how its world begins."""

from __future__ import annotations

from dataclasses import replace

from trainer.job import load_named_job, resolve
from trainer.job.models import Arrival
from trainer.session.desk import build_world


def test_what_is_in_a_hinge_gap_at_arrival_is_in_the_world() -> None:
    """A job may place a hand there, so that somebody has to notice it."""
    resolved = resolve(load_named_job("first_run"), 0)
    arrival = Arrival.model_validate({"in_hinge_gaps": [{"leaf": "active", "what": "hand"}]})
    world = build_world(replace(resolved, arrival=arrival))
    assert world.people.hinges.held == {0: "hand"}
    assert world.people.in_arc() == ("hand",)
