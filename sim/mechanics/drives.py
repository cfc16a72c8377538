"""What is done to both drives by hand, or found of them: release, key, warmth, and what the board's counters hear."""

from __future__ import annotations

from collections.abc import Callable

from sim.kernel import layout as at
from sim.mechanics import refitting
from sim.mechanics.standing import Standing


class Drives(Standing):
    """Hands on the drives; `Plant` is what moves them."""

    _fits: refitting.Fits

    def release(self, leaf: int) -> None:
        """Unlock the manual release: the leaf swings free of its drive."""
        self._put(leaf, at.ENGAGED, 0.0)
        self._put(leaf, at.FORCE_OUT, 0.0)

    def engage(self, leaf: int) -> None:
        """Lock the manual release: the drive holds the leaf where it stands."""
        self._couple(leaf)
        self._put(leaf, at.ENGAGED, 1.0)

    def shear(self, leaf: int) -> None:
        """The gear's key shears: the motor turns for nothing, whatever the release says."""
        self._put(leaf, at.KEYED, 0.0)
        self._put(leaf, at.FORCE_OUT, 0.0)

    def mend(self, leaf: int) -> None:
        """A new key: the drive holds the leaf where it stands."""
        self._couple(leaf)
        self._put(leaf, at.KEYED, 1.0)

    def _couple(self, leaf: int) -> None:
        ran = float(self._block(leaf)[at.RATIO]) * self._get(leaf, at.TURNED)
        self._put(leaf, at.OFFSET, ran - refitting.there(self._state, self._constants, leaf))

    def sense(self, leaf: int, share: float, wander: float) -> None:
        """What reaches the board's counter of a leaf's turning: all of it (1), nothing (0), the other way (−1), and
        by what share noise makes it wander. What the encoder itself misses is the site's."""
        block, sensing = self._block(leaf), self.site.drives.pair[leaf].sensing
        gain = share * (1.0 - sensing.encoder_slip)
        block[at.COUNT_GAIN] = gain
        block[at.COUNT_NOISE] = (sensing.encoder_wander + wander) * abs(gain)

    def miscount(self, leaf: int, pulses: int) -> None:
        """Pulses that no rotor made reach the board's counter."""
        per_radian = float(self._block(leaf)[at.PULSES])
        if pulses and per_radian:
            self._put(leaf, at.COUNTED, self._get(leaf, at.COUNTED) + pulses / per_radian)
            self._put(leaf, at.COUNT, self._get(leaf, at.COUNT) + float(pulses))
            self._put(leaf, at.COUNT_TIME, float(self.now))

    def found_released(self, leaf: int) -> Callable[[], None]:
        """Find a release open; its undo locks it again, to the bit while nothing moved."""
        stands = self.angle(leaf), self._get(leaf, at.TURNED)
        self._found(leaf, {at.ENGAGED: 0.0})

        def lock() -> None:
            if (self.angle(leaf), self._get(leaf, at.TURNED)) == stands:
                self._found(leaf, {at.ENGAGED: 1.0})
            else:
                self.engage(leaf)

        return lock

    def found_warm(self, leaf: int, winding_c: float, case_c: float) -> Callable[[], None]:
        """Find a motor this warm [°C]; its undo has it as warm as it was."""
        slots = (at.WINDING_C, at.CASE_C, at.OHM, at.CUT_OUT)
        before = {slot: self._get(leaf, slot) for slot in slots}
        self._found(leaf, {at.WINDING_C: winding_c, at.CASE_C: case_c, at.OHM: self._ohm_at(leaf, winding_c)})
        return lambda: self._found(leaf, before)

    def _found(self, leaf: int, slots: dict[int, float]) -> None:
        """A leaf's state is found another; as it was at this instant, if it was so then."""
        self._fits.before(self._constants, self._state)
        for slot, value in slots.items():
            self._put(leaf, slot, value)
        self._state[:] = self._fits.after(self._constants, self._state)

    def warm_motor(self, leaf: int, winding_c: float, case_c: float) -> None:
        """Find a motor this warm [°C]: what ran before a job began."""
        self._put(leaf, at.WINDING_C, winding_c)
        self._put(leaf, at.CASE_C, case_c)
        self._put(leaf, at.OHM, self._ohm_at(leaf, winding_c))

    def _ohm_at(self, leaf: int, winding_c: float) -> float:
        block = self._block(leaf)
        return float(block[at.RESISTANCE] * (1.0 + block[at.OHM_PER_KELVIN] * (winding_c - 20.0)))
