"""A gate that failed: cause, repair, and the run after it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sim.units import Us
from sim.world.notebook import Conclusion
from tests.trainer.grading.conftest import ARRIVAL, Play
from trainer.grading import grade
from trainer.grading.checks.catalogue import ACCEPTANCE
from trainer.grading.checks.repair import needless
from trainer.grading.score import score
from trainer.grading.story import Story
from trainer.grading.weights import WEIGHTS

BRUSHES, FUSE = "worn brushes", "board fuse blown by a short"
FOUND = replace(ARRIVAL, mains_on=True, had=(BRUSHES,), has=(BRUSHES,), swapped_wrong=(), learned=True)


def held(*causes: str) -> tuple[Conclusion, ...]:
    return tuple(Conclusion(Us(0), cause, 80) for cause in causes)


def judge(name: str, play: Play) -> tuple[str, str]:
    verdict = ACCEPTANCE[name].judge(Story(play.history))
    return verdict.state, verdict.what


@pytest.mark.parametrize(
    ("causes", "had", "state"),
    [
        ((BRUSHES,), (BRUSHES,), "passed"),
        ((FUSE,), (BRUSHES,), "failed"),
        ((BRUSHES, FUSE), (BRUSHES,), "marginal"),
        ((BRUSHES,), (BRUSHES, FUSE), "failed"),
        (("no fault",), (), "passed"),
        ((BRUSHES,), (), "failed"),
        (("no fault",), (BRUSHES,), "failed"),
    ],
)
def test_all_causes_are_to_be_named_and_no_other(causes: tuple[str, ...], had: tuple[str, ...], state: str) -> None:
    """One too many is nearly right, one too few is wrong, and that nothing is wrong is an answer."""
    play = Play(replace(FOUND, had=had, conclusions=held(*causes), ended="handed over"))
    assert judge("cause found", play)[0] == state


@pytest.mark.parametrize("cause", [BRUSHES, FUSE])
def test_nothing_tells_before_the_end_whether_a_conclusion_is_right(cause: str) -> None:
    """A list that ticks at the right name would be a way to find it."""
    play = Play(replace(FOUND, conclusions=held(cause)))
    assert judge("cause found", play) == ("not yet", f"Concluded: {cause}. Judged at the end.")
    assert judge("fault put right", Play(FOUND))[0] == "not yet"
    assert judge("fault put right", Play(replace(FOUND, has=())))[0] == "not yet"


def test_a_cause_that_is_still_there_is_not_put_right() -> None:
    """Judged when the gate is left; where it is made safe there is nothing to judge."""
    assert judge("fault put right", Play(replace(FOUND, ended="handed over")))[0] == "failed"
    assert judge("fault put right", Play(replace(FOUND, has=(), ended="handed over")))[0] == "passed"
    assert judge("fault put right", Play(replace(FOUND, ended="made safe")))[0] == "not applicable"


def test_a_gate_is_seen_to_run_after_the_last_repair() -> None:
    """Both leaves, both ways, to the end, on a command; a run before the repair shows nothing."""
    play = Play(replace(FOUND, had=(), has=()))
    run(play)
    assert judge("runs after the repair", play)[0] == "passed"
    play.do("replace", what="active leaf motor brushes")
    assert judge("runs after the repair", play)[0] == "not yet"
    run(play, to_deg=60.0)
    assert judge("runs after the repair", play)[0] == "not yet"
    run(play)
    assert judge("runs after the repair", play)[0] == "passed"


def run(play: Play, to_deg: float = 90.0) -> None:
    for way, angle in (("open", to_deg), ("close", 0.0)):
        for leaf in ("active", "inactive"):
            play.tell("moving", leaf=leaf, direction=way, by="automatic", angle_deg=to_deg - angle)
        play.wait(20.0)
        for leaf in ("active", "inactive"):
            play.tell("resting", leaf=leaf, angle_deg=angle)
        play.wait(2.0)


def test_changing_parts_until_it_runs_costs_economy_and_a_guess_is_held_down() -> None:
    """A good part that was replaced is named; with nothing looked at before, the result is held down."""
    play = Play(FOUND)
    play.do("replace", what="board")
    play.do("replace", what="active leaf motor brushes")
    repaired = (play.entries[-1].line, BRUSHES)
    play.do("conclude", cause=BRUSHES)
    run(play)
    play.do("hand over", shown="release, stop, lamp, freeing a person, monthly checks")
    play.stands(has=(), conclusions=held(BRUSHES), mended=(repaired,), ended="handed over")
    asked = ("cause found", "fault put right", "runs after the repair", "handed over")
    made = grade(play.history, "working", asked, 60.0)
    found = {finding.name: finding for finding in made.findings}
    assert found["good parts replaced"].what == "New without need: board."
    assert found["good parts replaced"].points > 0.0
    assert found["looked before concluding"].outcome == "failed"
    assert made.score <= 59.0
    assert made.features["needless"] == 1


def test_a_fuse_that_had_blown_is_no_good_part() -> None:
    """What a fault took with it is replaced beside the fault itself; a fuse that was whole is charged."""
    play = Play(FOUND)
    play.do("replace", what="board fuse")
    play.tell("repair", verb="replace", what="board fuse", closed="board fuse")
    play.do("replace", what="charger fuse")
    play.tell("repair", verb="replace", what="charger fuse", closed="")
    assert [deed.of("what") for deed in needless(Story(play.history))] == ["charger fuse"]


def test_a_wrong_cause_holds_the_result_down() -> None:
    """Mended by luck, and not known: below half."""
    play = Play(FOUND)
    play.tell("reading", instrument="multimeter", value=24.0)
    play.do("conclude", cause=FUSE)
    run(play)
    play.stands(has=(), conclusions=held(FUSE), ended="handed over")
    made = grade(play.history, "working", ("cause found", "fault put right", "runs after the repair"), 60.0)
    assert made.score <= 49.0
    safely = score({**made.features, "breaches": []}, WEIGHTS["working"])
    assert safely.cap == (49.0, "the cause was not named")
