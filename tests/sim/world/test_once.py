"""What is the same as something before is held as that; what differs in anything at all is not."""

from __future__ import annotations

import gc
import weakref

import pytest

from sim.said import Begun, said
from sim.world.once import MOST, Once


class _Thing:
    """Anything that is not equal to another one."""


def test_what_is_made_of_the_same_is_the_same_thing() -> None:
    """The first one comes back for a second one made of the same."""
    once, first = Once(), _Thing()
    assert once.of(first, (said("{guard} clear", guard="inner beam"), {"place": 0.5})) is first
    assert once.of(_Thing(), (said("{guard} clear", guard="inner beam"), {"place": 0.5})) is first


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (1, True),
        (1, 1.0),
        (0.0, -0.0),
        (0.3, 0.1 + 0.2),
        ("open", said("open")),
        (said("open"), said("open{of_a_gate}", of_a_gate="")),
        (said("{word} now", word=said("open")), said("{word} now", word=said("open{of_a_gate}", of_a_gate=""))),
        (said("{force_n:.0f} N", force_n=10.1), said("{force_n:.0f} N", force_n=10.2)),
        (said("Clear"), Begun("Clear", {})),
    ],
)
def test_what_only_seems_the_same_is_another_thing(one: object, other: object) -> None:
    """Type, sign, sentence and what fills its gaps count, where `==` sees no difference."""
    once, first, second = Once(), _Thing(), _Thing()
    once.of(first, one)
    assert once.of(second, other) is second


def test_what_was_not_met_for_long_is_forgotten() -> None:
    """A bounded number is known; what is met again and again stays."""
    once, often = Once(), _Thing()
    once.of(often, "often")
    seldom = weakref.ref(once.of(_Thing(), "seldom"))
    for number in range(2 * MOST):
        once.of(_Thing(), number)
        assert once.of(_Thing(), "often") is often
    gc.collect()
    assert seldom() is None
