"""What settings say of one another: pairs that can't stand together, and pairs that may but look wrong. All data.

A rule names the settings it judges and is given their values and nothing else, so what a setting is judged with is
read off the rules and never written twice. A contradiction is refused with its reason; what only looks wrong is
written, with a warning.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

from sim.controller.installed import LIMIT_SWITCHES, MAINS, MOTOR_LEAD, RUNNING_TIME
from sim.controller.ports import SheetWarning
from sim.controller.settings import BEAM_PAIR, CONTACT_EDGE, NOT_FITTED, Value


@dataclass(frozen=True, slots=True)
class Rule:
    """One thing that settings may say against each other."""

    settings: tuple[str, ...]
    broken: Callable[..., bool]
    """Given the values of `settings`, in that order."""
    reason: str

    def breaks(self, sheet: Mapping[str, Value]) -> bool:
        """Whether this sheet breaks the rule."""
        values: list[Any] = [sheet[name] for name in self.settings]
        return self.broken(*values)


LEAST_LEFT_S: Final = 10.0
"""What the second leaf must have left of the run-time limit after its delay [s]. CP, no source."""


def _leaves_too_little(delay: float, limit: float) -> bool:
    return delay + LEAST_LEFT_S > limit


_TOO_LATE = "the second leaf would have less than 10 s to arrive before the run-time limit"

_NEEDS_BEAM = "a gate that closes by itself needs a beam that notices people without touching them"

_BEAMS: Final = ("outer beam", "outer beam input", "inner beam", "inner beam input")


def _has_beam(outer: str, at_outer: str, inner: str, at_inner: str) -> bool:
    pairs = ((outer, at_outer), (inner, at_inner))
    return any(does != NOT_FITTED and wired == BEAM_PAIR for does, wired in pairs)


EDGE_NEVER: Final = (
    "an edge must take the load off what it touched; holding or halting would keep the leaf pressed on it"
)


def _leaves_pressed(wired: str, does: str) -> bool:
    return wired == CONTACT_EDGE and does in ("hold", "halt")


CONTRADICTIONS: Final[tuple[Rule, ...]] = (
    Rule(
        ("stop circuit", "stop circuit by the survey"),
        lambda stop, survey: bool(stop == NOT_FITTED and survey == "needed"),
        "a gate that moves by itself needs a stop circuit that everybody near it can reach, unless 'stop circuit by "
        "the survey' says that none is needed",
    ),
    Rule(
        ("slow speed", "run speed"),
        lambda slow, run: bool(slow > run),
        "the slow speed would be above the run speed",
    ),
    Rule(("leaf delay, opening", "run-time limit"), _leaves_too_little, _TOO_LATE),
    Rule(("leaf delay, closing", "run-time limit"), _leaves_too_little, _TOO_LATE),
    Rule(
        ("leaves fitted", "opens first"),
        lambda leaves, first: bool(leaves == "1" and first == "inactive"),
        "a gate with one leaf has no inactive leaf that could open first",
    ),
    Rule(
        ("auto-close", *_BEAMS),
        lambda auto, *beams: auto == "on" and not _has_beam(*beams),
        _NEEDS_BEAM,
    ),
    Rule(
        ("on battery", *_BEAMS),
        lambda policy, *beams: policy == "closes once" and not _has_beam(*beams),
        _NEEDS_BEAM,
    ),
    Rule(("outer beam input", "outer beam"), _leaves_pressed, EDGE_NEVER),
    Rule(("inner beam input", "inner beam"), _leaves_pressed, EDGE_NEVER),
    Rule(
        ("motor kind", "auto-close", "active edge", "inactive edge", "leaves fitted"),
        lambda motor, auto, active, inactive, leaves: (
            motor == MAINS and auto == "on" and NOT_FITTED in ((active,) if leaves == "1" else (active, inactive))
        ),
        "a mains motor pushes with all it has until it is switched off; a gate that closes by itself on one needs a "
        "safety edge on every leaf",
    ),
)
"""Refused. The first that a sheet breaks is the reason that is given."""

WARNINGS: Final[tuple[Rule, ...]] = (
    Rule(
        ("leaf delay, opening", "leaves fitted"),
        lambda delay, leaves: bool(delay > 10.0 and leaves != "1"),
        "a leaf that waits for more than 10 s stands shut until the other has nearly finished its run; 1 s to 5 s is "
        "usual.",
    ),
    Rule(
        ("leaf delay, closing", "leaves fitted"),
        lambda delay, leaves: bool(delay > 10.0 and leaves != "1"),
        "a leaf that waits for more than 10 s starts when the other has nearly finished its run, and the gate stands "
        "half open all the while; 2 s to 8 s is usual.",
    ),
    Rule(
        ("leaf delay, closing", "leaf delay, opening", "leaves fitted"),
        lambda closing, opening, leaves: bool(closing < opening and leaves != "1"),
        "the delay for closing is shorter than the one for opening; it is closing in which the leaves must not meet "
        "in the wrong order.",
    ),
    Rule(
        ("slow zone before stop",),
        lambda share: bool(share < 10.0),
        "on a leaf of 3 m or less the slow zone begins when the gap is below 500 mm already, where the leaf crushes; "
        "10 % to 20 % is usual.",
    ),
    Rule(
        ("slow speed", "run speed"),
        lambda slow, run: bool(slow == run),
        "the slow zone is as fast as the run, so the leaf reaches its stop unslowed.",
    ),
    Rule(
        ("slow speed",),
        lambda slow: bool(slow < 30.0),
        "so slow a drive may stand still against its own seals and the hinge, which is taken for an obstacle.",
    ),
    Rule(
        ("motor effort, opening",),
        lambda effort: bool(effort >= 95.0),
        "nothing of the motor's strength is held back when opening; measure the force at walls and posts.",
    ),
    Rule(
        ("motor effort, closing",),
        lambda effort: bool(effort >= 95.0),
        "nothing of the motor's strength is held back when closing; measure the force at the meeting edge.",
    ),
    Rule(
        ("obstacle margin",),
        lambda margin: bool(margin > 50.0),
        "half as much effort again as the leaf needs is not yet an obstacle, and a person may be one.",
    ),
    Rule(
        ("obstacle retries", "auto-close"),
        lambda retries, auto: bool(retries > 3.0 and auto == "on"),
        "the gate closes more than three times on what it met before it gives up; one to three times is usual.",
    ),
    Rule(
        ("guard test", "auto-close"),
        lambda test, auto: bool(test == "off" and auto == "on"),
        "the gate closes by itself and never asks whether its beams still see.",
    ),
    Rule(
        ("auto-close after a passage", "auto-close after"),
        lambda passage, after: bool(passage > after),
        "the wait after a passage is meant to be the shorter one; it is longer, so it does nothing.",
    ),
    Rule(
        ("auto-close after", "auto-close"),
        lambda after, auto: bool(after < 10.0 and auto == "on"),
        "a gate that waits for less than 10 s closes on whoever walks slowly; 10 s to 60 s is usual.",
    ),
    Rule(
        ("warning before moving",),
        lambda warning: bool(warning == 0.0),
        "the gate starts without a warning, and nobody has time to step back.",
    ),
    Rule(
        ("outer beam", "inner beam"),
        lambda *beams: all(beam == NOT_FITTED for beam in beams),
        "nothing notices a person without touching them.",
    ),
    Rule(
        ("active edge", "inactive edge", "leaves fitted"),
        lambda active, inactive, leaves: active == NOT_FITTED and (inactive == NOT_FITTED or leaves == "1"),
        "contact is noticed by motor effort alone; measure the closing force.",
    ),
    Rule(
        ("motor kind",),
        lambda motor: bool(motor == MAINS),
        "a mains motor has one speed and all its strength: soft start, slow zone, speeds and effort do nothing, "
        "and the leaf meets its stop, or a person, at full speed; measure the force.",
    ),
    Rule(
        ("position sensing",),
        lambda sensed: bool(sensed == RUNNING_TIME),
        "by running time what holds a leaf within the last 4 % of its travel looks like its stop, and nothing tells "
        "of a leaf that was moved by hand.",
    ),
    Rule(
        ("position sensing", "slow speed", "motor kind"),
        lambda sensed, slow, motor: bool(sensed == RUNNING_TIME and slow < 40.0 and motor != MAINS),
        "by running time a stop is known by the most current the motor may take, and so slow a motor may never take "
        "it.",
    ),
    Rule(
        ("position sensing", "limit switches", "electric lock"),
        lambda sensed, wired, lock: bool(sensed == LIMIT_SWITCHES and wired == MOTOR_LEAD and lock == "fitted"),
        "a closed limit switch in the motor lead lets no relief push through, so a bolt under load stays under load.",
    ),
    Rule(
        ("outer beam", "auto-close"),
        lambda beam, auto: bool(beam == "halt" and auto == "on"),
        "a beam that halts leaves the gate open until somebody gives a command: it closes by itself no more.",
    ),
    Rule(
        ("inner beam", "auto-close"),
        lambda beam, auto: bool(beam == "halt" and auto == "on"),
        "a beam that halts leaves the gate open until somebody gives a command: it closes by itself no more.",
    ),
    Rule(
        ("electric lock", "relief push"),
        lambda lock, push: bool(lock == "fitted" and push == 0.0),
        "nothing takes the load off the bolt, and a bolt under load does not let go.",
    ),
    Rule(
        ("electric lock", "lock pulse", "relief push"),
        lambda lock, pulse, push: bool(lock == "fitted" and pulse < push + 0.3),
        "the lock lets go again before the push that takes the load off its bolt is over.",
    ),
    Rule(
        ("electric lock", "lock pulse", "soft start"),
        lambda lock, pulse, soft: bool(lock == "fitted" and pulse < soft + 0.5),
        "the lock lets go again before a leaf that starts so softly has moved away from the bolt.",
    ),
    Rule(
        ("yard light", "yard light after"),
        lambda light, after: bool(light == "on" and after == 0.0),
        "the yard is dark the moment the gate stands, with whoever came through still in it.",
    ),
    Rule(
        ("position sensing", "auto-close"),
        lambda sensing, auto: bool(sensing == RUNNING_TIME and auto == "on"),
        "by running time the place of a leaf is only reckoned, and it is on that reckoning that the gate closes by "
        "itself.",
    ),
    Rule(
        ("motor kind", "active edge", "inactive edge", "leaves fitted"),
        lambda motor, active, inactive, leaves: (
            motor == MAINS and (active == NOT_FITTED or (inactive == NOT_FITTED and leaves != "1"))
        ),
        "a mains motor pushes with all it has, and a leaf has no edge to notice who is in its way.",
    ),
    Rule(
        ("battery low",),
        lambda policy: bool(policy == "as usual"),
        "a gate that goes on as usual on a low battery stops part way, or shut with somebody inside; 'opens only' is "
        "usual.",
    ),
)
"""Written, and shown as warnings. CP, no source; the slow zone by geometry: with 500 mm to go a leaf of 3 m stands at
9.6 degrees, a tenth of a travel of 96 degrees."""


def contradiction(sheet: Mapping[str, Value]) -> str:
    """Why this sheet as a whole can't stand, empty if it can."""
    return next((rule.reason for rule in CONTRADICTIONS if rule.breaks(sheet)), "")


def warnings(sheet: Mapping[str, Value]) -> tuple[SheetWarning, ...]:
    """Everything on this sheet that is allowed and looks wrong."""
    return tuple(SheetWarning(rule.settings, rule.reason) for rule in WARNINGS if rule.breaks(sheet))


@cache
def depends_on(name: str) -> tuple[str, ...]:
    """The settings that may forbid a value of this one, in the order of the rules."""
    others = [other for rule in CONTRADICTIONS if name in rule.settings for other in rule.settings if other != name]
    return tuple(dict.fromkeys(others))


def about(name: str) -> tuple[Rule, ...]:
    """The warnings that this setting may take part in."""
    return tuple(rule for rule in WARNINGS if name in rule.settings)
