"""Sentences in which a command, or how an input reads, stands: a whole one for each.

English says `open` of a gate, of a contact and of a button alike; another language has a word for each.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from sim.said import Said, said

GIVEN: Final[Mapping[str, str]] = {
    "open": "open given by {by}",
    "close": "close given by {by}",
    "step": "step given by {by}",
    "halt": "halt given by {by}",
    "pedestrian": "pedestrian given by {by}",
    "emergency opening": "emergency opening given by {by}",
    "hold-to-run opening": "hold-to-run opening given by {by}",
    "hold-to-run closing": "hold-to-run closing given by {by}",
    "learn": "learn given by {by}",
}
"""That a command was given."""

GIVEN_INSTEAD: Final[Mapping[str, str]] = {
    "open": "open given by {by} instead",
    "close": "close given by {by} instead",
    "pedestrian": "pedestrian given by {by} instead",
    "emergency opening": "emergency opening given by {by} instead",
    "hold-to-run opening": "hold-to-run opening given by {by} instead",
    "hold-to-run closing": "hold-to-run closing given by {by} instead",
}
"""That a start was given up for another command."""

REFUSED: Final[Mapping[str, str]] = {
    "open": "open refused: {why}",
    "close": "close refused: {why}",
    "pedestrian": "pedestrian refused: {why}",
    "emergency opening": "emergency opening refused: {why}",
    "hold-to-run opening": "hold-to-run opening refused: {why}",
    "hold-to-run closing": "hold-to-run closing refused: {why}",
    "learn": "learn refused: {why}",
    "jog": "jog refused: {why}",
    "enrol": "enrol refused: {why}",
    "delete transmitter": "delete transmitter refused: {why}",
    "delete all transmitters": "delete all transmitters refused: {why}",
    "reset to defaults": "reset to defaults refused: {why}",
    "seal": "seal refused: {why}",
    "unseal": "unseal refused: {why}",
    "set clock": "set clock refused: {why}",
}
"""That something asked for is not done; a setting stands for itself."""

DONE: Final[Mapping[str, str]] = {
    "jog": "done: jog",
    "learn": "done: learn",
    "enrol": "done: enrol",
    "delete transmitter": "done: delete transmitter",
    "delete all transmitters": "done: delete all transmitters",
    "reset to defaults": "done: reset to defaults",
    "seal": "done: seal",
    "unseal": "done: unseal",
    "acknowledge": "done: acknowledge",
    "set clock": "done: set clock",
}
"""That a request was carried out; a setting stands for itself."""

READS: Final[Mapping[str, str]] = {
    "open": "{guard} reads open",
    "closed": "{guard} reads closed",
    "clear": "{guard} reads clear",
    "pressed": "{guard} reads pressed",
    "line open": "{guard} reads line open",
    "outside 7.4 to 9.0 kΩ": "{guard} reads outside 7.4 to 9.0 kΩ",
}
"""How a guard input reads."""

ENROLLED: Final[Mapping[str, str]] = {
    "open": "enrolled for {holder}: open",
    "close": "enrolled for {holder}: close",
    "step": "enrolled for {holder}: step",
    "halt": "enrolled for {holder}: halt",
    "pedestrian": "enrolled for {holder}: pedestrian",
}
"""What a button does from now on."""

GENERAL: Final[Mapping[str, str]] = {
    "given": "{what} given by {by}",
    "given instead": "{what} given by {by} instead",
    "refused": "{what} refused: {why}",
    "done": "done: {what}",
    "reads": "{guard} reads {reading}",
}
"""For what has no sentence of its own: a setting, a name that another controller gave."""

ALL: Final = (GIVEN, GIVEN_INSTEAD, REFUSED, DONE, READS, ENROLLED, GENERAL)


def given(what: str, by: str) -> Said:
    """A command and who gave it."""
    return said(GIVEN.get(what, GENERAL["given"]), what=what, by=by)


def given_instead(what: str, by: str) -> Said:
    """A command for which a start was given up."""
    return said(GIVEN_INSTEAD.get(what, GENERAL["given instead"]), what=what, by=by)


def refused(what: str, why: str) -> Said:
    """Something asked for that is not done."""
    return said(REFUSED.get(what, GENERAL["refused"]), what=what, why=why)


def done(what: str) -> Said:
    """A request that was carried out."""
    return said(DONE.get(what, GENERAL["done"]), what=what)


def reads(guard: str, reading: str) -> Said:
    """A guard and how its input reads."""
    return said(READS.get(reading, GENERAL["reads"]), guard=guard, reading=reading)


def enrolled(holder: str, function: str) -> Said:
    """Who carries a button, and what it does."""
    return said(ENROLLED[function], holder=holder)


LEAF: Final = (said("active leaf"), said("inactive leaf"))
"""The leaves by their number."""
