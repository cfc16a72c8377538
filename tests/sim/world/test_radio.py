"""Transmitters in the yard: range, counters that run ahead, copies, cells, and a receiver that must be fed."""

from __future__ import annotations

from typing import Any

import pytest

from sim.controller.ports import HeardWord
from sim.controller.transmitters import MOST_BUTTONS
from sim.errors import Refused
from sim.instruments.toolbag import Toolbag
from sim.site import Site, with_changes
from sim.units import SECOND
from sim.world import radio
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.world import World

HANDS = [
    {"tag": "green fob", "serial": "50100001"},
    {"tag": "grey fob", "serial": "50100002"},
    {"tag": "copy", "serial": "50100002", "code": "fixed"},
]


def yard(site: Site, changes: dict[str, Any] | None = None, seed: int = 3) -> World:
    """A gate that knows the green and the grey fob; nothing is learned, so that nothing moves."""
    made = with_changes(with_changes(site, {"transmitters": HANDS}), changes or {})
    known = (("green fob", "green holder", "open"), ("grey fob", "grey holder", "open"))
    return World(made, seed=seed, bag=Toolbag, arrival=Arrival(transmitters=known))


def press(world: World, tag: str, distance_m: float = 5.0) -> HeardWord | None:
    """Press and let go; what the panel has of it, None when no word came."""
    before = len(world.controller.panel().heard)
    world.do(checked("press transmitter", {"transmitter": tag, "distance_m": distance_m}))
    world.run_to(world.now + SECOND // 2)
    world.do(checked("release transmitter", {"transmitter": tag}))
    world.run_to(world.now + SECOND // 2)
    heard = world.controller.panel().heard
    return heard[-1] if len(heard) > before else None


def test_near_it_is_always_understood(site: Site) -> None:
    """Twenty presses at the default distance, one word each, each one step ahead."""
    world = yard(site)
    for _ in range(15):
        assert press(world, "green fob") == HeardWord("green holder", 1, "accepted")


def test_far_away_it_is_lost_and_the_count_runs_on(site: Site) -> None:
    """Out of range nothing is heard; back again, the step is as many presses as were lost, and one."""
    world = yard(site)
    for _ in range(5):
        assert press(world, "green fob", 290.0) is None
    assert world.count_ahead("green fob") == 5
    assert press(world, "green fob") == HeardWord("green holder", 6, "accepted")


def test_beyond_the_window_two_in_a_row_are_needed(site: Site) -> None:
    """More than sixteen lost: the first word is too far ahead, the next one is taken."""
    world = yard(site)
    for _ in range(20):
        press(world, "green fob", 290.0)
    first, second = press(world, "green fob"), press(world, "green fob")
    assert first == HeardWord("green holder", 21, "too far ahead")
    assert second == HeardWord("green holder", 22, "accepted")
    assert press(world, "grey fob") == HeardWord("grey holder", 1, "accepted")


def test_at_the_edge_of_its_range_some_words_come(site: Site) -> None:
    """Where the margin ends reflections decide, press by press; another seed decides otherwise."""
    world, other = yard(site), yard(site, seed=4)
    came = [[press(each, "green fob", 74.0) is not None for _ in range(14)] for each in (world, other)]
    assert 2 <= sum(came[0]) <= 12
    assert came[0] != came[1]


def test_a_copy_of_a_rolling_code_is_ignored(site: Site) -> None:
    """It sends an old word every time; enrolled as what it is, it works, and so does whoever copied it."""
    world = yard(site)
    assert press(world, "copy") == HeardWord("grey holder", 0, "an old word")
    world.do(checked("delete transmitter", {"holder": "grey holder"}))
    world.do(checked("enrol transmitter", {"holder": "grey holder", "function": "open"}))
    assert press(world, "copy") == HeardWord("grey holder", 0, "enrolled")
    for _ in range(3):
        assert press(world, "copy") == HeardWord("grey holder", 0, "accepted")


def test_a_stranger_is_listed_without_a_name(site: Site) -> None:
    """The panel shows that somebody unknown pressed."""
    world = yard(site)
    world.do(checked("delete all transmitters", {}))
    assert press(world, "green fob") == HeardWord("", 0, "not enrolled")


def test_a_receiver_without_feed_hears_nothing(site: Site) -> None:
    """With its plug out it is deaf; the transmitter counts on all the same."""
    world = yard(site)
    assert press(world, "green fob") is not None
    world.cabinet.unplug("radio receiver")
    world.rewired()
    assert press(world, "green fob") is None
    world.cabinet.plug("radio receiver")
    world.rewired()
    assert press(world, "green fob") == HeardWord("green holder", 2, "accepted")


def test_a_flat_cell_sends_nothing(site: Site) -> None:
    """And one that is nearly flat is understood close by only."""
    flat = yard(site, {"transmitters.0.charge": 0.0})
    assert press(flat, "green fob", 1.0) is None
    weak = yard(site, {"transmitters.0.charge": 0.045})
    assert press(weak, "green fob", 1.0) is not None
    assert press(weak, "green fob", 40.0) is None
    assert radio.level_dbm(flat, "green fob", 1.0) is None


def test_an_unknown_tag_is_named_with_those_there_are(site: Site) -> None:
    """A slip of the pen is answered with what is in the box."""
    with pytest.raises(Refused, match="green fob, grey fob, copy"):
        yard(site).do(checked("press transmitter", {"transmitter": "gren fob"}))


def test_a_memory_that_is_full_takes_no_more(site: Site) -> None:
    """The limit is the controller's; the list stays as it is."""
    world = yard(site)
    known = world.enrolled()
    world.know((*known, *(known[0]._replace(serial=f"6{n:07d}", holder=f"tenant {n}") for n in range(38))))
    assert len(world.controller.panel().transmitters) == MOST_BUTTONS
    said = world.do(checked("enrol transmitter", {"holder": "one more", "function": "open"}))
    assert "full" in said
    assert len(world.enrolled()) == MOST_BUTTONS
