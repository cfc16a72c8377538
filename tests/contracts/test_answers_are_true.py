"""What a job calls the right answer is what the gate does: each question is put to the gate itself."""

from __future__ import annotations

import math
from dataclasses import dataclass

import pytest

from sim.units import SECOND
from sim.world.actions import checked
from sim.world.world import World
from trainer.job import Job, load_named_job, resolve
from trainer.job.models import Question
from trainer.session.desk import build_world

JOB = load_named_job("meet_the_gate")
TRIPPED_S = 4.0
"""How long a guard is kept tripped: longer than any leaf needs to stop and to turn back [s]."""

STILL_DEG = 1.0
FAR_DEG = 3.0


@dataclass(frozen=True)
class Seen:
    """What the watched leaf did [°]."""

    tripped_at: float
    while_tripped: tuple[float, ...]
    """Once the leaf has had a second to stop, until the guard is let go."""
    at_the_end: float


@pytest.fixture(scope="module")
def world() -> World:
    """The healthy gate of the job, learned and shut."""
    return build_world(resolve(JOB, 0))


def angle(world: World, leaf: int) -> float:
    return math.degrees(world.plant.angle(leaf))


def run(world: World, seconds: float) -> None:
    world.run_to(world.now + round(seconds * SECOND))


def press(world: World, control: str) -> None:
    world.do(checked("press", {"control": control}))
    run(world, 0.3)
    world.do(checked("release", {"control": control}))


def bring(world: World, *, opened: bool) -> None:
    """Bring the gate fully open or shut by its own buttons, resting in between."""
    world.run_to(world.now + 60 * SECOND, world.rests)
    if not world.stands(fully_open=opened):
        press(world, "open button" if opened else "close button")
        assert world.run_to(world.now + 90 * SECOND, lambda: world.stands(fully_open=opened))
    run(world, 3.0)


def trip(world: World, guard: str, *, on: bool) -> None:
    """Trip a guard or let it go, without the time a person needs for it."""
    if "beam" in guard:
        (world.people.covered.add if on else world.people.covered.discard)(guard)
        world.people.beams_changed()
    elif "edge" in guard:
        (world.people.edges_pressed.add if on else world.people.edges_pressed.discard)(guard)
        world.people.told(world.cabinet.set_edge_pressed(guard, on))
    else:
        world.do(checked("press" if on else "release", {"control": "stop button"}))


def see(world: World, question: Question) -> Seen:
    """Put a question to the gate: trip the guard half way, watch, let it go, watch on."""
    opening = question.moving == "opening"
    leaf = 0 if opening else 1  # the leaf that starts first; the other one may still wait for its delay
    bring(world, opened=not opening)
    press(world, "open button" if opening else "close button")
    for _ in range(1200):  # an angle is no event that would end a run, so it is looked at in slices
        if abs(angle(world, leaf) - 45.0) < 1.0:
            break
        run(world, 0.05)
    else:
        pytest.fail(f"the gate did not get half way: {world.controller.panel().message}")
    start = angle(world, leaf)
    trip(world, question.guard, on=True)
    run(world, 1.0)
    angles = []
    for _ in range(int((TRIPPED_S - 1.0) / 0.1)):
        run(world, 0.1)
        angles.append(angle(world, leaf))
    trip(world, question.guard, on=False)
    run(world, 5.0)
    world.run_to(world.now + 90 * SECOND, world.rests)
    run(world, 5.0)
    return Seen(start, tuple(angles), angle(world, leaf))


def answer(seen: Seen, moving: str, open_stop_deg: float) -> str:
    """What was seen, in the words of the answers."""
    still = max(seen.while_tripped) - min(seen.while_tripped) < STILL_DEG
    is_open = seen.at_the_end > open_stop_deg - STILL_DEG
    way = 1.0 if moving == "opening" else -1.0
    went_on = (seen.while_tripped[-1] - seen.tripped_at) * way > 2 * FAR_DEG
    if went_on and (seen.at_the_end - seen.tripped_at) * way > 2 * FAR_DEG:
        return "it goes on as if nothing had happened"
    if is_open:
        return "it stands while the guard is tripped, then opens" if still else "it stops, opens fully and waits"
    if (seen.at_the_end - seen.tripped_at) * way < -FAR_DEG:
        return "it goes back a little and waits for a new command"
    return "it stops and waits for a new command"


def questions(job: Job) -> list[pytest.param]:  # type: ignore[valid-type]
    return [pytest.param(q, id=f"{q.guard}, {q.moving}") for q in job.questions]


@pytest.mark.slow
@pytest.mark.parametrize("question", questions(JOB))
def test_the_right_answer_is_what_the_gate_does(world: World, question: Question) -> None:
    """The gate answers as the job says it does, for each guard and each way."""
    seen = see(world, question)
    stop = JOB.base_site.leaves.active.open_stop_deg
    assert answer(seen, question.moving, stop) == question.right, seen
