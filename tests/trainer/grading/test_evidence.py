"""Evidence before a cause is named: a reading that a gate without the fault would not have given."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.trainer.grading.conftest import ARRIVAL, Play
from trainer.grading.checks.evidence import EVIDENCE
from trainer.grading.story import Story

BRUSHES, EFFORT, PAUSE = "worn brushes", "motor effort too high", "pause too short"
FOUND = replace(ARRIVAL, mains_on=True, had=(BRUSHES,), has=(BRUSHES,))


def measured(
    shown: str, *, name: bool = True, fault: str = BRUSHES, first: bool = False, panel: str = "", **extremes: float
) -> Play:
    """Somebody who measures the motor and names a cause, after that or before."""
    play = Play(replace(FOUND, had=(fault,), has=(fault,)))
    if name and first:
        play.do("conclude", cause=fault)
    if panel:
        play.tell("state", state="at rest", message=panel)
    play.do("measure", instrument="multimeter", function="ohms", at="a", against="b")
    places = {"instrument": "multimeter", "function": "ohms", "red": "a", "black": "b"}
    play.tell("reading", **places, shown=shown, unit="Ω", **extremes)
    if name and not first:
        play.do("conclude", cause=fault)
    return play


def state(ours: Play, sound: Play, fault: str = BRUSHES) -> str:
    return EVIDENCE.judge(Story(ours.history, {fault: lambda _until: sound.history})).state


def test_a_reading_that_a_sound_gate_would_not_give_is_evidence() -> None:
    """Far apart, or over range."""
    assert state(measured("14.0 Ω"), measured("1.3 Ω")) == "passed"
    assert state(measured("over range"), measured("1.3 Ω")) == "passed"


@pytest.mark.parametrize("shown", ["1.3 Ω", "1.33 Ω"])
def test_a_reading_that_would_be_the_same_is_none(shown: str) -> None:
    """So whoever names the cause then has guessed."""
    assert state(measured(shown), measured("1.3 Ω")) == "failed"


@pytest.mark.parametrize("extreme", ["least", "most"])
def test_what_an_instrument_remembers_is_read_as_well(extreme: str) -> None:
    """An intermittent fault is over when one comes to read: least and most since the probes went there tell."""
    now = "1.3 Ω"
    assert state(measured(now, **{extreme: 14.0}), measured(now, **{extreme: 1.3})) == "passed"
    assert state(measured(now, **{extreme: 1.3}), measured(now, **{extreme: 1.3})) == "failed"


def test_what_is_measured_afterwards_comes_too_late() -> None:
    """A conclusion first, and then a look whether it was right."""
    assert state(measured("14.0 Ω", first=True), measured("1.3 Ω", first=True)) == "failed"


def test_what_was_only_seen_is_half_of_it_and_enough_where_nothing_can_be_measured() -> None:
    """The panel said something that it would not have said; for a setting that is how it is found."""
    ours, sound = measured("1.3 Ω", panel="it stopped by itself"), measured("1.3 Ω", panel="shut")
    assert state(ours, sound) == "marginal"
    ours = measured("1.3 Ω", panel="it stopped by itself", fault=EFFORT)
    sound = measured("1.3 Ω", panel="shut", fault=EFFORT)
    assert state(ours, sound, EFFORT) == "passed"


def test_who_mends_one_thing_after_another_has_seen_nothing() -> None:
    """The gate is tried after each repair and fails each time: that shows no cause. A reading would."""

    def stumbled(shown: str, panel: str) -> Play:
        play = Play(FOUND).do("replace", what="board")
        play.tell("state", state="at rest", message=panel)
        play.do("measure", instrument="multimeter", function="ohms", at="a", against="b")
        play.tell("reading", instrument="multimeter", function="ohms", red="a", black="b", shown=shown, unit="Ω")
        return play.do("conclude", cause=BRUSHES)

    assert state(stumbled("1.3 Ω", "it stopped by itself"), stumbled("1.3 Ω", "shut")) == "failed"
    assert state(stumbled("14.0 Ω", "it stopped by itself"), stumbled("1.3 Ω", "shut")) == "passed"


def test_a_repair_without_a_word_is_judged_when_it_is_done() -> None:
    """Mended before anything showed it."""
    ours, sound = measured("1.3 Ω", name=False), measured("1.3 Ω", name=False)
    assert state(ours, sound) == "not yet"
    ours.do("replace", what="active leaf motor")
    ours.stands(has=(), mended=((ours.line, BRUSHES),))
    assert state(ours, sound) == "failed"


def test_where_there_was_no_fault_there_is_nothing_to_show() -> None:
    """And a fault that an instructor brought on the way is not compared."""
    play = measured("1.3 Ω")
    assert EVIDENCE.judge(Story(play.history)).state == "not applicable"
    assert EVIDENCE.judge(Story(play.stands(had=()).history)).state == "not applicable"


@pytest.mark.parametrize(("later_s", "expected"), [(0.0, "failed"), (2.0, "failed"), (25.0, "passed")])
def test_a_time_that_anybody_notices_is_seen_where_nothing_can_be_measured(later_s: float, expected: str) -> None:
    """The gate does the same as a sound one, and some seconds sooner: a watch on the wall is enough for a pause."""

    def watched(pause_s: float) -> Play:
        play = Play(replace(FOUND, had=(PAUSE,), has=(PAUSE,))).wait(pause_s)
        play.tell("state", state="closing", message="closing")
        return play.wait(60.0 - pause_s).do("conclude", cause=PAUSE)

    assert state(watched(5.0), watched(5.0 + later_s), PAUSE) == expected


def test_a_time_is_no_measurement_of_what_can_be_measured() -> None:
    """Worn brushes make it slow; so does much else."""
    ours, sound = measured("1.3 Ω"), Play(FOUND).wait(5.0)
    ours.events.insert(0, Play(FOUND).tell("state", message="shut").events[0])
    sound.tell("state", message="shut").do("measure", instrument="multimeter", function="ohms", at="a", against="b")
    assert state(ours, sound) == "failed"
