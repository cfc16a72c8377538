"""Evidence before action: a guess that came right is seen as a guess; predictions come before sights."""

from __future__ import annotations

import pytest

from trainer.grading import acceptance_states, grade, guide_steps
from trainer.grading.reasoning import REASONING
from trainer.grading.story import Story

PREDICTED = ["every guard predicted", "every guard seen"]


def judge(play, acceptance: str) -> str:
    return REASONING[acceptance][0].judge(Story(play.history)).state


def meet(play, *, predict_first: bool = True):
    """Meet the gate: predict each guard both ways, see each both ways."""
    guards = [guard for guard, fitted in play.standing.fitted.items() if fitted]
    play.stands(learned=True, cordoned=True).power(True)
    if not predict_first:
        play.trip("outer beam", moving="closing")
    for guard in guards:
        for way in ("opening", "closing"):
            play.do("predict", question=f"What does the {guard} do while {way}?", answer="reopens")
    for guard in guards:
        for way in ("opening", "closing"):
            play.trip(guard, moving=way)
    return play


def test_swap_after_the_wrong_turn_was_seen_is_evidence(play) -> None:
    """The jog went the wrong way, then the leads were swapped dead."""
    assert judge(play.power(True).jog("active").jog("inactive").swap(), "leaf directions proved") == "passed"


@pytest.mark.parametrize(
    "build",
    [
        lambda p: p.power(True).swap().jog("inactive"),
        lambda p: p.power(True).jog("active").swap("active"),
        lambda p: p.power(True).jog("inactive").swap().swap(),
    ],
    ids=["unseen", "a right leaf", "twice for one look"],
)
def test_swap_without_having_seen_is_a_guess(play, build) -> None:
    """Swapping unseen, swapping what was right, swapping again without a new look: guesses, right or not."""
    assert judge(build(play), "leaf directions proved") == "failed"


def test_a_right_guess_passes_the_gate_and_loses_diagnosis(run, stages, first_run) -> None:
    """Directions are right at the end, so outcome has full marks; diagnosis says guess."""
    order = [s for s in stages if s != "jog again"]
    order.insert(order.index("jog"), order.pop(order.index("swap")))
    made = grade(run(order=order).history, "learner", first_run, 90.0)
    parts = {name: (got, of) for name, got, of in made.parts}
    assert parts["outcome"][0] == parts["outcome"][1]
    assert parts["diagnosis"][0] < parts["diagnosis"][1]
    assert "guess" in next(f for f in made.findings if f.name == "wrong turn seen before swapping").what


def test_order_found_by_trial_is_not_read(play) -> None:
    """The first order written must be the right one."""
    assert judge(play.set("opens first", "inactive").set("opens first", "active"), "leaf order true") == "failed"
    assert judge(play, "leaf order true") == "failed"


def test_order_read_from_the_strip(play) -> None:
    """Written right before anything ran by itself."""
    assert judge(play, "leaf order true") == "not yet"
    assert judge(play.set("opens first", "active").learn(), "leaf order true") == "passed"


def test_guard_declared_away_before_the_survey(play, plays) -> None:
    """First say what covers the hazard, then declare; declaring away a guard that stands there is no diagnosis."""
    assert judge(play.set("inner beam", "not fitted").survey(), "guards declared truly") == "failed"
    assert judge(plays().survey().set("inner beam", "not fitted"), "guards declared truly") == "passed"
    assert judge(plays().survey().set("outer beam", "not fitted"), "guards declared truly") == "failed"
    assert judge(plays().survey(), "guards declared truly") == "not yet"


def test_predict_then_see(play) -> None:
    """Each fitted guard predicted and then seen both ways: full marks for the first job."""
    meet(play)
    assert acceptance_states(play.history, PREDICTED) == tuple((name, "passed") for name in PREDICTED)
    assert grade(play.history, "learner", PREDICTED, 30.0).score == 100.0


def test_prediction_after_the_sight_is_none(play) -> None:
    """Who predicts what was already seen has predicted nothing."""
    meet(play, predict_first=False)
    assert acceptance_states(play.history, PREDICTED) == ((PREDICTED[0], "failed"), (PREDICTED[1], "passed"))


def test_half_seen_is_not_seen(play) -> None:
    """One way is not both ways, and tripping at rest is no sight at all."""
    play.power(True).trip("outer beam", moving="closing").trip("active edge")
    assert acceptance_states(play.history, PREDICTED) == tuple((name, "not yet") for name in PREDICTED)


def test_guide_is_done_by_what_happened(play) -> None:
    """A step turns done when its check or milestone holds, whatever was ticked."""
    steps = [
        ("Put up barriers.", "cordon up"),
        ("Swing both leaves, set them half open, engage.", "leaves half open"),
        ("Bring the supply back.", "supply restored"),
        ("Jog both leaves.", "both leaves jogged"),
        ("Swap the leads of the leaf that turned wrong.", "leads swapped"),
        ("Learn the travel.", "travel learned"),
    ]

    def done():
        return [step.done for step in guide_steps(Story(play.history), steps)]

    assert done() == [False] * 6
    play.do("cordon").stands(cordoned=True).swing("active")
    assert done() == [True, False, False, False, False, False]
    play.swing("inactive").power(True)
    assert done() == [True, True, True, False, False, False]
    play.jog("active").jog("inactive").swap().learn()
    assert done() == [True] * 6
    assert [step.text for step in guide_steps(Story(play.history), steps)] == [text for text, _ in steps]
