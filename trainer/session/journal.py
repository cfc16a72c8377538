"""A session's journal on disk: append-only, one checksummed line each, safe before it is acknowledged.

A session is a folder; its `journal.jsonl` is the session, everything else in it can be made again from there.
`Journal.create` and `Journal.open` are called by `Session`, which holds the journal until it closes. Whoever only
wants to read (a debrief, a replay in another process) calls `read_journal`, which neither locks nor mends.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, fields
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final, Literal

from sim.errors import JournalError
from sim.said import said
from sim.units import Us, clock_text
from trainer.session.branches import living
from trainer.session.disk import Disk, OpenFile, PlainDisk, Unlock
from trainer.session.lines import Kind, Line, decode, encode

FORMAT: Final = "gudgeon-journal/1"
"""The form of the file; a reader refuses every other."""

FILE: Final = "journal.jsonl"
_FRESH: Final = "journal.jsonl.new"
"""Where a journal is written until its header is whole, so that a journal without a header never exists."""
_LOCK: Final = "journal.lock"
_CUT: Final = "journal.cut"
"""Every torn tail ever cut off, one after the other: nothing is thrown away."""


@dataclass(frozen=True, slots=True)
class Header:
    """Line 1: what must be known to replay the session, and nothing that would give the hidden draw away."""

    product: str
    """Product version."""
    physics: str
    """Version of the physics; a replay is exact only under the same."""
    seed: int
    mode: Literal["practice", "assessed"]
    job: str
    """The job's name (file name without ending)."""
    job_digest: str
    site_digest: str
    """Digest of the resolved site."""
    controller: str
    """Name of the controller."""
    controller_digest: str
    visible: Mapping[str, Any] = field(default_factory=lambda: MappingProxyType({}))
    """The resolved site as anyone standing in the yard may see it; base types only."""
    format: str = FORMAT


@dataclass(frozen=True, slots=True)
class Torn:
    """What was cut off the end of a journal: the write that was under way when the process or the machine died."""

    after: int
    """Number of the last whole line."""
    size: int
    """Bytes cut."""

    def __str__(self) -> str:
        return said(
            "The last write was cut short: {size} bytes after line {after} were taken off "
            "the journal and kept beside it. Everything acknowledged is there.",
            size=self.size,
            after=self.after,
        )


@dataclass(frozen=True, slots=True)
class Record:
    """A journal as it was read: its header, its whole lines (the header's among them), its torn tail if any."""

    header: Header
    lines: tuple[Line, ...]
    torn: Torn | None = None


class Journal:
    """A session's journal held open for writing. One process only: another gets a JournalError with our number."""

    def __init__(self, folder: Path, record: Record, file: OpenFile, unlock: Unlock) -> None:
        self.folder = folder
        self.header = record.header
        self.torn = record.torn
        """What opening had to cut off, for the session to say so; None if nothing."""
        self._raw: list[bytes] = []
        """Lines as they stand in the file, and read again when asked for: read, a line needs five times the room."""
        self.last = record.lines[0]
        """The newest line."""
        for line in record.lines:
            self._keep(line, encode(line))
        self._file = file
        self._unlock: Unlock | None = unlock
        self._broken = ""
        self._ended = _has_ended(self.entries())

    @classmethod
    def create(cls, folder: Path, header: Header, disk: Disk | None = None) -> Journal:
        """A new session in `folder`, which is made if need be. The header is safe on return.

        Raises JournalError if the folder holds a session already.
        """
        disk = disk or PlainDisk()
        with _sentences(folder), contextlib.ExitStack() as held:
            disk.make_folder(folder)
            held.callback(disk.lock(folder / _LOCK))
            if disk.read(folder / FILE) is not None:
                raise JournalError(
                    said("{folder}: read a session already there; allowed: an empty or new folder", folder=folder)
                )
            first = Line(1, Us(0), "header", _header_data(header))
            fresh = disk.open(folder / _FRESH)
            fresh.cut(0)  # a creation that was killed may have left a piece
            fresh.write(encode(first))
            fresh.sync()
            fresh.close()
            disk.rename(folder / _FRESH, folder / FILE)
            disk.sync_folder(folder)
            return cls(folder, Record(header, (first,)), disk.open(folder / FILE), held.pop_all().close)

    @classmethod
    def open(cls, folder: Path, disk: Disk | None = None) -> Journal:
        """Go on with the session in `folder`. A torn tail is cut off, kept in a file beside, and told in `torn`.

        Raises JournalError if there is no session, another process writes it, or a line in its middle is damaged.
        """
        disk = disk or PlainDisk()
        if disk.read(folder / FILE) is None:
            raise _no_session(folder)
        with _sentences(folder), contextlib.ExitStack() as held:
            held.callback(disk.lock(folder / _LOCK))
            record = read_journal(folder, disk)
            return cls(folder, record, _mended(folder, record, disk), held.pop_all().close)

    def append(self, kind: Kind, at: Us, data: Mapping[str, Any] | None = None) -> Line:
        """Write one line and return it once it is on the platter. Raises JournalError, and then nothing counts."""
        self._check(kind, at)
        raw = encode(Line(self.last.number + 1, at, kind, data or {}))
        line = decode(raw[:-1])  # what any reader will get, not what the caller may still change
        try:
            self._file.write(raw)
            self._file.sync()
        except OSError as error:
            # What reached the platter is unknown from here on; only opening the journal again can tell.
            self._broken = said(
                "line {number} could not be written ({why})",
                number=line.number,
                why=error.strerror or error,
            )
            raise JournalError(
                said(
                    "{folder}: {broken}; free the disk and open the session again",
                    folder=self.folder,
                    broken=self._broken,
                )
            ) from error
        self._keep(line, raw)
        if kind in ("end", "branch"):
            self._ended = _has_ended(self.entries())
        return line

    def _keep(self, line: Line, raw: bytes) -> None:
        """Of times reached in a row the last says it all: the file has every line, memory needs one a row."""
        if self._raw and line.kind == self.last.kind == "time reached":
            self._raw.pop()
        self._raw.append(raw[:-1])
        self.last = line

    def act(self, at: Us, kind: str, arguments: Mapping[str, Any]) -> Line:
        """An accepted action that begins at `at`."""
        return self.append("action", at, {"do": kind, "with": dict(arguments)})

    def meddled(self, at: Us, what: str, target: str, on: bool, values: Mapping[str, Any]) -> Line:
        """An instructor changed something at `at`; `values` are written where there are any."""
        told = {"what": what, "target": target, "on": on}
        return self.append("meddling", at, told | {"values": dict(values)} if values else told)

    def reached(self, at: Us) -> Line:
        """The world ran to `at`."""
        return self.append("time reached", at)

    def digest(self, at: Us, digest: str) -> Line:
        """Fingerprint of the whole state at `at`, for a replay to be checked against."""
        return self.append("digest", at, {"digest": digest})

    def branch(self, at: Us, kept: int, fork: str = "") -> Line:
        """Go on from `at`, an earlier time; `kept` is the last line that still counts.

        `fork` marks what the new branch is, e.g. `practice` when an assessed attempt is left.
        """
        counting = {line.number: line for line in self.living()}
        if kept not in counting:
            raise JournalError(
                said(
                    "{folder}: read line {kept} to go on from; allowed: a line that still counts",
                    folder=self.folder,
                    kept=kept,
                )
            )
        if at < counting[kept].at:
            raise JournalError(
                said(
                    "{folder}: read {when} to go on from; allowed: {least} or later, the time of line {kept}",
                    folder=self.folder,
                    when=clock_text(at),
                    least=clock_text(counting[kept].at),
                    kept=kept,
                )
            )
        return self.append("branch", at, {"kept": kept, "fork": fork})

    def look(self, at: Us, shown: Us) -> Line:
        """At `at`, the trainee looked at the earlier time `shown`."""
        return self.append("look", at, {"shown": int(shown)})

    def hint(self, at: Us, text: str) -> Line:
        """A hint was given at `at`."""
        return self.append("hint", at, {"text": text})

    def end(self, at: Us, how: str) -> Line:
        """The session is over: `handed over`, `made safe`, `given up`. Only a branch may follow, or a look."""
        return self.append("end", at, {"how": how})

    def entries(self) -> tuple[Line, ...]:
        """Every line that says something, the header first, abandoned branches among them: of times reached in a row
        only the last."""
        return tuple(map(decode, self._raw))

    def living(self) -> list[Line]:
        """The lines that lead to the present."""
        return living(self.entries())

    def close(self) -> None:
        """Let go of the file and the lock. Harmless when called again."""
        if self._unlock is not None:
            self._file.close()
            self._unlock()
            self._unlock = None

    def __enter__(self) -> Journal:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _check(self, kind: Kind, at: Us) -> None:
        """Refuse a line that could never be replayed."""
        if self._unlock is None:
            raise JournalError(said("{folder}: this journal is closed; open the session again", folder=self.folder))
        if self._broken:
            raise JournalError(
                said("{folder}: {broken}; open the session again", folder=self.folder, broken=self._broken)
            )
        last = self.last
        if kind == "header":
            raise JournalError(said("{folder}: read a second header; allowed: one, in line 1", folder=self.folder))
        if kind == "branch":
            return
        if at < last.at:
            raise JournalError(
                said(
                    "{folder}: read {when} after {least} of line {number}; allowed: the same time or "
                    "later, or a branch",
                    folder=self.folder,
                    when=clock_text(at),
                    least=clock_text(last.at),
                    number=last.number,
                )
            )
        if self._ended and kind not in ("look", "hint"):
            raise JournalError(
                said("{folder}: this session has ended; allowed: a branch, a look, a hint", folder=self.folder)
            )


def read_journal(folder: Path, disk: Disk | None = None) -> Record:
    """The journal in `folder` as it stands, without locking or changing anything.

    Raises JournalError naming the line if one in the middle is damaged or the file is not a journal of ours.
    """
    path = folder / FILE
    raw = (disk or PlainDisk()).read(path)
    if raw is None:
        raise _no_session(folder)
    *whole, tail = raw.split(b"\n")
    lines: list[Line] = []
    good = 0
    for number, piece in enumerate(whole, start=1):
        try:
            line = decode(piece)
            if line.number != number:
                raise ValueError(said("it calls itself line {number}", number=line.number))
        except ValueError as error:
            if number == len(whole) and not tail and number > 1:
                break  # the last write, whose blocks reached the platter out of order
            raise JournalError(
                said(
                    "{path}:{number}: this line is damaged: {error}; allowed: an untouched journal",
                    path=path,
                    number=number,
                    error=str(error),
                )
            ) from error
        lines.append(line)
        good += len(piece) + 1
    header = _read_header(path, lines)
    torn = Torn(len(lines), len(raw) - good) if good < len(raw) else None
    return Record(header, tuple(lines), torn)


def differing(at: Us, line: int) -> str:
    """What is said of a replay that was not the same at a journal line any more, `at` since arrival."""
    return said(
        "From {when} on (journal line {line}) this replay differs from what was recorded: "
        "the attempt can be looked at, not gone on with or graded.",
        when=clock_text(at),
        line=line,
    )


def _has_ended(lines: Iterable[Line]) -> bool:
    """Whether an `end` still counts; a branch from before it takes it back."""
    return any(line.kind == "end" for line in living(lines))


def _no_session(folder: Path) -> JournalError:
    return JournalError(said("{folder}: read no {file}; allowed: the folder of a session", folder=folder, file=FILE))


@contextlib.contextmanager
def _sentences(folder: Path) -> Iterator[None]:
    """What the disk complains about becomes a sentence."""
    try:
        yield
    except OSError as error:
        raise JournalError(
            said("{folder}: the journal can't be used: {why}", folder=folder, why=error.strerror or error)
        ) from error


def _read_header(path: Path, lines: list[Line]) -> Header:
    """The header in line 1."""
    if not lines or lines[0].kind != "header":
        raise JournalError(
            said("{path}:1: read no header; allowed: a journal that begins with its header", path=path)
        )
    data = dict(lines[0].data)
    if data.get("format") != FORMAT:
        raise JournalError(
            said(
                "{path}:1 format: read {read}; allowed: {allowed}",
                path=path,
                read=repr(data.get("format")),
                allowed=repr(FORMAT),
            )
        )
    known = {one.name for one in fields(Header)}
    if set(data) != known:
        odd = sorted(set(data) ^ known)
        raise JournalError(
            said(
                "{path}:1: keys {odd} are missing or unknown; allowed: {known}",
                path=path,
                odd=", ".join(odd),
                known=", ".join(sorted(known)),
            )
        )
    return Header(**{**data, "visible": MappingProxyType(data["visible"])})


def _header_data(header: Header) -> dict[str, Any]:
    """The header as base types, format first so that a person sees at once what the file is."""
    data = {one.name: getattr(header, one.name) for one in fields(header)}
    return {"format": data.pop("format"), **data, "visible": dict(header.visible)}


def _mended(folder: Path, record: Record, disk: Disk) -> OpenFile:
    """The journal's file held open, its torn tail (if any) moved to the file of cuts."""
    file = disk.open(folder / FILE)
    if record.torn is not None:
        raw = disk.read(folder / FILE) or b""
        good = len(raw) - record.torn.size
        cuts = disk.open(folder / _CUT)
        cuts.write(raw[good:] + b"\n")
        cuts.sync()
        cuts.close()
        file.cut(good)
        file.sync()
    return file
