"""The main job on the real gate through a session: its solution has full marks, each classic mistake is caught.

The mistakes are made in the job's own solution: some acts left out, changed, or put in before others.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

import pytest

from sim.kernel import compiler
from sim.world.actions import Action, checked
from trainer.grading import Grade, Grader
from trainer.job import load_named_job, reference_solution, resolve
from trainer.job.script import Step
from trainer.session.desk import Desk
from trainer.session.play import Hands, ScriptFailed

pytestmark = pytest.mark.slow

JOB = "first_run"
Steps = list[Step]


@pytest.fixture(scope="module", autouse=True)
def compiled() -> None:
    """The quick form of the kernel; its bits are the same."""
    compiler.load()


@pytest.fixture(scope="module")
def solution() -> Steps:
    """The steps of the job's own solution, first pass."""
    found = reference_solution(resolve(load_named_job(JOB), 0))
    assert found is not None
    return list(found.steps)


@pytest.fixture
def graded(tmp_path) -> Callable[[Steps], Grade]:
    """Play steps as far as they go, hand over if that was not done, and grade."""

    def play(steps: Steps) -> Grade:
        with_desk = Desk(judge=Grader(), folder=tmp_path)
        session = with_desk.start(JOB, "practice", 0)
        try:
            Hands(session).play(steps)
        except ScriptFailed:
            session.release_all()
            session.do("hand over", {"shown": "release, stop, lamp, freeing a person, monthly checks"})
        session.finish()
        made = Grader().graded(session.history(), session.assignment)
        session.close()
        return made

    return play


def is_act(step: Step, kind: str, **arguments: object) -> bool:
    act = step.act
    return isinstance(act, Action) and act.kind == kind and all(act.arguments[k] == v for k, v in arguments.items())


def index(steps: Steps, kind: str, nth: int = 0, **arguments: object) -> int:
    return [i for i, step in enumerate(steps) if is_act(step, kind, **arguments)][nth]


def acts(*made: tuple[str, dict[str, object]]) -> Steps:
    return [Step(None, checked(kind, arguments), "made up") for kind, arguments in made]


def before(steps: Steps, at: int, *made: tuple[str, dict[str, object]]) -> Steps:
    return [*steps[:at], *acts(*made), *steps[at:]]


def without(steps: Steps, lost: Iterable[int]) -> Steps:
    """Steps whose act is left out; what they waited for is still waited for."""
    gone = set(lost)
    return [replace(step, act=None) if i in gone else step for i, step in enumerate(steps)]


def isolating(steps: Steps) -> range:
    return range(index(steps, "isolate"), index(steps, "swap motor leads"))


def bridged(steps: Steps) -> Steps:
    dead = [("prove tester", {}), ("test dead", {"red": "board supply, plus", "black": "board supply, minus"})]
    link = [*dead, ("prove tester", {}), ("bridge", {"guard": "inner beam"}), ("note", {"text": "inner beam linked"})]
    kept = without(steps, [index(steps, "set", setting="inner beam")])
    return before(kept, index(kept, "fit battery link"), *link)


def live(steps: Steps) -> Steps:
    swap = index(steps, "swap motor leads")
    back = [i for i in range(swap, swap + 4) if is_act(steps[i], "restore") or is_act(steps[i], "fit battery link")]
    return without(steps, [*isolating(steps), *back])


def false_order(steps: Steps) -> Steps:
    at = index(steps, "set", setting="opens first")
    other = {"active": "inactive", "inactive": "active"}[str(steps[at].act["value"])]
    changed = replace(steps[at], act=checked("set", {"setting": "opens first", "value": other}))
    return [*steps[:at], changed, *steps[at + 1 :]]


def unswapped(steps: Steps) -> Steps:
    swap = index(steps, "swap motor leads")
    return without(steps, range(index(steps, "isolate"), swap + 3))


def unproved(steps: Steps) -> Steps:
    learn = index(steps, "learn travel")
    kinds = ("cover beam", "uncover beam", "press edge", "release edge", "unplug", "plug in")
    return without(steps, [i for i in range(learn) if any(is_act(steps[i], kind) for kind in kinds)])


def effort(steps: Steps) -> Steps:
    return before(steps, index(steps, "learn travel"), ("set", {"setting": "motor effort, closing", "value": "100"}))


def once(steps: Steps) -> Steps:
    first, last = index(steps, "read force gauge"), index(steps, "remove force gauge")
    return [*steps[: first + 1], *steps[last:]]


def on_somebody(steps: Steps) -> Steps:
    adult = ("place body", {"body": "adult", "x_m": 1.3, "y_m": 0.4})
    return before(steps, index(steps, "learn travel"), adult)


MISTAKES = {
    "bridge left": bridged,
    "work live": live,
    "wrong leaf order": false_order,
    "leads not swapped": unswapped,
    "guards not proved": unproved,
    "effort at maximum": effort,
    "one reading taken for a verdict": once,
    "learning with a person in the arc": on_somebody,
}


def test_the_solution_has_full_marks(solution: Steps, graded) -> None:
    """Played on the real gate, the job's own solution loses nothing."""
    made = graded(solution)
    assert [(f.name, f.outcome, f.what) for f in made.findings if f.outcome != "passed" or f.points] == []
    assert (made.result, made.score) == ("competent", 100.0)


def test_doing_nothing_fails(graded) -> None:
    """Giving up at once is no pass."""
    made = graded([])
    assert made.result == "repeat"
    assert made.score < 50


@pytest.mark.parametrize("name", MISTAKES)
def test_a_classic_mistake_is_caught_on_the_real_gate(name: str, solution: Steps, graded) -> None:
    """What the world tells of each of the eight is enough for its own finding, and for no pass."""
    made = graded(MISTAKES[name](solution))
    found = next((f for f in made.findings if f.name == name), None)
    assert found is not None, [f.name for f in made.findings if f.outcome != "passed"]
    assert found.outcome == "failed"
    assert found.evidence
    assert all(line > 1 for line, _, _ in found.evidence)
    assert made.result != "competent"
