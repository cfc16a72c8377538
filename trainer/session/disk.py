"""What a journal asks of a disk: six file operations and a lock, so that a test can lie about each of them.

`PlainDisk` is the real one. A test puts a layer in its place that cuts a write at any byte and forgets what was
never synced; the journal must not be able to tell them apart.
"""

from __future__ import annotations

import contextlib
import fcntl
import os
from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from sim.errors import JournalError
from sim.said import said

Unlock = Callable[[], None]
"""Gives a lock back."""


class OpenFile(Protocol):
    """One file held open for writing at its end."""

    def write(self, data: bytes) -> None:
        """Put all of `data` at the end. It is not safe until `sync`."""

    def sync(self) -> None:
        """Return once everything written is on the platter."""

    def cut(self, size: int) -> None:
        """Keep the first `size` bytes only. It is not safe until `sync`."""

    def close(self) -> None:
        """Let go of the file, without syncing it."""


class Disk(Protocol):
    """The operations a journal is built on."""

    def read(self, path: Path) -> bytes | None:
        """The whole file; None if there is none."""

    def open(self, path: Path) -> OpenFile:
        """The file held open, made if there is none."""

    def rename(self, old: Path, new: Path) -> None:
        """Give a file another name, in one step. It is not safe until `sync_folder`."""

    def make_folder(self, path: Path) -> None:
        """Make a folder and those above it, each of them safe on return."""

    def sync_folder(self, path: Path) -> None:
        """Return once the names in a folder are on the platter."""

    def lock(self, path: Path) -> Unlock:
        """Hold `path` against every other process. Raises JournalError if another holds it."""


class _PlainFile:
    """A file descriptor held open for appending."""

    def __init__(self, path: Path) -> None:
        self._descriptor = os.open(path, os.O_RDWR | os.O_CREAT | os.O_APPEND, 0o644)

    def write(self, data: bytes) -> None:
        rest = memoryview(data)
        while rest:
            rest = rest[os.write(self._descriptor, rest) :]

    def sync(self) -> None:
        os.fsync(self._descriptor)

    def cut(self, size: int) -> None:
        os.ftruncate(self._descriptor, size)

    def close(self) -> None:
        os.close(self._descriptor)


class PlainDisk:
    """The disk of this machine (POSIX)."""

    def read(self, path: Path) -> bytes | None:
        try:
            return path.read_bytes()
        except FileNotFoundError:
            return None

    def open(self, path: Path) -> OpenFile:
        return _PlainFile(path)

    def rename(self, old: Path, new: Path) -> None:
        old.replace(new)

    def make_folder(self, path: Path) -> None:
        if path.is_dir():
            return
        self.make_folder(path.parent)
        with contextlib.suppress(FileExistsError):
            path.mkdir()
        self.sync_folder(path.parent)

    def sync_folder(self, path: Path) -> None:
        descriptor = os.open(path, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)

    def lock(self, path: Path) -> Unlock:
        """An advisory lock that the kernel drops when its holder dies, so a stale one can't be left behind."""
        descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            holder = os.pread(descriptor, 32, 0).decode("ascii", "replace").strip() or "unknown"
            os.close(descriptor)
            raise JournalError(
                said(
                    "{folder}: process {holder} is writing this session; close it there, or look at it read-only",
                    folder=path.parent,
                    holder=holder,
                )
            ) from None
        os.ftruncate(descriptor, 0)
        os.pwrite(descriptor, f"{os.getpid()}\n".encode("ascii"), 0)
        return lambda: os.close(descriptor)
