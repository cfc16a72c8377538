"""A controller's record played back: it puts out what was put out at each instant, and reads nothing.

So a gate is shown that somebody else's controller ran, and none of that code is run: what it put out is data.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from sim.controller.ports import Drive, Inputs, Outputs, Panel, Scan
from sim.said import said
from sim.units import Us

OFF: Final = Outputs(emitter_supply=False)
"""What is put out before the first change and after the end: nothing."""

LONGEST_STATE: Final = 80
"""Characters kept of a state's name."""

LONGEST_MESSAGE: Final = 200
"""Characters kept of a message."""

NO_EFFECT: Final = "commands have no effect on what it puts out"

OVER: Final = said("the record is over")
"""State that the panel shows once it is."""


@dataclass(frozen=True, slots=True)
class PutOut:
    """What was put out from an instant on, and what the panel said."""

    at: int
    """On the gate's clock, which begins before the gate stands ready [µs]."""
    outputs: Outputs = OFF
    state: str = ""
    message: str = ""


@dataclass(frozen=True, slots=True)
class Recorded:
    """All of it, changes only."""

    changes: tuple[PutOut, ...]
    """In the order of time."""
    ends_at: int
    """From this instant on nothing is known [µs]."""


def recorded(scans: Iterable[PutOut], ends_at: int) -> Recorded:
    """What of every scan is a change, up to an instant [µs], made of nothing but plain numbers and text."""
    kept = [PutOut(-1)]
    for scan in scans:
        if scan.at >= ends_at:
            break
        plain = PutOut(scan.at, _plain(scan.outputs), *_words(scan))
        before = kept[-1]
        if (plain.outputs, plain.state, plain.message) != (before.outputs, before.state, before.message):
            kept.append(plain)
    return Recorded(tuple(kept[1:]), ends_at)


def _words(scan: PutOut) -> tuple[str, str]:
    state, message = (str(said).encode("utf-8", "replace").decode() for said in (scan.state, scan.message))
    return state[:LONGEST_STATE], message[:LONGEST_MESSAGE]


def _plain(outputs: Outputs) -> Outputs:
    """The same without a type that only its author's file knows."""
    one, other = (Drive(float(d.duty), float(d.slew_per_s), float(d.limit_a), bool(d.brake)) for d in outputs.drives)
    switched = outputs.lamp, outputs.emitter_supply, outputs.yard_light, outputs.lock
    return Outputs(one, other, *map(bool, switched))


class PlayedBack:
    """A `Controller` that only repeats a record, then puts everything off and says that the record is over."""

    def __init__(self, name: str, record: Recorded) -> None:
        """`name` is that of the controller that was recorded, for people."""
        self._name = name
        self._record = record
        self._now = Us(0)

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """What was put out at this instant; asked every 10 ms until the end, whatever the inputs are."""
        self._now = now
        if now >= self._record.ends_at:
            return Scan(OFF, watches=())
        return Scan(self._last().outputs)

    def power_up(self, now: Us) -> None:
        """What was put out after that stands in the record."""
        self._now = now

    def panel(self) -> Panel:
        """What the recorded panel said, and that it is a record."""
        if self._now >= self._record.ends_at:
            over = said(
                "Everything is off: the played-back record of {name} ends here, and commands have no effect on what "
                "it puts out. Go back in time to see it again.",
                name=self._name,
            )
            return Panel(OVER, over)
        last = self._last()
        told = said(
            "A played-back record of {name}: commands have no effect on what it puts out. It said: {message}"
            if last.message
            else "A played-back record of {name}: commands have no effect on what it puts out.",
            name=self._name,
            message=last.message,
        )
        return Panel(last.state or said("played back"), told)

    def _last(self) -> PutOut:
        place = bisect_right(self._record.changes, int(self._now), key=lambda each: each.at) - 1
        return self._record.changes[place] if place >= 0 else PutOut(0)
