"""What sounds, told from one look at the session and the one before. Nothing here draws, and nothing here plays.

A sound is evidence: a relay that clicks while its motor stays silent says where the wire is broken. So each is told
from what is there (the board's relays, the motor's own speed and current, what a leaf touches), never from what
ought to be.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final, Literal, get_args

from sim.units import SECOND, Us
from trainer.language import _

if TYPE_CHECKING:
    from trainer.session.view import LeafView, View

SoundName = Literal["relay click", "lamp tick", "bump", "continuity tone"]
SOUNDS: Final[tuple[SoundName, ...]] = get_args(SoundName)

JUMP_US: Final = 2 * SECOND
"""A step of the clock beyond this was not lived through: what happened in it is not heard afterwards [µs]."""

TICK_US: Final = SECOND // 2
"""The lamp's own flasher clicks on, and off again, so often [µs]; one flash a second. Ours."""

SILENT_A: Final = 0.2
"""A motor that takes less makes no sound [A]. CP, no source."""

IDLE_A: Final = 1.0
HARD_A: Final = 8.0
"""Current of an idle motor and of one at its electronic limit [A]: 0.7 to 1.2, and 6 to 8 (facts 5.3)."""

LABOURS: Final = 0.55
LABOURS_US: Final = SECOND // 2
"""A motor labours when its load is above this for so long [µs]: a start takes two to three times the running current
for less than half a second (facts 5.3)."""

WHINE: Final = 4.0
"""Tones of a motor and its first gear for each turn of the rotor. Ours."""

LOWEST_HZ: Final = 45.0
"""The growl of a motor that is fed and stands. Ours."""

APART_US: Final = SECOND // 2
"""A leaf that chatters on something bumps once in this time [µs]. Ours."""

HARDEST_N: Final = 800.0
"""A contact with this force is the loudest bump [N]. Ours."""

BEEPS: Final = "beeps"
"""How the reading of a meter that gives its tone ends."""


@dataclass(frozen=True, slots=True)
class Hum:
    """A motor that can be heard."""

    leaf: str
    hz: float
    load: float
    """0 idle to 1 at its limit."""


@dataclass(frozen=True, slots=True)
class Sound:
    """Something that sounds once."""

    name: SoundName
    loudness: float = 1.0
    """Above 0 to 1."""


@dataclass(frozen=True, slots=True)
class Heard:
    """What one look gives to hear."""

    hums: tuple[Hum, ...] = ()
    sounds: tuple[Sound, ...] = ()
    captions: tuple[str, ...] = ()
    """Only what changed, in words."""


SILENCE: Final = Heard()


class _Motor:
    """How one leaf's motor sounded last."""

    def __init__(self) -> None:
        self.state = ""
        """'', `hums` or `labours`."""
        self.hard_since: Us | None = None
        self.touching = ""
        self.bumped_at: Us | None = None


class Ear:
    """Hears one session; given every look at it in turn."""

    def __init__(self) -> None:
        self._before: View | None = None
        self._motors: dict[str, _Motor] = {}

    def listen(self, view: View) -> Heard:
        """What this look gives to hear; silence while time is held or the past is looked at."""
        if view.strip.shown_s is not None:
            self._before = None
            return SILENCE
        before, self._before = self._before, view
        if before is None or view.now < before.now:
            return self._afresh(view)
        if view.now - before.now > JUMP_US:
            # Reading a meter takes longer than that, and its tone is the end of it.
            sounds, captions = self._meter(before, view)
            return replace(self._afresh(view), sounds=sounds, captions=captions)
        sounds, captions = self._events(before, view)
        if view.paused or view.finished:
            return Heard((), sounds, captions)
        captions += tuple(words for leaf in view.leaves for words in self._motor_words(leaf, view.now))
        return Heard(self._hums(view), sounds, captions)

    def _afresh(self, view: View) -> Heard:
        """Begin here: what already is makes no sound by itself."""
        self._motors = {leaf.name: _Motor() for leaf in view.leaves}
        for leaf in view.leaves:
            self._motors[leaf.name].touching = leaf.touching
        return SILENCE if view.paused or view.finished else Heard(self._hums(view))

    # -- once

    def _events(self, before: View, view: View) -> tuple[tuple[Sound, ...], tuple[str, ...]]:
        sounds: list[Sound] = []
        captions: list[str] = []
        relays = [leaf.relay for leaf in view.leaves]
        if relays != [leaf.relay for leaf in before.leaves]:
            sounds.append(Sound("relay click"))
            captions.append(_("relay click, cabinet"))
        if view.lamp_on != before.lamp_on:
            captions.append(_("lamp ticks") if view.lamp_on else _("lamp stops ticking"))
        slow = view.pace <= 1.0  # faster, it would be a rattle
        if view.lamp_on and slow and view.now // TICK_US != before.now // TICK_US:
            sounds.append(Sound("lamp tick"))
        for leaf in view.leaves:
            self._bump(leaf, view.now, sounds, captions)
        tones, said = self._meter(before, view)
        return (*sounds, *tones), (*captions, *said)

    def _bump(self, leaf: LeafView, now: Us, sounds: list[Sound], captions: list[str]) -> None:
        motor = self._motors[leaf.name]
        met = leaf.touching if leaf.touching != motor.touching else ""
        motor.touching = leaf.touching
        chatters = motor.bumped_at is not None and now - motor.bumped_at < APART_US
        if met and not chatters:
            motor.bumped_at = now
            sounds.append(Sound("bump", max(0.2, min(leaf.contact_n / HARDEST_N, 1.0))))
            captions.append(_("bump, {leaf} leaf: {what}").format(leaf=_(leaf.name), what=_(met)))

    @staticmethod
    def _meter(before: View, view: View) -> tuple[tuple[Sound, ...], tuple[str, ...]]:
        """A meter set to continuity gives its tone, or keeps silent, when it is read."""
        read = [
            reading
            for reading in view.tools.readings
            if reading.function == "continuity" and before.tools.reading(reading.instrument) != reading
        ]
        tones = [reading for reading in read if reading.text.endswith(BEEPS)]
        words = [_("continuity tone, {instrument}") if each in tones else _("no tone, {instrument}") for each in read]
        said = (word.format(instrument=_(each.instrument)) for word, each in zip(words, read, strict=True))
        return tuple(Sound("continuity tone") for _tone in tones), tuple(said)

    # -- as long as it lasts

    def _hums(self, view: View) -> tuple[Hum, ...]:
        return tuple(
            Hum(leaf.name, max(LOWEST_HZ, abs(leaf.motor_rad_s) / math.tau * WHINE), load_of(leaf))
            for leaf in view.leaves
            if abs(leaf.motor_a) >= SILENT_A
        )

    def _motor_words(self, leaf: LeafView, now: Us) -> list[str]:
        motor = self._motors[leaf.name]
        hard = load_of(leaf) > LABOURS
        motor.hard_since = (now if motor.hard_since is None else motor.hard_since) if hard else None
        labours = motor.hard_since is not None and now - motor.hard_since >= LABOURS_US
        runs = abs(leaf.motor_a) >= SILENT_A
        state = "" if not runs else "labours" if labours else "hums"
        if state == motor.state:
            return []
        motor.state = state
        words = {
            "": _("motor silent, {leaf} leaf"),
            "hums": _("motor hum, {leaf} leaf"),
            "labours": _("motor labours, {leaf} leaf"),
        }
        return [words[state].format(leaf=_(leaf.name))]


def load_of(leaf: LeafView) -> float:
    """How hard a motor works, from its current: 0 idle to 1 at its limit."""
    return max(0.0, min((abs(leaf.motor_a) - IDLE_A) / (HARD_A - IDLE_A), 1.0))
