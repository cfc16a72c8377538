"""What changes at a gate by itself: a clock's contact, water in an edge, a loop's field, a heartbeat by radio.

Each is queued for the instant at which it changes, and nothing is queued where nothing can: a dry edge, a loop by
itself and a link with enough in hand cost nothing. What sways does so at knots of a fixed grid, each a function of
the seed and its own number, so that it is the same however the run is cut.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from sim.devices import radio_link
from sim.devices.edge import water_ohm
from sim.devices.insulation import insulation_name
from sim.devices.loop import covered_share, frequency_hz, missing_share
from sim.draws import normal, uniform
from sim.site import Edge, PresenceLoop, RadioLink, TimerProgramme
from sim.units import LEAVES, SCAN, SECOND, next_on_grid
from sim.world.clock import Phase

if TYPE_CHECKING:
    from sim.world.world import World

KNOT: Final = 2 * SECOND
"""How often water lies anew and fields beat anew [µs]. CP, no source."""

BEATS_HZ: Final = 1000.0
"""Two detectors nearer to each other than this disturb each other [Hz]. CP, no source."""

BEATS_SHARE: Final = 0.4
"""Share of the knots at which a beat looks like metal. CP, no source."""

LEAKS_OHM: Final = 5e6
"""Below this to earth the water in a loop's joint is felt by its oscillator [Ω]. CP, no source."""

LEAK_F_OHM: Final = 300e-12 * 1e6
"""Capacity that such water adds, times its resistance [F·Ω]: 300 pF at 1 MΩ. CP, no source."""

MISSED: Final = 3
"""So many heartbeats in a row must stay away before a receiver believes it. CP, no source."""

SURE_DB: Final = 6.0 * radio_link.FADING_DB
"""With more in hand than this no fading loses a word."""

PUSH_BUTTONS: Final = ("open button", "close button", "step button")
"""Controls whose contacts chatter when they are worn."""


class ByItself:
    """The queue of all that; one for a world."""

    def __init__(self, world: World) -> None:
        self._world = world
        self._turns: dict[str, int] = {}
        self._begun = False

    def begin(self) -> None:
        """The visible clock starts. Called once, when the world stands."""
        self._begun = True
        self._world.host.changed.append(self.loop_changed)
        self.changed()

    def changed(self) -> None:
        """The site changed, or something was found out about it: queue what may change by itself from now on."""
        if not self._begun:
            return
        self._follow_timer()
        for guard in (f"{leaf} edge" for leaf in LEAVES):
            device = self._world.site.guards.device(guard)
            if isinstance(device, Edge):
                self._soak(guard, device)
                if device.radio is not None:
                    self._listen(guard, device.radio)
        self.loop_changed()

    # -- the clock's contact ---------------------------------------------------------------------------

    def _follow_timer(self) -> None:
        """Move the timer contact as its programme says, and queue its next change."""
        world, programme = self._world, self._world.site.access.timer
        self._stale("timer")
        if not isinstance(programme, TimerProgramme) or "timer contact" not in world.site.controls:
            return
        hour, closes, opens = world.hour(), programme.closes_at_h, programme.opens_at_h
        closed = (hour - closes) % 24.0 < (opens - closes) % 24.0
        self._move(world.cabinet.press("timer contact") if closed else world.cabinet.release("timer contact"))
        if closes % 24.0 != opens % 24.0:
            left_h = min((each - hour) % 24.0 or 24.0 for each in (closes, opens))
            self._queue("timer", world.now + max(SCAN, round(left_h * 3600.0 * SECOND)), self._follow_timer)

    # -- water in an edge ------------------------------------------------------------------------------

    def _soak(self, guard: str, device: Edge) -> None:
        """Water lies between the strips as it lies just now."""
        world = self._world
        self._stale(guard)
        ohm = water_ohm(device.water, uniform(world.seed, guard, "water", self._knot()))
        self._move(world.cabinet.soak_edge(guard, ohm))
        if ohm is not None:
            self._queue(guard, self._next_knot(), lambda: self._soak(guard, device))

    # -- the loop's field ------------------------------------------------------------------------------

    def loop_changed(self) -> None:
        """A body moved, the feed came or went, the ground changed: what the oscillator has of it."""
        world, loop = self._world, self._world.site.access.loop
        if not self._begun or not isinstance(loop, PresenceLoop) or world.cabinet.loop is None:
            return
        knot = self._knot()
        missing = missing_share(loop, self._above(loop)) + self._leak_share(loop, knot)
        beats = self._beats(loop, missing)
        disturbed = beats and uniform(world.seed, "presence loop", "beat", knot) < BEATS_SHARE
        self._move(world.cabinet.set_loop(missing, disturbed=disturbed))
        restless = beats or self._leak_ohm() < LEAKS_OHM or world.cabinet.loop.shift > 0.0
        if restless and self._turns.get("loop", 0) % 2 == 0:
            self._queue("loop", self._next_knot(), self._loop_sways)

    def _loop_sways(self) -> None:
        self._stale("loop")
        if self._world.cabinet.loop is not None:
            self._world.cabinet.loop.follow()
        self.loop_changed()

    def _above(self, loop: PresenceLoop) -> list[tuple[str, float]]:
        """(kind, share of the loop it covers) of every body there is."""
        found = []
        for body in self._world.people.bodies.values():
            covered = covered_share(loop, body.x_m, body.y_m, body.size_m[:2], body.turn)
            found.append((body.kind, covered))
        return found

    def _leak_ohm(self) -> float:
        return abs(self._world.cabinet.netlist[insulation_name("presence loop")].ohm)  # type: ignore[union-attr]

    def _leak_share(self, loop: PresenceLoop, knot: int) -> float:
        """What water at a leak adds to the tuning capacitor, as if that share of the inductance came or went.

        A capacitor that is larger by a share lowers the frequency as much as an inductance that is: the oscillator
        takes it for metal that went away, and for metal that came when the water is gone again.
        """
        ohm = self._leak_ohm()
        if ohm >= LEAKS_OHM:
            return 0.0
        lies = uniform(self._world.seed, "presence loop", "water", knot)
        return -LEAK_F_OHM / ohm / (loop.capacitor_nf * 1e-9) * lies

    def _beats(self, loop: PresenceLoop, missing: float) -> bool:
        """Whether another loop's detector runs at nearly the same frequency."""
        if loop.neighbour_khz is None or not self._world.cabinet.loop_runs():
            return False
        return abs(frequency_hz(loop, missing) - loop.neighbour_khz * 1000.0) < BEATS_HZ

    # -- an edge by radio ------------------------------------------------------------------------------

    def _listen(self, guard: str, link: RadioLink) -> None:
        """Whether the last heartbeats came through, and when the next one is due if that is not sure."""
        world = self._world
        name = f"{guard} heartbeat"
        self._stale(name)
        margin = link_margin_db(link, world)
        if margin is None or abs(margin) >= SURE_DB:
            self._move(world.cabinet.set_edge_heard(guard, margin is not None and margin > 0.0))
            return
        beat = max(SCAN, round(link.heartbeat_s * SECOND) // SCAN * SCAN)
        last = int(world.now) // beat
        heard = any(
            margin + radio_link.FADING_DB * normal(world.seed, guard, "heartbeat", number) >= 0.0
            for number in range(last - MISSED + 1, last + 1)
        )
        self._move(world.cabinet.set_edge_heard(guard, heard))
        self._queue(name, (last + 1) * beat, lambda: self._listen(guard, link))

    # -- a worn push-button ----------------------------------------------------------------------------

    def chatter(self, control: str) -> None:
        """A contact that was just closed opens and closes a few times more, as scans can see it."""
        world, name = self._world, f"{control} chatter"
        self._stale(name)
        end = world.now + (round(world.site.access.button_bounce_s * SECOND) if control in PUSH_BUTTONS else 0)
        turn, closed, at = self._turns[name], False, world.now + self._spell(control, 0)
        for number in range(1, 100):
            if at >= end:
                break
            self._spring(control, at, closed, turn)
            at, closed = at + self._spell(control, number), not closed
        if closed:
            self._spring(control, at, True, turn)

    def _spell(self, control: str, number: int) -> int:
        """How long a chattering contact stays as it is: one scan or two [µs]."""
        index = int(self._world.now) // SCAN + number
        return SCAN * (1 + int(2.0 * uniform(self._world.seed, control, "chatter", index)))

    def let_go(self, control: str) -> None:
        """A button that is let go chatters no more."""
        self._stale(f"{control} chatter")

    def _spring(self, control: str, at: int, closed: bool, turn: int) -> None:
        world = self._world

        def act() -> None:
            if self._turns[f"{control} chatter"] == turn:
                self._move(world.cabinet.press(control) if closed else world.cabinet.release(control))

        world.clock.at(at, Phase.HAND, act, f"{control} chatters")

    # -- queueing --------------------------------------------------------------------------------------

    def _knot(self) -> int:
        return int(self._world.now) // KNOT

    def _next_knot(self) -> int:
        return (self._knot() + 1) * KNOT

    def _stale(self, name: str) -> None:
        """Whatever is queued under this name is not wanted any more."""
        self._turns[name] = self._turns.get(name, 0) // 2 * 2 + 2

    def _queue(self, name: str, when: int, call: Callable[[], None]) -> None:
        """Queue one change, in place of what is queued under this name. An odd turn: something is queued."""
        self._turns[name] = turn = self._turns.get(name, 0) // 2 * 2 + 3

        def act() -> None:
            if self._turns[name] == turn:
                call()

        self._world.clock.at(next_on_grid(when, SCAN), Phase.HAND, act, f"{name}, by itself")

    def _move(self, changed: bool) -> None:
        if changed:
            self._world.people.told(True)


def link_margin_db(link: RadioLink, world: World) -> float | None:
    """What a safety edge's link has in hand [dB]; None when its transmitter sends nothing."""
    receiver = world.site.access.receiver
    loss = radio_link.free_space_db(link.distance_m, receiver.frequency_mhz) + link.shading_db
    level = radio_link.Way(link.erp_dbm, link.charge, loss).level_dbm(receiver)
    return radio_link.margin_db(level, receiver)


def hour_at(starts_at_h: float, elapsed_us: int) -> float:
    """Hour of day after so much visible time [0 to below 24]."""
    return math.fmod(starts_at_h + elapsed_us / (3600.0 * SECOND), 24.0)
