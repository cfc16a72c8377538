"""How a gate goes back after it met something, judged from a recorded movement.

A movement is piecewise linear between its samples: time [s], and how far the closing edge stands along its way [mm],
growing the way it was going when it met the thing. It begins to go back at the last instant, before it had gone back
far enough, at which it still stood or pressed on. What only springs back a little has not begun to go back, and what
springs back and is pushed on again neither.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from sim.instruments.force_gauge import Floats
from sim.instruments.rule_sets import REVERSAL, ReversalRules
from sim.said import joined, said

Outcome = Literal["met", "not met"]


@dataclass(frozen=True, slots=True)
class Reversal:
    """What a movement after a contact amounts to."""

    contact_s: float
    """When the thing was met, on the record's own clock [s]."""
    starts_after_s: float | None
    """From the contact until the edge begins to go back [s]; None if it never goes back far enough."""
    back_mm: float
    """How far the edge goes back from its furthest place, at most [mm]."""


@dataclass(frozen=True, slots=True)
class ReversalVerdict:
    """Whether the rules for reversal are met, each rule in a line of its own."""

    outcome: Outcome
    lines: tuple[tuple[str, Outcome], ...]
    rules: ReversalRules

    def __str__(self) -> str:
        wrong = [text for text, outcome in self.lines if outcome == "not met"]
        why = joined(wrong or [text for text, _ in self.lines], "; ")
        return said("{outcome} ({rules}): {why}", outcome=self.outcome, rules=self.rules.name, why=why)


def reversal(
    time_s: Sequence[float] | Floats,
    onward_mm: Sequence[float] | Floats,
    contact_s: float,
    *,
    enough_mm: float = REVERSAL.travel.value,
) -> Reversal:
    """The figures of a recorded movement that met something at `contact_s` [s]. Times rise.

    Raises ValueError if the record is none, or does not reach the contact.
    """
    time, onward = np.asarray(time_s, dtype=np.float64), np.asarray(onward_mm, dtype=np.float64)
    if time.ndim != 1 or time.shape != onward.shape or len(time) < 2:
        raise ValueError(
            f"read {time.shape} times and {onward.shape} places; allowed: two or more of each, equally many"
        )
    if not (np.isfinite(time).all() and np.isfinite(onward).all()) or (np.diff(time) <= 0.0).any():
        raise ValueError("a recorded movement is finite and its times rise")
    if not time[0] <= contact_s < time[-1]:
        raise ValueError(f"the contact is at {contact_s:g} s, the record from {time[0]:g} s to {time[-1]:g} s")
    later = time > contact_s
    at = np.concatenate([[contact_s], time[later]])
    place = np.concatenate([[np.interp(contact_s, time, onward)], onward[later]])
    back = np.maximum.accumulate(place) - place
    if back.max() < enough_mm:
        return Reversal(contact_s, None, float(back.max()))
    gone = int(np.argmax(back >= enough_mm))
    stood = np.flatnonzero(np.diff(place[: gone + 1]) >= 0.0)
    begins = int(stood[-1]) + 1 if len(stood) else 0
    return Reversal(contact_s, float(at[begins] - contact_s), float(back.max()))


def judge_reversal(found: Reversal, rules: ReversalRules = REVERSAL) -> ReversalVerdict:
    """A reversal against the rules."""
    far = said("goes back {back_mm:.0f} mm, at least {least}", back_mm=found.back_mm, least=str(rules.travel))
    lines: tuple[tuple[str, Outcome], ...]
    if found.starts_after_s is None:
        lines = ((far, "not met"),)
    else:
        lines = (
            (
                said(
                    "begins to go back after {seconds:.2f} s, at most {most}",
                    seconds=found.starts_after_s,
                    most=str(rules.start),
                ),
                _word(found.starts_after_s <= rules.start.value),
            ),
            (far, _word(found.back_mm >= rules.travel.value)),
        )
    return ReversalVerdict(_word(all(outcome == "met" for _, outcome in lines)), lines, rules)


def _word(true: bool) -> Outcome:
    return "met" if true else "not met"
