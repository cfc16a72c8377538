"""Whether what is hidden can be found with what a job allows."""

from __future__ import annotations

import numpy as np
import pytest

from sim.world.actions import Action
from trainer.diagnosis.policy import way
from trainer.diagnosis.priors import NOTHING
from trainer.diagnosis.site_table import BOTH
from trainer.diagnosis.solvable import on_average, worth


def all_allowed(_act: Action) -> bool:
    return True


def only(*instruments: str):
    """Nothing but these instruments, and no act without one."""
    return lambda act: act.arguments.get("instrument") in instruments


def test_a_guard_that_says_itself_is_found_by_looking(small) -> None:
    """Facts 8.4: the panel names a broken edge line; asking the gate to open is enough."""
    (found,) = worth(small, [("edge line broken", 1.0)], only())
    assert found.solvable
    assert found.alike == ()
    assert 1 <= found.steps <= 4
    assert 0.3 <= found.minutes < 5.0


def test_what_no_tool_shows_can_t_be_found(small) -> None:
    """An encoder's cable that lost its screen is seen with an oscilloscope or not at all: without one it reads as a
    sound gate."""
    fault = "encoder cable without its screen"
    (bare,) = worth(small, [(fault, 1.0)], only("multimeter"))
    assert not bare.solvable
    assert NOTHING in bare.alike
    (whole,) = worth(small, [(fault, 1.0)], all_allowed)
    assert whole.solvable


def test_fewer_tools_never_tell_more(small) -> None:
    """What the bag lacks can only leave more causes alike."""
    for cause in small.causes[1:]:
        if cause.endswith("not now"):
            continue
        (few,) = worth(small, [(cause, 1.0)], only("look"))
        (many,) = worth(small, [(cause, 1.0)], all_allowed)
        assert set(many.alike) <= set(few.alike)


def test_on_average_it_takes_what_each_cause_takes_as_often_as_it_occurs(small) -> None:
    """Reckoned over the whole course at once; here each cause's own way is reckoned by itself."""
    ways = [way(small.classed[:, 0, :], small.table.minutes, small.prior, row) for row in range(len(small.causes))]
    steps, minutes = on_average(small, all_allowed)
    assert steps == pytest.approx(np.dot(small.prior, [len(each) for each in ways]))
    assert minutes == pytest.approx(np.dot(small.prior, [small.table.minutes[list(each)].sum() for each in ways]))
    assert steps > 1.0


def test_two_together_are_one_cause(small) -> None:
    """And three are looked at one by one."""
    names = ("edge line broken", "photo beam misaligned", "pause too short")
    (pair,) = worth(small, [(name, 1.0) for name in names[:2]], all_allowed)
    assert set(pair.cause.split(BOTH)) == set(names[:2])
    assert len(worth(small, [(name, 1.0) for name in names], all_allowed)) == 3


def test_a_fault_that_is_not_in_the_table_is_said(small) -> None:
    """Another gate's fault can't be weighed here."""
    with pytest.raises(KeyError, match="no such fault"):
        worth(small, [("no such fault", 1.0)], all_allowed)
