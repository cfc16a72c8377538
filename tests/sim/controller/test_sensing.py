"""Gates whose leaves nobody counts, on the real world: by limit switches in either wiring, by time; and on the mains.

Each learns its travel, goes from stop to stop, is turned back by a beam and by what stands in its way, cut off half
way and found again, and asked to close with a leaf released.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

import pytest

from sim.bench.trial import as_installed
from sim.controller.reference import ReferenceController
from sim.faults.entries.driving import MAINS_DRIVE
from sim.mechanics.plant import Obstacle
from sim.site import Site, load_site, with_changes
from sim.world.actions import checked
from sim.world.world import World

BENCH: Final = Path(__file__).parents[3] / "scenarios" / "sites" / "reference_bench.yaml"

LIMITS: Final = MappingProxyType(
    {"kind": "limit switches", "limits_in_motor_lead": True, "limit_open_deg": 89.0, "limit_closed_deg": 0.3}
)

UNLOCKED: Final = {"lock": "not fitted"}

ON_BOARD: Final = MappingProxyType({"kind": "limit switches", "limit_open_deg": 89.0, "limit_closed_deg": 0.3})


def _both(**drive: Any) -> dict[str, Any]:
    return {f"drives.{leaf}": {"kind": "linear ram", **drive} for leaf in ("active", "inactive")}


def _mains(**drive: Any) -> dict[str, Any]:
    return _both(**{**MAINS_DRIVE, **drive}) | UNLOCKED


KINDS: Final[Mapping[str, dict[str, Any]]] = MappingProxyType(
    {
        "encoder": {},
        "limit switches": _both(sensing=dict(LIMITS)),
        "limit switches to the board": _both(sensing=dict(ON_BOARD)) | UNLOCKED,
        "limit switches made when reached": _both(sensing={**ON_BOARD, "limit_contact": "normally open"}) | UNLOCKED,
        "running time": _both(sensing={"kind": "none"}),
        "mains, encoder": _mains(),
        "mains, limit switches": _mains(sensing={**ON_BOARD, "limit_open_deg": 90.0, "limit_closed_deg": 0.5}),
        "mains, running time": _mains(sensing={"kind": "none"}),
    }
)

BOARD: Final = [name for name in KINDS if name.startswith("limit switches ")]
FEWER: Final = [name for name in KINDS if not name.endswith("made when reached")]
UNCOUNTED: Final = [name for name in FEWER if not name.endswith("encoder")]

LONGEST_S: Final = 120
SLOT: Final = 2
"""Where things in the active leaf's way are kept; the first may be the bolt of its lock."""

RESTING: Final = ("open", "closed", "part way open", "at rest", "position unknown")


class Play:
    """A gate of one kind, and what people do at it; time passes in tenths of a second, whoever scans how often."""

    def __init__(self, kind: str, *, every_scan: bool = False, controller: ReferenceController | None = None) -> None:
        self.site: Site = with_changes(load_site(BENCH), KINDS[kind])
        found = replace(as_installed(self.site), learned=False)
        self.world = World(self.site, arrival=found, every_scan=every_scan, controller=controller)

    @property
    def state(self) -> str:
        return self.world.headline().state

    @property
    def angle(self) -> float:
        """Of the active leaf [°]."""
        return math.degrees(self.world.plant.angle(0))

    def angles(self) -> tuple[float, float]:
        return self.angle, math.degrees(self.world.plant.angle(1))

    def wait(self, seconds: float) -> None:
        self.world.run_to(self.world.now + round(seconds * 1e6))

    def until(self, *states: str, at_most_s: float = LONGEST_S) -> None:
        end = self.world.now + round(at_most_s * 1e6)
        while self.state not in states:
            assert self.world.now < end, f"still {self.state} after {at_most_s} s: {self.world.headline().message}"
            self.wait(0.1)

    def until_angle(self, degrees: float, *, opening: bool) -> None:
        for _ in range(10 * LONGEST_S):
            if (self.angle >= degrees) is opening:
                return
            self.wait(0.1)
        raise AssertionError(f"still at {self.angle:.1f}°")

    def learn(self) -> None:
        self.world.do(checked("learn travel", {}))
        self.until("travel learning")
        self.until(*RESTING, at_most_s=600)
        self.wait(5.0)

    def tap(self, control: str) -> None:
        self.world.do(checked("press", {"control": control}))
        self.wait(0.3)
        self.world.do(checked("release", {"control": control}))

    def give(self, control: str, *, until: tuple[str, ...] = RESTING) -> None:
        """Press a button and see the movement out."""
        self.tap(control)
        self.until("warning before moving", "testing the guards", at_most_s=2.0)
        self.until("opening", "closing", "finding its position")
        self.until(*until)

    def stand_in_the_way(self, degrees: float, *, opening: bool) -> None:
        thing = Obstacle("a rigid post", math.radians(degrees), 1.5, opening, 200_000.0, 2_000.0)
        self.world.plant.place_obstacle(0, SLOT, thing)

    def cut_power(self, seconds: float) -> None:
        cabinet = self.world.cabinet
        cabinet.isolate()
        cabinet.remove_battery_link()
        self.world.rewired()
        self.wait(seconds)
        cabinet.restore()
        cabinet.fit_battery_link()
        self.world.rewired()
        self.wait(3.0)

    def log(self) -> str:
        return "\n".join(text for _, text in self.world.controller.panel().log)


def _learned(kind: str, **how: Any) -> Play:
    play = Play(kind, **how)
    play.learn()
    assert "travel learning: finished" in play.log(), play.log()
    return play


def _whole_life(play: Play) -> None:
    """What the second part of every test here goes through, in one go."""
    play.give("open button")
    play.tap("close button")
    play.until("closing")
    play.until_angle(70.0, opening=False)
    play.stand_in_the_way(45.0, opening=False)
    play.until("reversing")
    play.world.plant.remove_obstacle(0, SLOT)
    play.until("open")
    play.tap("close button")
    play.until("closing")
    play.until_angle(40.0, opening=False)
    play.cut_power(4.0)
    play.give("close button")
    play.world.plant.release(0)
    play.give("open button")


@pytest.mark.parametrize("kind", list(KINDS))
def test_it_learns_opens_and_shuts(kind: str) -> None:
    """Design section 4: stops found slowly, two working cycles; then it goes from stop to stop."""
    play = _learned(kind)
    assert play.state == "closed"
    for control, state in (("open button", "open"), ("close button", "closed")) * 2:
        play.give(control)
        assert play.state == state
        at = 90.0 if state == "open" else 0.0
        assert play.angles() == pytest.approx((at, at), abs=2.0)
    assert "position unknown" not in play.log()


@pytest.mark.parametrize("kind", FEWER)
def test_a_beam_turns_it_back(kind: str) -> None:
    """Reopen: it stops and opens fully though the beam is clear again (design section 4)."""
    play = _learned(kind)
    play.give("open button")
    play.tap("close button")
    play.until("closing")
    play.until_angle(60.0, opening=False)
    play.world.cabinet.unplug("outer beam")
    play.world.rewired()
    before = play.angle
    play.wait(1.5)
    play.world.cabinet.plug("outer beam")
    play.world.rewired()
    assert play.state == "opening"
    assert play.angle > before - 8.0
    play.until("open")
    assert play.angles() == pytest.approx((90.0, 90.0), abs=2.0)


@pytest.mark.parametrize("kind", FEWER)
def test_what_stands_in_its_way_turns_it_back(kind: str) -> None:
    """Closing reverses, opening backs off, and afterwards it still knows where it is (design section 4)."""
    play = _learned(kind)
    play.give("open button")
    play.tap("close button")
    play.until("closing")
    play.until_angle(70.0, opening=False)
    play.stand_in_the_way(45.0, opening=False)
    play.until("reversing")
    assert play.angle == pytest.approx(45.0, abs=1.0)
    play.world.plant.remove_obstacle(0, SLOT)
    play.until("open")
    play.give("close button")
    assert play.state == "closed"
    assert play.angles() == pytest.approx((0.0, 0.0), abs=2.0)
    play.tap("open button")
    play.until("opening")
    play.until_angle(30.0, opening=True)
    play.stand_in_the_way(50.0, opening=True)
    play.until("backing off", "stopping")
    play.until("part way open")
    assert play.angle < 48.0


@pytest.mark.parametrize("kind", FEWER)
def test_after_a_power_cut_it_finds_its_position(kind: str) -> None:
    """Nothing moves on power return; the first movement finds the stops, then as commanded (design section 4)."""
    play = _learned(kind)
    play.give("open button")
    play.tap("close button")
    play.until("closing")
    play.until_angle(40.0, opening=False)
    play.cut_power(4.0)
    stands = play.angles()
    play.wait(5.0)
    assert play.state == "position unknown"
    assert play.angles() == pytest.approx(stands, abs=0.5)
    play.give("open button")
    assert play.state == "open"
    assert "finding its position: by open button" in play.log()
    assert play.angles() == pytest.approx((90.0, 90.0), abs=2.0)


@pytest.mark.parametrize("kind", FEWER)
@pytest.mark.parametrize("leaf", [0, 1])
def test_closed_is_never_said_of_a_released_leaf(kind: str, leaf: int) -> None:
    """Its motor turns for nothing: no stop, no limit switch, no end (design section 4)."""
    play = _learned(kind)
    play.give("open button")
    play.world.plant.release(leaf)
    play.give("close button")
    assert play.state == "position unknown"
    late = "did not leave the limit switch it was driven from", "ran past the place where its stop was learned"
    assert any(said in play.log() for said in late)


@pytest.mark.parametrize("kind", ["limit switches", "limit switches to the board"])
def test_a_back_off_that_ends_at_a_limit_switch_knows_it(kind: str) -> None:
    """What stands in its way just after the start sends it back to its closed switch; there it is closed."""
    play = _learned(kind)
    play.stand_in_the_way(8.0, opening=True)
    play.give("open button")
    assert "backing off" in play.log()
    play.world.plant.remove_obstacle(0, SLOT)
    play.tap("close button")
    play.wait(2.0)
    assert (play.state, play.world.headline().message) == ("closed", "already closed")
    play.give("open button")
    play.give("close button")
    assert play.state == "closed"
    assert "took no current" not in play.log()


@pytest.mark.parametrize("kind", UNCOUNTED)
def test_a_guard_ends_learning_and_nothing_is_kept(kind: str) -> None:
    """Design section 4: aborts safely on any guard or stop and keeps nothing."""
    play = Play(kind)
    play.world.do(checked("learn travel", {}))
    play.until("travel learning")
    play.wait(100.0)
    assert play.state == "travel learning"
    play.world.cabinet.unplug("stop circuit")
    play.world.rewired()
    play.wait(1.0)
    assert not play.world.notices.moving()
    assert play.world.headline().travel == (None, None)
    assert "ended early" in play.log()


@pytest.mark.parametrize("kind", UNCOUNTED)
def test_what_stands_in_the_way_while_it_looks_for_a_stop_is_no_stop(kind: str) -> None:
    """A limit switch was not reached, or the other leaf goes further: learning ends and keeps nothing."""
    play = Play(kind)
    play.stand_in_the_way(25.0, opening=True)
    play.world.do(checked("learn travel", {}))
    play.until("travel learning")
    play.until(*RESTING, at_most_s=600)
    assert play.world.headline().travel == (None, None)
    assert "ended early, nothing is kept" in play.world.headline().message


@pytest.mark.parametrize("kind", UNCOUNTED)
def test_a_motor_that_takes_no_current_is_told(kind: str) -> None:
    """A lead that has come off looks like a limit switch; a leaf that took no current is never taken to be shut."""
    play = _learned(kind)
    play.give("open button")
    play.world.cabinet.unplug("active leaf motor" if "mains" not in kind else "active run capacitor")
    if "mains" in kind:
        play.world.cabinet.mains.change("active leaf motor, neutral track", ohm=1e9 + 0j)
    play.world.rewired()
    play.tap("close button")
    play.wait(45.0)
    assert play.state != "closed"
    assert "active leaf: was driven and took no current" in play.log()


@pytest.mark.parametrize("kind", BOARD)
def test_a_cable_that_came_off_is_never_taken_for_a_place(kind: str) -> None:
    """Pulled off at the board, a contact that opens reads reached for ever, one that closes never does."""
    play = _learned(kind)
    play.world.cabinet.unplug("active closed limit")
    play.world.rewired()
    play.wait(0.5)
    if kind.endswith("made when reached"):
        assert play.state == "part way open"
    play.give("open button")
    play.wait(1.0)
    if play.state == "open":
        play.tap("close button")
        play.wait(60.0)
    assert play.state != "closed"


@pytest.mark.parametrize("kind", BOARD)
def test_both_switches_reached_is_refused(kind: str) -> None:
    """No leaf is at both ends: no movement begins, and the panel says why."""
    play = _learned(kind)
    if kind.endswith("to the board"):
        play.world.cabinet.unplug("active open limit")
    else:
        play.world.cabinet.netlist.change("active open limit, switch", closed=True)
    play.world.rewired()
    play.wait(0.5)
    play.tap("open button")
    play.wait(1.0)
    assert not play.world.notices.moving()
    assert "both limit switches of the active leaf read reached" in play.log()
    lines = {line.name: line for line in play.world.controller.panel().inputs}
    assert lines["active open limit"].blocks
    assert not lines["inactive closed limit"].blocks


@pytest.mark.parametrize("kind", BOARD)
def test_a_leaf_that_was_moved_by_hand_is_no_longer_closed(kind: str) -> None:
    """Released and pushed open while the gate rests: its switch says so."""
    play = _learned(kind)
    assert play.state == "closed"
    play.world.plant.release(0)
    play.world.plant.push(0, 60.0)
    play.wait(3.0)
    play.world.plant.push(0, 0.0)
    assert play.angle > 2.0
    assert play.state != "closed"


@pytest.mark.parametrize("kind", BOARD)
def test_leads_that_are_exchanged_are_noticed(kind: str) -> None:
    """It comes to the switch that it was driven away from; learning ends and keeps nothing."""
    play = Play(kind)
    for leaf in (0, 1):
        play.world.plant.place_leaf(leaf, math.radians(30.0))
    play.world.cabinet.swap_motor_leads(0)
    play.world.rewired()
    play.world.do(checked("learn travel", {}))
    play.until("travel learning")
    play.until(*RESTING, at_most_s=600)
    assert play.world.headline().travel == (None, None)
    assert "it came to the other limit switch" in play.world.headline().message


@pytest.mark.slow
@pytest.mark.parametrize("kind", FEWER)
def test_asked_every_scan_it_does_the_same(kind: str) -> None:
    """Law 2 of the clock, to one digest: waking by time and current misses nothing."""
    seldom, always = _learned(kind), _learned(kind, every_scan=True)
    for play in (seldom, always):
        _whole_life(play)
    assert seldom.world.digest() == always.world.digest()
    assert seldom.world.host.scans < always.world.host.scans / 10


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["running time", "limit switches", "limit switches to the board"])
def test_both_forms_agree(kind: str, forms: type[ReferenceController]) -> None:
    """What is reckoned doesn't depend on how often somebody asks, to the last bit."""
    play = _learned(kind, every_scan=True, controller=forms())
    _whole_life(play)
    assert isinstance(play.world.controller, forms)
    assert play.world.controller.panel() == play.world.controller.readable.panel()
