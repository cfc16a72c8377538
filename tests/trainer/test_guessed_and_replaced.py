"""The right repair on no evidence, and new parts until it runs: the gate of the job is passed, and it is seen how."""

from __future__ import annotations

from pathlib import Path

from sim.world.actions import Action, checked
from tests.trainer.played import played
from trainer.grading import Grade
from trainer.job import Solution, load_named_job, reference_solution, resolve
from trainer.job.script import Step

JOB = "nobody_sees_it_coming"
OTHER_PARTS = ("power supply", "outer beam receiver", "charger fuse")


def kind_of(step: Step) -> str:
    """The action of a step, or nothing."""
    return step.act.kind if isinstance(step.act, Action) else ""


def unlooked() -> list[Step]:
    """The job's own solution without anything that was measured or tried before the cause was named; what is written
    down stays."""
    solution = reference_solution(resolve(load_named_job(JOB), 0))
    assert solution is not None
    steps = list(solution.steps)
    named = next(i for i, step in enumerate(steps) if kind_of(step) == "conclude")
    notes = [step for step in steps[:named] if kind_of(step) == "note"]
    return [steps[0], *notes, *steps[named:]]


def grade_of(steps: list[Step], folder: Path) -> Grade:
    """The grade of these steps in the job as it is first drawn."""
    return played(resolve(load_named_job(JOB), 0), Solution(Path(JOB), JOB, "", tuple(steps)), folder)


def full(grade: Grade, part: str) -> bool:
    """Whether nothing of a part was lost."""
    return any(name == part and got == of for name, got, of in grade.parts)


def test_a_right_guess_passes_the_gate_and_is_seen_as_a_guess(tmp_path: Path) -> None:
    """Cause and repair are right: outcome and safety are full, diagnosis isn't, and the result is held down."""
    grade = grade_of(unlooked(), tmp_path)
    failed = {f.name for f in grade.findings if f.outcome == "failed"}
    assert failed == {"looked before concluding", "evidence before the repair"}
    assert full(grade, "outcome")
    assert full(grade, "safety")
    assert not full(grade, "diagnosis")
    assert grade.result != "competent"
    assert "Held down" in dict(grade.lines)


def test_new_parts_until_it_runs_pass_the_gate_and_lose_economy_and_diagnosis(tmp_path: Path) -> None:
    """Each good part is named and counted, and what was replaced by it all is no evidence."""
    steps = unlooked()
    at = next(i for i, step in enumerate(steps) if kind_of(step) == "replace")
    named = next(i for i, step in enumerate(steps) if kind_of(step) == "conclude")
    more = [Step(None, checked("replace", {"what": part}), "one part more") for part in OTHER_PARTS]
    rest = [step for i, step in enumerate(steps) if i != named]
    grade = grade_of([*rest[: at - 1], *more, rest[at - 1], steps[named], *rest[at:]], tmp_path)
    guess = grade_of(unlooked(), tmp_path / "guess")
    assert full(grade, "outcome")
    assert full(grade, "safety")
    assert not full(grade, "diagnosis")
    assert grade.features["needless"] == len(OTHER_PARTS)
    replaced = next(f for f in grade.findings if f.name == "good parts replaced")
    assert all(part in replaced.what for part in OTHER_PARTS)
    assert dict(_got(grade))["economy"] < dict(_got(guess))["economy"]
    assert grade.score <= guess.score < 100
    assert grade.result != "competent"


def _got(grade: Grade) -> list[tuple[str, float]]:
    return [(part, got) for part, got, _ in grade.parts]
