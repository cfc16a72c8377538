"""The catalogue of the sheet: every setting describes itself.

A setting's help says what goes wrong when it is wrong. The panel, the window, the documentation and the tests are
made from these entries. Values are words for choices and numbers for amounts, in the unit the entry names.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from sim.controller import installed
from sim.controller.setting import BEAM_PAIR, CONTACT_EDGE, NOT_FITTED, NOT_STATED, Setting, Value, amount, choice

__all__ = ["BEAM_PAIR", "CATALOGUE", "CONTACT_EDGE", "NOT_FITTED", "NOT_STATED", "Setting", "Value", "defaults"]

_GUARDS = "guards"
_ORDER = "leaf order"
_MOTION = "motion"
_FORCE = "force"
_ITSELF = "closing by itself"
_SIGNALS = "signals and lock"
_POWER = "power"

_BEAM = "reopen|hold|back off|halt|not fitted"
_EDGE = "reopen|back off|not fitted"


def _beam_input(name: str) -> Setting:
    return choice(
        name,
        _GUARDS,
        BEAM_PAIR,
        f"{BEAM_PAIR}|{CONTACT_EDGE}",
        "What is wired to that input; a contact edge taken for a beam fails every guard test, and a beam "
        "taken for an edge is never tested.",
    )


def _edge_input(name: str) -> Setting:
    return choice(
        name,
        _GUARDS,
        "resistor edge",
        f"resistor edge|{CONTACT_EDGE}",
        "What is wired to that input; taken for the other, an edge that is well reads pressed, and keeps the "
        "gate still.",
    )


_ENTRIES: Final[tuple[Setting, ...]] = (
    *installed.ENTRIES,
    choice(
        "opens first",
        _ORDER,
        NOT_STATED,
        "not stated|active|inactive",
        "Which leaf is free to move while the other is shut; wrong, the leaves clash at the cover strip.",
        "travel",
    ),
    amount(
        "leaf delay, opening",
        _ORDER,
        0.0,
        "s",
        (0.0, 15.0, 0.5),
        "How long the second leaf waits when opening; too short, it pushes against the strip of the first.",
    ),
    amount(
        "leaf delay, closing",
        _ORDER,
        0.0,
        "s",
        (0.0, 15.0, 0.5),
        "How long the leaf that closes last waits; too short, it must stop before the lap until the other is home.",
    ),
    amount(
        "slow zone before stop",
        _MOTION,
        10.0,
        "% of travel",
        (5.0, 40.0, 1.0),
        "Share of the travel before either stop that is run slowly; too short, the leaf is still fast where it "
        "crushes.",
        "load",
    ),
    amount(
        "slow speed",
        _MOTION,
        45.0,
        "%",
        (20.0, 60.0, 5.0),
        "Speed in the slow zones; too high, a leaf hits too hard where it crushes; too low, it may stand still.",
        "load",
    ),
    amount(
        "run speed",
        _MOTION,
        100.0,
        "%",
        (40.0, 100.0, 5.0),
        "Speed between the slow zones; too high, a heavy leaf can't be stopped in time.",
        "load",
    ),
    amount(
        "soft start",
        _MOTION,
        1.0,
        "s",
        (0.3, 3.0, 0.1),
        "Time to reach run speed; too short, the leaf jerks; too long, an obstacle at the start is noticed late.",
        "load",
    ),
    amount(
        "seating push",
        _MOTION,
        0.3,
        "s",
        (0.0, 2.0, 0.1),
        "How much longer the drive presses the leaf home at the closed stop; too long, it winds up hinge and drive.",
    ),
    amount(
        "run-time limit",
        _MOTION,
        60.0,
        "s",
        (20.0, 180.0, 5.0),
        "The longest a movement may take; too short, the gate stops part way; too long, a slipping drive runs hot.",
    ),
    amount(
        "motor duty",
        _MOTION,
        100.0,
        "%",
        (15.0, 100.0, 5.0),
        "Share of any ten minutes that the motors may run, from their plate; too high, a busy gate cooks them.",
    ),
    amount(
        "motor effort, opening",
        _FORCE,
        60.0,
        "%",
        (20.0, 100.0, 5.0),
        "Most the motor may push when opening, in % of its rating; too high, whatever it meets is crushed.",
    ),
    amount(
        "motor effort, closing",
        _FORCE,
        60.0,
        "%",
        (20.0, 100.0, 5.0),
        "Most the motor may push when closing, in % of its rating; too high, a gauge at the edge shows who is hurt.",
    ),
    amount(
        "obstacle margin",
        _FORCE,
        25.0,
        "%",
        (10.0, 80.0, 5.0),
        "Effort above the learned load that counts as an obstacle; too small, wind stops the gate; too large, "
        "people do.",
    ),
    amount(
        "obstacle retries",
        _FORCE,
        2.0,
        "",
        (0.0, 5.0, 1.0),
        "How often the gate may close by itself again after it met something; too often, it keeps hitting it.",
    ),
    amount(
        "back-off distance",
        _FORCE,
        8.0,
        "% of travel",
        (4.0, 20.0, 1.0),
        "How far a back-off reverses; too short, what was caught stays caught.",
    ),
    choice(
        "outer beam",
        _GUARDS,
        "reopen",
        _BEAM,
        "What the beam in front of the gate does; declared away though it is there, it protects nobody.",
    ),
    choice(
        "inner beam",
        _GUARDS,
        "hold",
        _BEAM,
        "What the beam behind the gate does; declared though it is not there, the gate stands still.",
    ),
    choice(
        "active edge",
        _GUARDS,
        "back off",
        _EDGE,
        "What the safety edge of the active leaf does; declared away, contact is only noticed by motor effort.",
    ),
    choice(
        "inactive edge",
        _GUARDS,
        "back off",
        _EDGE,
        "What the safety edge of the inactive leaf does; declared away, contact is only noticed by motor effort.",
    ),
    _beam_input("outer beam input"),
    _beam_input("inner beam input"),
    _edge_input("active edge input"),
    _edge_input("inactive edge input"),
    choice(
        "stop circuit",
        _GUARDS,
        "halt",
        "halt|not fitted",
        "The stop circuit halts everything; a gate without one can't be stopped by the person who sees the danger.",
    ),
    choice(
        "guard test",
        _GUARDS,
        "on",
        "on|off",
        "Drops the beams' emitter supply before a start and sees each beam react; off, a dead beam goes unnoticed.",
    ),
    choice(
        "hold-to-run after a failed test",
        _GUARDS,
        "not allowed",
        "not allowed|allowed",
        "Whether the survey allows wired hold-to-run in sight while a guard fails its test; allowed where the gate "
        "can't be seen from the control, it moves blindly without its guards.",
    ),
    choice(
        "stop circuit by the survey",
        _GUARDS,
        "needed",
        "needed|not needed",
        "Whether the survey asks for a stop circuit; not needed where people are near, nobody can stop the gate.",
    ),
    choice(
        "open and close buttons",
        "controls",
        "a press is enough",
        "a press is enough|hold-to-run",
        "Whether open and close button must be held; hold-to-run where the gate can't be seen moves it blindly.",
    ),
    choice(
        "key switch",
        "controls",
        "open",
        "open|hold-to-run open",
        "What the key switch does; hold-to-run where the gate can't be seen from it moves the gate blindly.",
    ),
    choice(
        "auto-close",
        _ITSELF,
        "off",
        "off|on",
        "Lets the gate close by itself; on without working beams, it closes on whoever stands there.",
    ),
    amount(
        "auto-close after",
        _ITSELF,
        30.0,
        "s",
        (5.0, 300.0, 5.0),
        "How long the open gate waits; too short, it closes on slow walkers; too long, it stands open.",
    ),
    amount(
        "auto-close after a passage",
        _ITSELF,
        0.0,
        "s",
        (0.0, 60.0, 1.0),
        "Shorter wait once a beam was passed, 0 for none; too short, it closes on the second of two.",
    ),
    amount(
        "warning before moving",
        _SIGNALS,
        2.0,
        "s",
        (0.0, 10.0, 0.5),
        "How long the lamp warns before a start; too short, nobody steps back in time.",
    ),
    choice(
        "electric lock",
        _SIGNALS,
        NOT_FITTED,
        "not fitted|fitted",
        "Whether a lock must be freed before opening; declared away though it is there, the drive pulls against it.",
    ),
    amount(
        "lock pulse",
        _SIGNALS,
        1.5,
        "s",
        (0.5, 4.0, 0.1),
        "How long the lock is driven, and again when the leaf begins to open; too short, the bolt holds it.",
    ),
    amount(
        "relief push",
        _SIGNALS,
        0.3,
        "s",
        (0.0, 1.0, 0.1),
        "Short closing push that frees the lock before opening; too long, it winds up the drive.",
    ),
    choice(
        "yard light",
        _SIGNALS,
        "off",
        "off|on",
        "Switches the yard light while the gate moves and after; off at night, nobody sees the leaf come.",
    ),
    amount(
        "yard light after",
        _SIGNALS,
        60.0,
        "s",
        (0.0, 600.0, 10.0),
        "How long the yard light stays on after a movement; too short, people walk in the dark.",
    ),
    choice(
        "on battery",
        _POWER,
        "as usual",
        "as usual|only by command|opens once and stays open|closes once",
        "What the gate does when its battery must feed it; wrong, it locks somebody out, or stands open all night.",
    ),
    choice(
        "battery low",
        _POWER,
        "opens only",
        "as usual|opens only|opens once and stays open|stays as it is",
        "What the gate does when its battery is low; as usual, it may stop shut, with somebody inside.",
    ),
    amount(
        "battery low below",
        _POWER,
        23.0,
        "V",
        (21.0, 24.5, 0.1),
        "Supply under load at which the battery counts as low; too low, the gate stops part way; too high, too soon.",
    ),
)

CATALOGUE: Final[Mapping[str, Setting]] = MappingProxyType({entry.name: entry for entry in _ENTRIES})
"""Every setting there is, in the order of the sheet."""


def defaults() -> dict[str, Value]:
    """A sheet as it leaves the works: nothing stated, every guard declared as fitted."""
    return {entry.name: entry.default for entry in _ENTRIES}
