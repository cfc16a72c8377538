"""What a stranger's controller put out, as data in a job: each change gives what is no longer as before."""

from __future__ import annotations

from typing import Any, Final

from sim.controller.ports import Drive, Outputs
from sim.said import said
from sim.units import from_seconds
from sim.world.played_back import PutOut, Recorded
from trainer.job import models

SWITCHED: Final = ("lamp", "emitter_supply", "yard_light", "lock")
LEAVES: Final = ("active", "inactive")
DRIVE: Final = ("duty", "slew_per_s", "limit_a", "brake")
WORDS: Final = ("state", "message")


def fits(record: Recorded) -> bool:
    """Whether a job can hold it."""
    return len(record.changes) <= models.MOST_CHANGES


def as_data(name: str, digest: str, record: Recorded) -> dict[str, Any]:
    """The record of the controller `name`, whose file has this SHA-256, as it is written into a job."""
    changes = []
    before = PutOut(0)
    for each in record.changes:
        changes.append({"at_s": each.at / 1e6, **_differing(before, each)})
        before = each
    return {"controller": name[:80], "digest": digest, "ends_at_s": record.ends_at / 1e6, "changes": changes}


def _differing(before: PutOut, now: PutOut) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for leaf in LEAVES:
        drive = getattr(now.outputs, leaf)
        if drive != getattr(before.outputs, leaf):
            found[leaf] = {key: getattr(drive, key) for key in DRIVE}
    for key in SWITCHED:
        if getattr(now.outputs, key) != getattr(before.outputs, key):
            found[key] = getattr(now.outputs, key)
    found.update({key: getattr(now, key) for key in WORDS if getattr(now, key) != getattr(before, key)})
    return found


def as_recorded(read: models.Record) -> Recorded:
    """The record that a job holds."""
    changes = []
    before = PutOut(0)
    for each in read.changes:
        before = _changed(before, each)
        changes.append(before)
    return Recorded(tuple(changes), from_seconds(read.ends_at_s))


def _changed(before: PutOut, change: models.Change) -> PutOut:
    def given(key: str, otherwise: Any) -> Any:
        read = getattr(change, key)
        return otherwise if read is None else read

    one, other = (_drive(getattr(change, leaf), getattr(before.outputs, leaf)) for leaf in LEAVES)
    switched = [given(key, getattr(before.outputs, key)) for key in SWITCHED]
    words = [given(key, getattr(before, key)) for key in WORDS]
    return PutOut(from_seconds(change.at_s), Outputs(one, other, *switched), *words)


def _drive(read: models.Driven | None, before: Drive) -> Drive:
    return before if read is None else Drive(*(getattr(read, key) for key in DRIVE))


def disorder(read: models.Record) -> tuple[int, str] | None:
    """(which change, what is wrong) where the changes aren't in the order of time; None where they are."""
    latest = -1.0
    for index, each in enumerate(read.changes):
        if not latest < each.at_s < read.ends_at_s:
            return index, said(
                "read at_s {at_s:g}; allowed: more than {latest:g} and less than ends_at_s ({ends_at_s:g})"
                if index
                else "read at_s {at_s:g}; allowed: less than ends_at_s ({ends_at_s:g})",
                at_s=each.at_s,
                latest=latest,
                ends_at_s=read.ends_at_s,
            )
        latest = each.at_s
    return None
