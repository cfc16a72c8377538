"""Whole microseconds, phases of an instant, runs that stop before what happens at their end, endless instants."""

from __future__ import annotations

from importlib.metadata import version

import pytest

from sim.errors import EndlessInstant
from sim.mechanics.plant import Reason, StopReport
from sim.units import Us
from sim.world.clock import INSTANT_LIMIT, Clock, Phase


class Still:
    """A plant in which nothing happens, but for stops it was told to make."""

    def __init__(self, *stops: int) -> None:
        self.stops = list(stops)
        self.now = 0

    def run_to(self, t: Us) -> StopReport:
        if self.stops and self.stops[0] <= t:
            self.now = self.stops.pop(0)
            return StopReport(Us(self.now), Reason.CONTACT, "a post")
        self.now = t
        return StopReport(t, Reason.REACHED, "")


def test_what_happens_at_one_instant_keeps_the_order_of_its_phases() -> None:
    """Bulletins come before the scan, the scan before looking, in whatever order they were queued."""
    log: list[str] = []
    clock = Clock(Still(5_000), lambda stop: log.append(f"bulletin {stop.culprit}"))
    clock.at(5_000, Phase.LOOK, lambda: log.append("look"), "look")
    clock.at(5_000, Phase.SCAN, lambda: log.append("scan"), "scan")
    clock.run_to(6_000)
    assert log == ["bulletin a post", "scan", "look"]


def test_a_run_ends_before_anything_of_its_last_instant() -> None:
    """Whoever acts at the end of a run comes before the scan of that instant."""
    log: list[str] = []
    clock = Clock(Still(), lambda stop: None)
    clock.at(10_000, Phase.SCAN, lambda: log.append("scan"), "scan")
    clock.run_to(10_000)
    assert (log, clock.now) == ([], 10_000)
    clock.run_to(20_000)
    assert log == ["scan"]


def test_a_stop_of_the_plant_comes_at_its_own_time() -> None:
    """A physical event between two queued ones is heeded at its own instant."""
    seen: list[int] = []
    clock = Clock(Still(3_000, 7_000), lambda stop: seen.append(int(clock.now)))
    clock.run_to(10_000)
    assert seen == [3_000, 7_000]


def test_two_stops_at_one_instant_both_come() -> None:
    """What the plant still has to tell of an instant is told at that instant, before anything queued for later."""
    seen: list[tuple[int, str]] = []
    clock = Clock(Still(3_000, 3_000), lambda stop: seen.append((int(clock.now), stop.culprit)))
    clock.at(3_000, Phase.LOOK, lambda: seen.append((int(clock.now), "look")), "look")
    clock.at(4_000, Phase.LOOK, lambda: seen.append((int(clock.now), "later")), "later")
    clock.run_to(10_000)
    assert seen == [(3_000, "a post"), (3_000, "a post"), (3_000, "look"), (4_000, "later")]


def test_enough_ends_a_run_early() -> None:
    """A run can be ended by what just happened."""
    clock = Clock(Still(3_000), lambda stop: None)
    assert clock.run_to(10_000, lambda: clock.now >= 3_000)
    assert clock.now == 3_000


def test_an_instant_that_never_ends_names_who_kept_it_alive() -> None:
    """Somebody who queues himself again at the same instant is told apart and named."""
    clock = Clock(Still(), lambda stop: None)

    def again() -> None:
        clock.at(int(clock.now), Phase.SCAN, again, "an eager part")

    clock.at(1_000, Phase.SCAN, again, "an eager part")
    with pytest.raises(EndlessInstant, match=f"more than {INSTANT_LIMIT} events.*an eager part"):
        clock.run_to(2_000)


def test_the_two_fields_we_set_are_those_of_this_library() -> None:
    """SimPy 4: an event that is queued by hand needs `_ok` and `_value`; a new major version must be looked at."""
    assert version("simpy").split(".")[0] == "4"
