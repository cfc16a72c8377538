"""What anybody sees of a gate that was asked to move."""

from __future__ import annotations

from types import MappingProxyType

import pytest

from sim.bench.fault_seen import operations
from sim.units import SECOND, Us
from sim.world.actions import checked
from sim.world.history import Entry, Event

STOPS = {"active": 90.0, "inactive": 90.0}


def press(at_s: float, control: str = "open button", line: int = 0) -> Entry:
    return Entry(line, Us(int(at_s * SECOND)), checked("press", {"control": control}))


def told(at_s: float, kind: str, text: str = "", **data) -> Event:
    return Event(Us(int(at_s * SECOND)), kind, text, MappingProxyType(data))


def leaf(name: str, start: float, end: float, from_deg: float, to_deg: float, way: str = "open") -> list[Event]:
    return [
        told(start, "moving", leaf=name, direction=way, by="automatic", angle_deg=from_deg),
        told(end, "resting", leaf=name, angle_deg=to_deg, from_deg=from_deg),
    ]


@pytest.mark.parametrize(
    ("active", "expected"),
    [
        (leaf("active", 2, 20, 0, 89.0), "gets there"),
        (leaf("active", 2, 20, 0, 41.0), "stops on the way"),
        (leaf("active", 2, 20, 0, 0.4), "is driven and stays"),
        ([*leaf("active", 2, 8, 0, 30), *leaf("active", 9, 20, 30, 22, "close")], "turns back"),
        ([], "is not driven"),
    ],
)
def test_what_a_leaf_did(active, expected) -> None:
    """Judged by where it came to rest; 3° are there, 2° are nothing, to an eye."""
    events = sorted([*active, *leaf("inactive", 3, 22, 0, 90.0)], key=lambda event: event.at)
    (seen,) = operations([press(1, line=7)], events, STOPS, 40 * SECOND)
    assert seen.way == "opening"
    assert seen.line == 7
    assert seen.seen["active"] == expected
    assert seen.seen["inactive"] == "gets there"
    assert "panel" not in seen.seen


def test_a_leaf_that_still_moves_is_no_observation() -> None:
    """Nothing is concluded before it rests, nor before a gate could have answered."""
    moving = leaf("active", 2, 20, 0, 89.0)[:1]
    assert operations([press(1)], moving, STOPS, 10 * SECOND) == ()
    assert operations([press(1)], [], STOPS, 3 * SECOND) == ()
    assert len(operations([press(1)], [], STOPS, 6 * SECOND)) == 1


def test_each_asking_ends_with_the_next() -> None:
    """What the panel showed last before that belongs to it, and what came after doesn't."""
    events = [
        told(0.5, "state", "closed: closed"),
        *leaf("active", 2, 20, 0, 90.0),
        *leaf("inactive", 3, 22, 0, 90.0),
        told(23, "state", "open: open"),
        told(30, "state", "open: close refused: outer beam reads open"),
    ]
    first, second = operations([press(1), press(30, "close button")], events, STOPS, 40 * SECOND)
    assert first.seen["panel"] == "open: open"
    assert second.way == "closing"
    assert second.seen == {
        "active": "is not driven",
        "inactive": "is not driven",
        "panel": "open: close refused: outer beam reads open",
    }


def test_other_controls_ask_for_nothing_known() -> None:
    """A step button opens or closes; what it asked for isn't known from it alone."""
    assert operations([press(1, "step button")], [], STOPS, 20 * SECOND) == ()
