"""The plant: both leaves with their drives, brought from instant to instant by the kernel.

Whoever holds it commands bridges, sets the network, puts things in the way and asks what stands where. Positions,
forces and currents are those of the last whole millisecond at or before `now`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from sim.kernel import advance, compiler, contact
from sim.kernel import layout as at
from sim.kernel.network import DEAD, DriveNetwork
from sim.mechanics import constants, hanging, keyframes, obstacle, refitting, watches
from sim.mechanics.chance import Chance
from sim.mechanics.drives import Drives
from sim.mechanics.leaf import series_stiffness
from sim.mechanics.mounting import Mounting
from sim.mechanics.obstacle import Obstacle
from sim.mechanics.recorder import Column, Recorder, Recording
from sim.mechanics.report import Reason, StopReport
from sim.mechanics.standing import GaugeCurve
from sim.mechanics.watches import KernelWatch, Mark, WatchLike
from sim.site import dump_site, restore_site
from sim.site.models import Edge, Site, Weather
from sim.units import LEAVES, Us

__all__ = ["DriveNetwork", "GaugeCurve", "KernelWatch", "Mark", "Obstacle", "Plant", "Reason", "StopReport"]


class Plant(Drives):
    """Both leaves of one site. Starts shut, at rest, engaged, motors as warm as the air, without a supply.

    Where one leaf hangs, what fills the other's place stays put: released, without a supply, nothing ever at it.
    """

    def __init__(self, site: Site, seed: int = 0) -> None:
        self.site = self._built = site
        self.now = Us(0)
        self._weather = site.weather
        self._fits = refitting.Fits()
        self._constants = constants.constants_of(site)
        self._state = np.zeros(at.STATE_SIZE, dtype=np.float64)
        self._whole = np.zeros(at.WHOLE_SIZE, dtype=np.int64)
        self._network = DEAD.slots()
        self._curve = np.zeros(2 * at.CURVE_SAMPLES, dtype=np.float64)
        self._recorder = Recorder()
        self._mountings = _mountings(site)
        self._chance = Chance(seed, site.weather.gust_time_s)
        self._names = [["", "", "", ""], ["", "", "", ""]]
        self._marks: tuple[Mark, ...] = ()
        self._pending = -1
        self.set_watches(())
        for leaf in (0, 1):
            self._put(leaf, at.ENGAGED, 1.0 if leaf < len(site.leaves.fitted) else 0.0)
            self._put(leaf, at.WIRED, 1.0)
            self._put(leaf, at.SENSE, 1.0)
            self._put(leaf, at.LIMIT, 8.0)
            self._put(leaf, at.KEYED, 1.0 if site.drives.pair[leaf].key == "whole" else 0.0)
            self._put(leaf, at.WINDING_C, site.weather.temperature_c)
            self._put(leaf, at.CASE_C, site.weather.temperature_c)
            self._put(leaf, at.OHM, self._ohm_at(leaf, site.weather.temperature_c))
            if self._block(leaf)[at.CLOSED_STOP] > 0.0:
                refitting.stand_at(self._state, self._constants, leaf, float(self._block(leaf)[at.CLOSED_STOP]))
        self._state[at.GAUGE_START] = -1.0
        self._state[at.WIND] = 1.0
        self._whole[at.ROW_LIMIT] = self._recorder.rows.size // at.ROW_SIZE

    # -- time ------------------------------------------------------------------------------------------

    def run_to(self, t: Us) -> StopReport:
        """Run to `t` [µs], or to the first contact or watch before it. Called by the clock.

        Raises ValueError for a time before now.
        """
        if t < self.now:
            raise ValueError(f"the plant stands at {self.now} µs and can't run back to {t} µs")
        if self._pending >= 0:
            index, self._pending = self._pending, -1
            return self._held(index)
        why = self._advance(int(t))
        while why == at.FULL or (why == at.REACHED and self._whole[at.TIME] + at.STEP_US <= t):
            if why == at.FULL:
                self._whole[at.ROWS] = self._recorder.carry(int(self._whole[at.ROWS]))
            why = self._advance(int(t))
        if why == at.REACHED:
            self.now = Us(int(t))
            return StopReport(self.now, Reason.REACHED, "")
        self.now = Us(int(self._whole[at.TIME]))
        fired = int(self._whole[at.FIRED])
        if why == at.WATCHED:
            return self._held(fired)
        self._pending = fired
        return StopReport(self.now, Reason.CONTACT, self._culprit(int(self._whole[at.EVENTS])))

    def _held(self, index: int) -> StopReport:
        reason = Reason.MARK if index < len(self._marks) else Reason.WATCH
        return StopReport(self.now, reason, self._watch_names[index])

    def _advance(self, end: int) -> int:
        forms = compiler.forms()
        state, whole = self._state, self._whole
        given = (self._constants, self._network, self._watches, self._tables)
        wander = (self._constants[at.GUSTING], self._constants[at.COUNT_NOISE], self._block(1)[at.COUNT_NOISE])
        if any(wander):
            end = self._chance.cover(whole, tuple(bool(each) for each in wander), end)
        kept = (self._chance.knots, self._curve, self._recorder.rows)
        if forms.is_compiled:
            return forms.advance(state, *given, *kept, whole, end)
        listed, counted = state.tolist(), whole.tolist()
        rest = [array.tolist() for array in given]
        why = forms.advance(listed, *rest, *kept, counted, end)
        state[:] = listed
        whole[:] = counted
        return why

    def _culprit(self, events: int) -> str:
        told = []
        for leaf, name in enumerate(LEAVES):
            bits = events >> (leaf * contact.EVENT_BITS) & (1 << contact.EVENT_BITS) - 1
            for slot in range(at.OBSTACLE_SLOTS):
                if bits >> slot & 1:
                    told.append(f"{name} leaf touched {self._names[leaf][slot]}")
                if bits >> (at.OBSTACLE_SLOTS + slot) & 1:
                    told.append(f"{name} leaf left {self._names[leaf][slot]}")
            if bits >> (2 * at.OBSTACLE_SLOTS) & 1:
                told.append(f"{name} edge pressed")
            if bits >> (2 * at.OBSTACLE_SLOTS + 1) & 1:
                told.append(f"{name} edge let go")
            cut_out = events >> (advance.CUT_OUT_BITS + 2 * leaf)
            if cut_out & 1:
                told.append(f"cut-out of the {name} leaf's motor opened")
            if cut_out >> 1 & 1:
                told.append(f"cut-out of the {name} leaf's motor closed")
        return "; ".join(told)

    # -- what others do to it --------------------------------------------------------------------------

    def command(
        self, leaf: int, duty: float, slew_per_s: float = 2.0, limit_a: float = 8.0, brake: bool = False
    ) -> None:
        """What the board asks of one bridge. Raises ValueError for numbers that are none."""
        if not all(math.isfinite(value) for value in (duty, slew_per_s, limit_a)):
            raise ValueError(f"a bridge can't do duty {duty!r}, slew {slew_per_s!r}, limit {limit_a!r}")
        self._put(leaf, at.TARGET, max(-1.0, min(1.0, duty)) + 0.0)
        self._put(leaf, at.SLEW, max(0.0, slew_per_s))
        self._put(leaf, at.LIMIT, max(0.0, limit_a))
        self._put(leaf, at.BRAKE, 1.0 if brake else 0.0)

    def set_network(self, net: DriveNetwork) -> None:
        """What the motors see of the wiring from now on."""
        self._network = net.slots()

    def set_watches(self, wanted: Sequence[WatchLike]) -> None:
        """What may wake the controller, at scan instants after now."""
        self._wanted, self._pending = watches.packed(wanted), -1
        self.set_marks(self._marks)

    def set_marks(self, marks: Sequence[Mark]) -> None:
        """Places of a leaf that end a run at a scan instant, beside what the controller waits for."""
        self._marks = tuple(marks)
        self._watches, self._tables, self._watch_names = watches.with_marks(self._marks, self._wanted)
        self._whole[at.WATCH_COUNT] = len(self._watch_names)

    def push(self, leaf: int, force_n_at_tip: float) -> None:
        """A hand at the closing edge [N], positive opens, until it is set to nothing."""
        self._put(leaf, at.PUSH, force_n_at_tip * float(self._block(leaf)[at.WIDTH]) + 0.0)

    def place_leaf(self, leaf: int, angle: float, speed: float = 0.0) -> None:
        """Stand a leaf at an angle [rad], at a speed [rad/s], train slack, motor at rest: how a job finds it.

        What stands in its way and would be in it is moved until it just touches. Leaves too long to shut stay out.
        """
        if angle >= 0.0:
            angle = max(angle, float(self._block(leaf)[at.CLOSED_STOP]))
        self._put(leaf, at.ANGLE, angle)
        self._put(leaf, at.SPEED, speed)
        self._put(leaf, at.TURNING, 0.0)
        self._state[at.LAP_SIDE] = self._state[at.LAP_EASE] = 0.0
        self._couple(leaf)
        for slot in range(at.OBSTACLE_SLOTS):
            place = self._obstacle(leaf, slot)
            met = min if self._state[place + at.OPENS_INTO] == 0.0 else max
            self._state[place + at.AT_ANGLE] = met(float(self._state[place + at.AT_ANGLE]), angle)

    def refit(self, site: Site, weather: Weather | None = None) -> None:
        """The gate is another from now on: worn, mended, moved. Where it stands, how warm it is, what is in its way
        stay; so does the weather unless one is given, and what was set by hand where the new site is as the old. A
        stop that is set where a leaf stands takes the leaf along.

        Raises DataError, nothing changed, for a drive too stiff to step. Back at the same instant: to the bit.
        """
        today, drives = self._weather if weather is None else weather, self.site.drives.pair
        old = constants.constants_of(self.site.model_copy(update={"weather": self._weather}))
        new = constants.constants_of(site.model_copy(update={"weather": today}))
        before, changed = self._constants.copy(), new != old
        self._fits.before(before, self._state)
        self._constants[changed] = new[changed]
        for leaf in (0, 1):
            key = site.drives.pair[leaf].key
            mended = None if key == drives[leaf].key else key == "whole"
            refitting.adapt(self._state, before, self._constants, leaf, mended)
        self._state[:] = self._fits.after(self._constants, self._state)
        self.site, self._weather, self._mountings = site, today, _mountings(site)

    def set_wind(self, weather: Weather) -> None:
        """Wind and gusts from now on."""
        self._weather = weather.model_copy(update={"temperature_c": self._weather.temperature_c})
        for leaf in (0, 1):
            constants.wind(self._block(leaf), weather, leaf, self.site.opens_towards == "inside")
        self._constants[at.GUSTING] = constants.gusting(weather)
        self._state[at.WIND] = 1.0

    def set_temperature(self, air_c: float) -> None:
        """The air from now on [°C]: grease and oil follow at once, motors as they cool or warm."""
        self.refit(self.site, self._weather.model_copy(update={"temperature_c": air_c}))

    def set_edge(self, leaf: int, edge: Edge | None) -> None:
        """Fit a soft edge to a leaf, or take it off."""
        constants.edge(self._block(leaf), edge)

    def change(self, leaf: int, slot: int, value: float) -> Callable[[], None]:
        """Change one constant of a leaf (a slot of `sim.kernel.layout`); returns its undo."""
        block = self._block(leaf)
        before = float(block[slot])
        block[slot] = value

        def undo() -> None:
            block[slot] = before

        return undo

    def refine(self, times: int) -> None:
        """Divide every step into `times` as many parts: to see that the usual ones are fine enough."""
        self._constants[at.FREE_PARTS] *= times
        self._constants[at.CONTACT_PARTS] *= times

    # -- things in the way -----------------------------------------------------------------------------

    def place_obstacle(self, leaf: int, slot: int, thing: Obstacle) -> None:
        """Put something in a leaf's way, in place of what stood in that slot.

        If the leaf already reaches into it, it is moved until it just touches. A gauge starts a new curve.
        """
        place = self._obstacle(leaf, slot)
        if thing.is_gauge and self._state[at.GAUGE_ON] and not self._state[place + at.GAUGE]:
            raise ValueError("a force gauge stands already; there is one")
        self.remove_obstacle(leaf, slot)
        angle = max(thing.angle, self.angle(leaf)) if thing.opening else min(thing.angle, self.angle(leaf))
        model, stiffness = self.site.leaves.pair[leaf], thing.stiffness_n_m
        near = thing.radius_m >= model.width_m - obstacle.EDGE_DEPTH
        at_edge = (near and not thing.opening) if thing.at_edge is None else thing.at_edge
        at_edge = at_edge and self._edge_reaches(leaf, thing.height_m)
        gives = hanging.edge_stiffness(model, self.site.drives.pair[leaf].height_m, thing.height_m)
        if near and gives is not None:
            stiffness = series_stiffness(stiffness, gives)
        block = self._state[place : place + at.OBSTACLE_SIZE]
        block[at.TAKEN] = 1.0
        block[at.AT_ANGLE] = angle
        block[at.AT_RADIUS] = thing.radius_m
        block[at.OPENS_INTO] = float(thing.opening)
        block[at.STIFFNESS] = stiffness
        block[at.DAMPING] = thing.damping_n_s_m
        block[at.GAUGE] = float(thing.is_gauge)
        block[at.AT_EDGE] = float(at_edge)
        self._names[leaf][slot] = thing.name
        self._put(leaf, at.OBSTACLES, self._get(leaf, at.OBSTACLES) + 1.0)
        if thing.is_gauge:
            self._state[at.GAUGE_RAW : at.GAUGE_ON] = 0.0
            self._state[at.GAUGE_START] = -1.0
            self._state[at.GAUGE_ON] = 1.0

    def _edge_reaches(self, leaf: int, height_m: float) -> bool:
        """Whether the soft edge is there at a height; an edge that came later covers all of it."""
        device = self.site.guards.device(f"{LEAVES[leaf]} edge")
        return not isinstance(device, Edge) or device.bottom_m <= height_m <= device.top_m

    def remove_obstacle(self, leaf: int, slot: int) -> None:
        """Take away what stands in a slot; nothing happens if nothing does. A gauge keeps its curve."""
        place = self._obstacle(leaf, slot)
        block = self._state[place : place + at.OBSTACLE_SIZE]
        if not block[at.TAKEN]:
            return
        if block[at.GAUGE]:
            self._state[at.GAUGE_ON] = 0.0
            self._state[at.GAUGE_RAW] = 0.0
        block[:] = 0.0
        self._names[leaf][slot] = ""
        self._put(leaf, at.OBSTACLES, self._get(leaf, at.OBSTACLES) - 1.0)
        if not self._get(leaf, at.OBSTACLES):
            self._put(leaf, at.CONTACT, 0.0)
            self._put(leaf, at.EDGE_FORCE, 0.0)

    # -- remembering -----------------------------------------------------------------------------------

    def record(self, on: bool = True) -> None:
        """Sample at 100 Hz from the next scan instant on, or stop. Changes nothing else."""
        self._whole[at.RECORDING] = int(on)

    def rows_from(self, first: int) -> Column:
        """Rows of samples from the one numbered `first`, counted from 0: time [µs], both angles [rad], both currents
        [A], supply [V], both contact forces [N]. The last row may still be moved on in time; all others stand."""
        return self._recorder.rows_from(first, int(self._whole[at.ROWS]))

    def row_at(self, when: int) -> int:
        """Number of a row no later than an instant [µs], and near it: where to begin reading."""
        return self._recorder.number_at(when)

    def recording(self) -> Recording:
        """Everything sampled so far."""
        return self._recorder.gathered(int(self._whole[at.ROWS]))

    def physical(self) -> bytes:
        """Everything that decides what happens next but for who is watching: for digests."""
        return keyframes.packed(self._told(), self._arrays())

    def keyframe(self) -> bytes:
        """Everything, exactly; recordings apart."""
        marks, fits = self._fits.kept(self._state)
        told = self._told() | {"pending": self._pending, "watches": self._wanted[2], "fits": marks}
        told["marks"] = list(self._marks)
        told["site"] = None if self.site is self._built else dump_site(self.site)
        told["weather"] = self._weather.model_dump(mode="json")
        kept = {"watch rows": self._wanted[0], "tables": self._wanted[1], "fits": fits}
        return keyframes.packed(told, self._arrays() | kept)

    def restore(self, frame: bytes) -> None:
        """Stand exactly as when the keyframe was taken; what was recorded later is forgotten.

        Raises DataError if it isn't a keyframe of this version.
        """
        told, arrays = keyframes.unpacked(frame, self._arrays() | {"watch rows": None, "tables": None, "fits": None})
        self.now = Us(told["now"])
        self.site = self._built if told["site"] is None else restore_site(told["site"], "the keyframe's site")
        self._mountings, self._weather = _mountings(self.site), Weather.model_validate(told["weather"])
        self._names = told["names"]
        self._pending = told["pending"]
        self._wanted = arrays["watch rows"], arrays["tables"], told["watches"]
        self._state, self._network = arrays["state"], arrays["network"]
        self._constants[:] = arrays["constants"]
        self._fits.restore(told["fits"], arrays["fits"], self._state)
        self._curve[: arrays["curve"].size] = arrays["curve"]
        self._whole[at.TIME] = told["time"]
        self.set_marks([Mark(*mark) for mark in told["marks"]])
        self._whole[at.ROWS] = self._recorder.cut(int(self._whole[at.ROWS]), self.now)

    def _told(self) -> dict[str, Any]:
        return {"now": int(self.now), "time": int(self._whole[at.TIME]), "names": self._names}

    def _arrays(self) -> dict[str, Any]:
        used = 2 * int(self._state[at.GAUGE_SAMPLES])
        return {
            "state": self._state,
            "constants": self._constants,
            "network": self._network,
            "curve": self._curve[:used],
        }


def _mountings(site: Site) -> tuple[Mounting, ...]:
    return tuple(Mounting.of(drive, site.opens_towards == "inside") for drive in site.drives.pair)
