"""The classic mistakes, each played through a real session of *First run*: every one is caught by its own name."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from sim.world.actions import Action, checked
from trainer.grading import Grade
from trainer.grading.judge import Grader
from trainer.job import load_named_job, reference_solution, resolve
from trainer.job.script import Step
from trainer.session.desk import Desk
from trainer.session.play import Hands, ScriptFailed
from trainer.session.session import Session

Edit = Callable[[list[Step]], list[Step]]


@pytest.fixture(scope="module")
def steps() -> list[Step]:
    """The reference solution of the first pass."""
    solution = reference_solution(resolve(load_named_job("first_run"), 0))
    assert solution is not None
    return list(solution.steps)


def graded(session: Session) -> Grade:
    """The grade with its findings by name."""
    return Grader().graded(session.history(), session.assignment)


def played(folder: Path, steps: list[Step], *, until_failure: bool = False) -> Grade:
    """Play steps; with `until_failure`, hand over as it stands once a step can't be done any more."""
    session = Desk(Grader(), folder).start("first_run", "practice", 0)
    try:
        Hands(session).play(steps)
    except ScriptFailed:
        if not until_failure:
            raise
        session.release_all()
        session.do("hand over", {"shown": "release, stop, lamp, freeing a person, monthly checks"})
    session.finish()
    result = graded(session)
    session.close()
    return result


def act(kind: str, **arguments: object) -> Step:
    """A step with an action, at once."""
    return Step(None, checked(kind, arguments), "a mistake")


def kind_of(step: Step) -> str:
    """The action of a step, or nothing."""
    return step.act.kind if isinstance(step.act, Action) else ""


def without(steps: list[Step], *kinds: str) -> list[Step]:
    """The steps without some actions; what they waited for is still waited for."""
    return [Step(s.moment, None, s.place) if kind_of(s) in kinds else s for s in steps]


def before(steps: list[Step], kind: str, *added: Step) -> list[Step]:
    """The steps with others before the first of a kind."""
    at = next(i for i, s in enumerate(steps) if kind_of(s) == kind)
    return [*steps[:at], *added, *steps[at:]]


def setting(steps: list[Step], name: str, value: str) -> list[Step]:
    """The steps with another value for a setting."""
    return [
        Step(s.moment, checked("set", {"setting": name, "value": value}), s.place)
        if isinstance(s.act, Action) and s.act.kind == "set" and s.act["setting"] == name
        else s
        for s in steps
    ]


def bridge_left(steps: list[Step]) -> list[Step]:
    """The absent beam's input is linked instead of declared, and the link stays.

    The guard test finds a link out, so whoever wants to get away with it turns that off as well.
    """
    rest = [s for s in steps if not (isinstance(s.act, Action) and s.act.arguments.get("value") == "not fitted")]
    linked = before(rest, "swap motor leads", act("bridge", guard="inner beam"))
    return before(linked, "learn travel", act("set", setting="guard test", value="off"))


def work_live(steps: list[Step]) -> list[Step]:
    """The leads are swapped with both sources on."""
    at = next(i for i, s in enumerate(steps) if kind_of(s) == "isolate")
    end = next(i for i, s in enumerate(steps) if kind_of(s) == "swap motor leads")
    again = next(i for i, s in enumerate(steps) if i > end and kind_of(s) == "jog press")
    return [*steps[:at], steps[end], *steps[again:]]


def wrong_order(steps: list[Step]) -> list[Step]:
    """The sheet names the wrong leaf first."""
    return setting(steps, "opens first", "inactive")


def leads_not_swapped(steps: list[Step]) -> list[Step]:
    """The wrong turn is seen and left."""
    return without(steps, "swap motor leads")


def guards_not_proved(steps: list[Step]) -> list[Step]:
    """No guard is tripped or unplugged before the gate learns."""
    start = next(i for i, s in enumerate(steps) if kind_of(s) == "cover beam")
    end = next(i for i, s in enumerate(steps) if kind_of(s) == "learn travel")
    kept = [s for s in steps[start:end] if kind_of(s) == "set"]
    return [*steps[:start], *kept, *steps[end:]]


def effort_at_maximum(steps: list[Step]) -> list[Step]:
    """The closing effort is turned up to the end, so that nothing stops it."""
    return before(steps, "learn travel", act("set", setting="motor effort, closing", value="100"))


def one_reading(steps: list[Step]) -> list[Step]:
    """One force reading is taken for a verdict."""
    reads = [i for i, s in enumerate(steps) if kind_of(s) == "read force gauge"]
    return [Step(s.moment, None, s.place) if i in reads[1:] else s for i, s in enumerate(steps)]


def person_in_the_arc(steps: list[Step]) -> list[Step]:
    """Travel learning is started with somebody in the arc; he walks out when the leaf comes."""
    at = next(i for i, s in enumerate(steps) if kind_of(s) == "learn travel")
    stands = act("place body", body="adult", x_m=1.4, y_m=0.5)
    goes = act("remove body", body="adult")
    return [*steps[:at], stands, steps[at], goes, *steps[at + 1 :]]


MISTAKES: list[tuple[Edit, str, bool]] = [
    (bridge_left, "bridge left", False),
    (work_live, "work live", False),
    (wrong_order, "wrong leaf order", True),
    (leads_not_swapped, "leads not swapped", True),
    (guards_not_proved, "guards not proved", False),
    (effort_at_maximum, "effort at maximum", True),
    (one_reading, "one reading taken for a verdict", False),
    (person_in_the_arc, "learning with a person in the arc", False),
]
"""(what is done, the finding's name, whether the solution can't be finished after it)."""


@pytest.fixture(scope="module")
def findings() -> dict[str, set[str]]:
    """What each mistake was found to be, for the test that they are told apart."""
    return {}


@pytest.mark.parametrize(("mistake", "name", "breaks"), MISTAKES, ids=[m[1] for m in MISTAKES])
def test_each_mistake_is_caught_by_its_own_name(
    tmp_path: Path, steps: list[Step], findings: dict[str, set[str]], mistake: Edit, name: str, breaks: bool
) -> None:
    """It fails the job, by a finding that names it, with the journal line that shows it."""
    result = played(tmp_path, mistake(steps), until_failure=breaks)
    failed = {f.name: f for f in result.findings if f.outcome == "failed"}
    assert name in failed
    assert failed[name].evidence
    assert result.result != "competent"
    findings[name] = set(failed)


def test_the_mistakes_are_told_apart(findings: dict[str, set[str]]) -> None:
    """No finding that names one mistake appears for a play that made another."""
    if len(findings) < len(MISTAKES):
        pytest.skip("not every mistake was played in this run")
    names = {name for _, name, _ in MISTAKES}
    for name, found in findings.items():
        assert found & names == {name}


@pytest.mark.parametrize("seed", range(4))
def test_the_reference_solution_has_full_marks_whatever_is_drawn(tmp_path: Path, seed: int) -> None:
    """The job's own solution passes with 100 of 100."""
    session = Desk(Grader(), tmp_path).play("first_run", seed)
    result = graded(session)
    session.close()
    assert (result.score, result.result) == (100.0, "competent")


def test_meet_the_gate_has_full_marks(tmp_path: Path) -> None:
    """The first job's solution passes with 100 of 100."""
    session = Desk(Grader(), tmp_path).play("meet_the_gate", 0)
    result = graded(session)
    session.close()
    assert (result.score, result.result) == (100.0, "competent")


@pytest.mark.parametrize("job", ["first_run", "meet_the_gate", "side_entrance"])
def test_doing_nothing_fails(tmp_path: Path, job: str) -> None:
    """Somebody who only looks has not done the job."""
    session = Desk(Grader(), tmp_path).start(job, "assessed", 0)
    session.finish()
    result = graded(session)
    session.close()
    assert result.result != "competent"
    assert result.score < 50


@pytest.mark.parametrize("job", ["first_run", "meet_the_gate", "side_entrance"])
def test_a_whole_job_resumed_is_the_job_that_was_left(tmp_path: Path, job: str) -> None:
    """Everything but the last act of a solution, closed and opened again: one digest, whatever was waited for."""
    solution = reference_solution(resolve(load_named_job(job), 0))
    assert solution is not None
    desk = Desk(Grader(), tmp_path)
    session = desk.start(job, "practice", 0)
    Hands(session).play(solution.steps[:-1])
    session.close()
    again = desk.resume(job)
    assert again.clock_us == session.clock_us
    assert again.world.digest() == session.world.digest()
    again.close()
