"""The whole run as an instructor would play it: full marks; and doing nothing fails."""

from __future__ import annotations

import pytest

from trainer.grading import acceptance_states, grade

PAR = 90.0


def test_the_right_run_has_full_marks(run, first_run) -> None:
    """Everything done, in a right order, within the time: 100 of 100, competent, nothing lost anywhere."""
    made = grade(run().history, "learner", first_run, PAR)
    lost = {f.name: (f.outcome, f.what, f.points) for f in made.findings if f.outcome != "passed" or f.points}
    assert lost == {}
    assert made.score == 100.0
    assert made.result == "competent"
    assert dict(made.lines)["Safe?"] == "yes"


def test_every_acceptance_check_passes_at_the_end(run, first_run) -> None:
    """The acceptance list agrees with the grade."""
    states = acceptance_states(run().history, first_run)
    assert {name: state for name, state in states if state != "passed"} == {}


@pytest.mark.parametrize("level", ["learner", "working", "senior"])
def test_doing_nothing_fails(play, first_run, level: str) -> None:
    """Whoever does nothing is quick and safe, and fails all the same."""
    made = grade(play.history, level, first_run, PAR)
    assert made.result == "repeat"
    assert made.score < 50
    assert not any(f.grave for f in made.findings)
    assert [name for name, got, of in made.parts if got and name != "safety"] == []


def test_two_right_orders_have_the_same_marks(run, stages, first_run) -> None:
    """Outcome and safety don't depend on which right order was taken."""
    late = [s for s in stages if s not in ("guards", "force", "receiver")]
    late.insert(late.index("jog"), "guards")
    late.insert(late.index("transmitter"), "receiver")
    late.insert(late.index("beam"), "force")
    one, other = (
        {part: (got, of) for part, got, of in grade(history, "senior", first_run, PAR).parts}
        for history in (run().history, run(order=late).history)
    )
    assert one["outcome"] == other["outcome"]
    assert one["safety"] == other["safety"]
    assert one["outcome"][0] == one["outcome"][1]


def test_points_lost_add_up(run, first_run) -> None:
    """What the findings cost is what the sum lacks: nothing is taken without being said."""
    for without in ((), ("force",), ("swap", "jog again"), ("guards", "leave"), ("learn",), ("survey", "cordon")):
        made = grade(run(without=without).history, "working", first_run, PAR)
        assert sum(f.points for f in made.findings) == pytest.approx(
            100.0 - sum(got for _, got, _ in made.parts), abs=0.2
        )


def test_debrief_is_what_a_screen_draws(run, first_run) -> None:
    """The debrief keeps result, score, lines, parts and every finding with its evidence."""
    made = grade(run().history, "learner", first_run, PAR)
    debrief = made.debrief("debrief.html")
    assert (debrief.result, debrief.score, debrief.lines) == (made.result, made.score, made.lines)
    assert debrief.report_path == "debrief.html"
    assert [f.title for f in debrief.findings] == [f.title for f in made.findings]
    swap = next(f for f in debrief.findings if f.title == "Isolated and proved dead before work")
    assert any("swap motor leads" in text for _, _, text in swap.evidence)
    assert all(line > 1 for line, _, _ in swap.evidence)
