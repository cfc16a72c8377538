"""A header, a clean folder, and a disk that can be cut at any byte and forgets what was never synced."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from trainer.session.journal import Header


class PowerCut(Exception):
    """The moment the machine dies."""


@dataclass
class Inode:
    """A file's blocks: what is on the platter, and what was written since."""

    safe: bytes = b""
    seen: bytes = b""


@dataclass
class CuttingFile:
    """A file held open on a `CuttingDisk`."""

    disk: CuttingDisk
    inode: Inode

    def write(self, data: bytes) -> None:
        """Each byte costs one tick, so the cut can fall between any two of them."""
        for at in range(len(data)):
            self.disk.tick()
            self.inode.seen += data[at : at + 1]

    def sync(self) -> None:
        self.disk.tick()
        if self.disk.honest:
            self.inode.safe = self.inode.seen
        self.disk.tick()

    def cut(self, size: int) -> None:
        self.disk.tick()
        self.inode.seen = self.inode.seen[:size]

    def close(self) -> None:
        """Nothing: closing syncs nothing."""


@dataclass
class CuttingDisk:
    """A disk in memory that dies after `ticks` and then holds only what was synced, and as much more as it likes."""

    ticks: int = 10**9
    honest: bool = True
    """False: `sync` and `sync_folder` return without doing anything (to show that the tests would notice)."""
    names: dict[Path, Inode] = field(default_factory=dict)
    safe_names: dict[Path, Inode] = field(default_factory=dict)

    def tick(self) -> None:
        if self.ticks <= 0:
            raise PowerCut
        self.ticks -= 1

    def read(self, path: Path) -> bytes | None:
        inode = self.names.get(path)
        return None if inode is None else inode.seen

    def open(self, path: Path) -> CuttingFile:
        self.tick()
        return CuttingFile(self, self.names.setdefault(path, Inode()))

    def rename(self, old: Path, new: Path) -> None:
        self.tick()
        self.names[new] = self.names.pop(old)

    def make_folder(self, path: Path) -> None:
        """Folders are not modelled."""

    def sync_folder(self, path: Path) -> None:
        self.tick()
        if self.honest:
            self.safe_names = dict(self.names)
        self.tick()

    def lock(self, path: Path) -> Callable[[], None]:
        return lambda: None

    def after_the_cut(self, keep: Callable[[int], int], zeros: bool, names_kept: bool, ticks: int) -> CuttingDisk:
        """The disk as the next start finds it.

        `keep(n)` of n unsynced bytes survived; with `zeros` the file kept its length and they read as zeros.
        `names_kept`: names that were never synced made it all the same.
        """
        names = dict(self.names if names_kept else self.safe_names)
        for path, inode in names.items():
            names[path] = Inode(left := _left(inode, keep, zeros), left)
        return CuttingDisk(ticks, self.honest, names, dict(names))


def _left(inode: Inode, keep: Callable[[int], int], zeros: bool) -> bytes:
    """What of a file is left."""
    if not inode.seen.startswith(inode.safe):  # a cut that was never synced: all of it, or nothing of it
        return inode.seen if keep(1) else inode.safe
    fresh = inode.seen[len(inode.safe) :]
    survived = keep(len(fresh))
    lost = b"\0" * (len(fresh) - survived) if zeros else b""
    return inode.safe + (lost + fresh[len(fresh) - survived :] if zeros else fresh[:survived])


@pytest.fixture
def header() -> Header:
    return Header(
        product="0.1.0",
        physics="1",
        seed=7,
        mode="practice",
        job="first-run",
        job_digest="a1" * 16,
        site_digest="b2" * 16,
        controller="reference",
        controller_digest="c3" * 16,
        visible={"name": "a yard", "leaves": {"active": {"width_m": 2.0}}},
    )


@pytest.fixture(scope="session")
def cutting_disk() -> type[CuttingDisk]:
    return CuttingDisk


@pytest.fixture(scope="session")
def power_cut() -> type[PowerCut]:
    return PowerCut
