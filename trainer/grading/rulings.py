"""An instructor's rulings on disk: a file beside the result, to which is only ever added."""

from __future__ import annotations

import math
from dataclasses import asdict
from pathlib import Path
from typing import Any, Final, get_args

from sim.errors import JournalError
from sim.said import said
from trainer.grading.finding import PARTS, Outcome
from trainer.grading.overruling import LONGEST_NAME, LONGEST_REASON, Ruling, checked_ruling
from trainer.grading.score import Features
from trainer.session.attempt import RESULT, moment, put, taken

FORMAT: Final = "gudgeon-overruled/1"
FILE: Final = "overruled.json"


def read_rulings(folder: Path) -> tuple[Ruling, ...]:
    """The rulings on the result kept in a folder, in their order; those on a result that has since given way to
    another, since somebody went on from an earlier moment, stay in the file and don't count.

    Raises JournalError if the file can't be used.
    """
    return tuple(ruling for line, ruling in _entries(folder) if line == _end_line(folder))


def add_ruling(folder: Path, features: Features, ruling: Ruling) -> tuple[Ruling, ...]:
    """Put a ruling beside the result that has these features; all that count now.

    Raises DataError if it can't be made, JournalError if the file can't be read or written.
    """
    earlier = read_rulings(folder)
    checked_ruling(features, earlier, ruling)
    entries = [*_entries(folder), (_end_line(folder), ruling)]
    told = [{"end_line": line, **asdict(each)} for line, each in entries]
    put(folder / FILE, {"format": FORMAT, "rulings": told})
    return (*earlier, ruling)


def _end_line(folder: Path) -> int:
    line = taken(folder / RESULT).get("end_line")
    return line if isinstance(line, int) else 0


def _entries(folder: Path) -> list[tuple[int, Ruling]]:
    path = folder / FILE
    if not path.is_file():
        return []
    data = taken(path)
    if data.get("format") != FORMAT or not isinstance(data.get("rulings"), list):
        raise JournalError(said("{path}: allowed: the format {format} with rulings", path=path, format=FORMAT))
    return [_entry(each, path, number) for number, each in enumerate(data["rulings"])]


def _entry(data: Any, path: Path, number: int) -> tuple[int, Ruling]:
    where = said("{path} rulings.{number}", path=path, number=number)
    texts = {"finding": LONGEST_NAME, "by": LONGEST_NAME, "reason": LONGEST_REASON, "when": LONGEST_NAME}
    good = isinstance(data, dict) and all(
        isinstance(data.get(key), str) and 0 < len(data[key]) <= most for key, most in texts.items()
    )
    if not good or data.get("outcome") not in get_args(Outcome) or data.get("part") not in (None, *PARTS):
        raise JournalError(
            said("{where}: allowed: finding, outcome, by, reason and when as texts, perhaps a part", where=where)
        )
    points, line = data.get("points"), data.get("end_line", 0)
    if not (points is None or (_is_number(points) and 0.0 <= points <= 100.0)) or not isinstance(line, int):
        raise JournalError(said("{where} points: allowed: nothing, or 0 to 100", where=where))
    moment(data["when"], path)
    kept = {key: data[key] for key in ("finding", "outcome", "by", "reason", "when", "part") if key in data}
    return line, Ruling(**kept, points=points, grave=data.get("grave") is True)


def _is_number(read: object) -> bool:
    return isinstance(read, (int, float)) and not isinstance(read, bool) and math.isfinite(read)
