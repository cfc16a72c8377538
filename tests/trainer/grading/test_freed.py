"""Somebody caught at a hinge is let out by hand, dead, before anything moves by power."""

from __future__ import annotations

from dataclasses import replace

from tests.trainer.grading.conftest import ARRIVAL, Play
from trainer.grading.checks.catalogue import ACCEPTANCE
from trainer.grading.story import Story

CAUGHT = replace(ARRIVAL, mains_on=True, trapped=("hand",))


def state(play: Play) -> str:
    return ACCEPTANCE["person freed"].judge(Story(play.history)).state


def test_let_out_dead_and_by_hand() -> None:
    """Nothing is shown before, and it is once the hand is out."""
    play = Play(CAUGHT)
    assert state(play) == "not yet"
    play.do("isolate").stands(mains_on=False)
    assert state(play) == "not yet"
    play.do("take out of hinge gap", leaf="active").stands(trapped=())
    assert state(play) == "passed"


def test_let_out_live_is_not_enough() -> None:
    """The next press of anybody's transmitter would have started it."""
    play = Play(CAUGHT)
    play.do("take out of hinge gap", leaf="active").stands(trapped=())
    assert state(play) == "failed"


def test_freeing_by_the_drive_fails_whatever_comes_after() -> None:
    """Also the other way round: nobody knows which way it starts."""
    play = Play(CAUGHT)
    play.tell("moving", leaf="active", direction="close", by="automatic", angle_deg=30.0).wait(2.0)
    play.do("isolate").stands(mains_on=False)
    play.do("take out of hinge gap", leaf="active").stands(trapped=())
    assert state(play) == "failed"


def test_somebody_who_had_to_wait_for_it_was_freed_and_yet_too_late() -> None:
    """Barriers and measurements can wait; a hand that is squeezed can't."""
    play = Play(CAUGHT)
    play.do("isolate").stands(mains_on=False)
    play.wait(310.0).do("take out of hinge gap", leaf="active").stands(trapped=())
    assert state(play) == "marginal"


def test_barriers_first_are_in_time() -> None:
    """Two minutes of barriers and a minute and a half of freeing are no delay to speak of."""
    play = Play(CAUGHT)
    play.do("isolate").stands(mains_on=False)
    play.wait(210.0).do("take out of hinge gap", leaf="active").stands(trapped=())
    assert state(play) == "passed"
