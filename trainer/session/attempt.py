"""What stands beside a journal about the attempt as such: whose it is, at what and when; and its graded result.

A journal holds what was done and neither names nor dates. They stand in a small file of their own, written when an
attempt begins and once more when it is graded. An attempt without that file is still one: it is somebody's.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, fields, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Final

from sim.errors import JournalError
from sim.said import said

FORMAT: Final = "gudgeon-attempt/1"
FILE: Final = "attempt.json"
RESULT: Final = "result.json"
"""The graded result beside a journal."""

MOST_BYTES: Final = 4_194_304
"""A longer file is none of ours [bytes]."""


@dataclass(frozen=True, slots=True)
class About:
    """Whose attempt it is, at what, and when."""

    job: str
    """The name under which it is kept."""
    title: str
    family: str
    """What the job is about; empty for a job that doesn't say."""
    grade: str
    who: str = ""
    """Who was at work, as they are called; empty where nobody said."""
    began: str = ""
    """When it was begun, ISO 8601 with zone."""
    ended: str = ""
    """When it was graded first, ISO 8601 with zone; empty until then."""
    format: str = FORMAT


def now() -> str:
    """The present moment, ISO 8601 in universal time, in whole seconds."""
    return datetime.now(UTC).isoformat(timespec="seconds")


def write_about(folder: Path, about: About) -> None:
    """Put it beside the journal. Raises JournalError if the folder can't be written."""
    put(folder / FILE, asdict(about))


def read_about(folder: Path) -> About | None:
    """What stands beside a journal; None where nothing does. Raises JournalError if it can't be used."""
    path = folder / FILE
    if not path.is_file():
        return None
    data = taken(path)
    names = [field.name for field in fields(About)]
    if data.get("format") != FORMAT or not all(isinstance(data.get(name), str) for name in names):
        keys = ", ".join(names)
        raise JournalError(
            said("{path}: allowed: the format {format}, with the texts {keys}", path=path, format=FORMAT, keys=keys)
        )
    about = About(**{name: data[name] for name in names})
    for when in filter(None, (about.began, about.ended)):
        moment(when, path)
    return about


def moment(text: str, path: Path) -> datetime:
    """A date with time and zone out of a file. Raises JournalError naming the file if it is none."""
    try:
        when = datetime.fromisoformat(text)
        if when.tzinfo is not None:
            return when.astimezone(UTC)
    except (ValueError, OverflowError):
        pass
    raise JournalError(
        said("{path}: read '{text}'; allowed: a date with time and zone, as 2026-05-04T09:30:00+00:00",
             path=path, text=text[:60])
    )  # fmt: skip


def keep_result(folder: Path, kept: Mapping[str, object], end_line: int) -> None:
    """Write the graded result of an attempt that ended in a line of its journal, and when that was.

    A result that was kept of the same end stays as it is, so that looking at an old attempt again never grades it
    anew in silence. Raises JournalError if the folder can't be written.
    """
    path = folder / RESULT
    if path.is_file() and taken(path).get("end_line") == end_line:
        return
    put(path, {**kept, "end_line": end_line})
    about = read_about(folder)
    if about is not None:
        write_about(folder, replace(about, ended=now()))


def best_mark(folders: Iterable[Path]) -> float | None:
    """The best score of graded attempts, of 100; None where none was graded."""
    marks = (_mark(folder / RESULT) for folder in folders if (folder / RESULT).is_file())
    return max((mark for mark in marks if mark is not None), default=None)


def _mark(result: Path) -> float | None:
    try:
        mark = taken(result).get("score")
    except JournalError:
        return None  # a damaged result keeps nobody from the list of jobs; the learning record names it
    return float(mark) if isinstance(mark, (int, float)) else None


def taken(path: Path) -> dict[str, Any]:
    """The JSON object in a file of ours. Raises JournalError if it holds none."""
    try:
        if path.stat().st_size > MOST_BYTES:
            raise JournalError(
                said("{path}: it is longer than {most} bytes, so it is none of ours", path=path, most=MOST_BYTES)
            )
        data = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError) as error:
        raise JournalError(said("{path}: can't be read ({error})", path=path, error=str(error))) from error
    if not isinstance(data, dict):
        raise JournalError(said("{path}: allowed: one JSON object", path=path))
    return data


def put(path: Path, data: Mapping[str, object]) -> None:
    """Write a JSON object whole, in one step. Raises JournalError if it can't be written."""
    fresh = path.with_name(f"{path.name}.new")
    try:
        fresh.write_text(json.dumps(data, ensure_ascii=False), encoding="utf-8")
        fresh.replace(path)
    except OSError as error:
        raise JournalError(said("{path}: can't be written ({error})", path=path, error=str(error))) from error
