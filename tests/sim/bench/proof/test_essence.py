"""Essence: what is left without numbers tells apart what matters, and only that."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

import pytest

from sim.bench.proof.essence import essence
from sim.said import said

NOW = 5_000_000


class Colour(Enum):
    RED = "red"
    BLUE = "blue"


@dataclass
class Part:
    colour: Colour = Colour.RED
    due: int = 0
    level: float = 0.0
    names: list[str] = field(default_factory=list)


class Thing:
    """Somebody's own class."""

    def __init__(self, **held) -> None:
        vars(self).update(held)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (17, 4_900_000),
        (NOW + 10, NOW + 3_000_000),
        (-12.5, -80),
        ({"brake": NOW + 10}, {"brake": NOW + 90_000}),
        (Part(due=NOW + 1, level=0.4), Part(due=NOW + 2, level=0.9)),
        (Thing(part=Part(level=7.0)), Thing(part=Part(level=8.0))),
        (list(range(40)), list(range(50))),
        ({"a": 1, "b": 2}, {"b": 2, "a": 1}),
    ],
)
def test_numbers_alone_make_no_difference(one, other) -> None:
    """Amounts and instants on the same side of now are the same, in whatever they stand."""
    assert essence(one, NOW) == essence(other, NOW)
    assert hash(essence(one, NOW)) == hash(essence(other, NOW))


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (0, 17),
        (1, 2),
        (said("by {who}", who="one"), said("by {who}", who="other")),
        (17, -17),
        (NOW - 10, NOW + 10),
        ({"brake": 9}, {}),
        ({"brake": 9}, {"warning": 9}),
        ("open", "close"),
        (True, False),
        ([], ["open"]),
        ([True, False], [False, True]),
        (Part(), Part(colour=Colour.BLUE)),
        (Part(due=NOW - 1), Part(due=NOW + 1)),
        (Thing(on=True), Thing(on=False)),
        (None, 0),
        (frozenset({"a"}), frozenset({"b"})),
    ],
)
def test_what_is_decided_by_makes_a_difference(one, other) -> None:
    """Words, choices, small counts, signs, whether a deadline is there and whether it is still to come."""
    assert essence(one, NOW) != essence(other, NOW)


def test_what_does_not_decide_is_left_out_by_name() -> None:
    """In a dataclass, in a dictionary and in somebody's own class."""
    without = frozenset({"names"})
    for make in (lambda names: Part(names=names), lambda names: {"names": names}, lambda names: Thing(names=names)):
        assert essence(make(["one"]), NOW, without) == essence(make(["two"]), NOW, without)
        assert essence(make(["one"]), NOW) != essence(make(["two"]), NOW)


def test_a_circle_ends() -> None:
    """A thing that holds itself has an essence all the same."""
    thing = Thing(name="round")
    thing.itself = thing
    assert essence(thing, NOW) == essence(thing, NOW)
