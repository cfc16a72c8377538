"""Shipped files, broken at random: read as the program would, and taken as far as a world where they still can be.

What must hold: an answer in sentences or a good file, in bounded time, and nothing written but scratch and the user's
cache.
"""

from __future__ import annotations

import contextlib
import io
import os
import random
import re
import shutil
import signal
import sys
import tempfile
import traceback
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from types import FrameType

from sim.errors import GudgeonError
from trainer.cli.scenario import check
from trainer.job import load_job, resolve, scenarios_folder
from trainer.session.building import build_world

LONGEST_S = 60.0
"""A file that takes longer than this to be refused, or to become a world, hangs [s of wall time]."""

PIECES = (
    "a", ": ", "- ", "\n", "  ", "[", "]", "{", "}", ",", "&x ", "*x", "!!int ", "!t ", "'", '"', "|", ">", "? ",
    "# ", "%", "@", "~", "---\n", "...\n", "<<: ", "0x1F", "1e9", ".inf", ".nan", "-0.0", "9" * 40, "1e-300", "true",
    "null", "\t", "\x00", "\u2028", "\ufeff", "é", "<value>", "<<", "../../x.yaml", "/tmp/x.yaml", "x" * 3000,
    "not fitted",
)  # fmt: skip

NUMBERS = ("0", "-1", "1e-9", "1e12", "-1e308", "9999999999999999999", "0.5", "true", "''", "[]", "{}", "2026-01-01")

NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
KEY = re.compile(r"(?m)^( *(?:- )?)([a-z][a-z_ ,]*):")


def files() -> list[Path]:
    """Every kind of file that is shipped, relative to the scenarios' folder."""
    root = scenarios_folder()
    return sorted(path.relative_to(root) for path in root.rglob("*.yaml"))


def broken(text: str, chance: random.Random) -> str:
    """The text with one to four things done to it, mostly one."""
    for _ in range(chance.choice((1, 1, 1, 2, 4))):
        text = chance.choice(WAYS)(text, chance)
    return text


def _bitten(text: str, chance: random.Random) -> str:
    at, cut = chance.randint(0, len(text)), chance.choice((0, 1, 5, 40, 400))
    put = "".join(chance.choice(PIECES) for _ in range(chance.randint(0, 3)))
    return text[:at] + put + text[at + cut :]


def _other_number(text: str, chance: random.Random) -> str:
    found = list(NUMBER.finditer(text))
    if not found:
        return text
    one = chance.choice(found)
    return text[: one.start()] + chance.choice(NUMBERS) + text[one.end() :]


def _lines_moved(text: str, chance: random.Random) -> str:
    lines = text.splitlines(keepends=True)
    if len(lines) < 3:
        return text
    at = chance.randrange(len(lines))
    taken = lines[at : at + chance.randint(1, 6)]
    if chance.random() < 0.5:
        del lines[at : at + len(taken)]
    put = chance.randrange(len(lines) + 1)
    return "".join([*lines[:put], *taken, *lines[put:]])


def _indented(text: str, chance: random.Random) -> str:
    lines = text.splitlines(keepends=True)
    if not lines:
        return text
    at = chance.randrange(len(lines))
    lines[at] = "  " + lines[at] if chance.random() < 0.5 else lines[at].removeprefix("  ")
    return "".join(lines)


def _keys_exchanged(text: str, chance: random.Random) -> str:
    found = list(KEY.finditer(text))
    if len(found) < 2:
        return text
    one, other = sorted(chance.sample(found, 2), key=lambda each: each.start())
    return text[: one.start(2)] + other[2] + text[one.end(2) : other.start(2)] + one[2] + text[other.end(2) :]


def _words_exchanged(text: str, chance: random.Random) -> str:
    words = re.findall(r"[A-Za-z][A-Za-z ]{2,20}", text)
    return text.replace(chance.choice(words), chance.choice(words), 1) if words else text


WAYS: tuple[Callable[[str, random.Random], str], ...] = (
    _bitten,
    _other_number,
    _other_number,
    _lines_moved,
    _indented,
    _keys_exchanged,
    _words_exchanged,
)


@dataclass(slots=True)
class Ground:
    """A copy of the scenarios in a folder of its own, of which one file at a time is broken."""

    folder: Path

    @property
    def cache(self) -> Path:
        """Where the program may keep what it has read: a cache of its own. It and scratch are all it may write."""
        return self.folder.parent / "cache"

    def __post_init__(self) -> None:
        shutil.copytree(scenarios_folder(), self.folder, dirs_exist_ok=True)

    def attempt(self, file: Path, seed: int) -> tuple[str, str]:
        """(what came of it, what was wrong with the program): read a file broken by this seed.

        What came of it is `refused`, `good`, or `a world`; the other is empty as it should be.
        """
        path = self.folder / file
        whole = path.read_text(encoding="utf-8")
        path.write_text(broken(whole, random.Random(f"{file} {seed}")), encoding="utf-8")
        try:
            with (
                _cached_in(self.cache),
                _watched() as written,
                _at_most(LONGEST_S),
                contextlib.redirect_stdout(io.StringIO()) as told,
            ):
                came = self._read(path, seed)
            written = {what for what in written if str(self.cache) not in what}
            if written:
                return came, f"written: {', '.join(sorted(written))}"
            if came == "refused" and not told.getvalue().strip():
                return came, "refused without a sentence"
            return came, ""
        except BaseException as error:
            if isinstance(error, KeyboardInterrupt):
                raise
            return "a crash", "".join(traceback.format_exception(error))
        finally:
            path.write_text(whole, encoding="utf-8")

    def _read(self, path: Path, seed: int) -> str:
        if check([path]):
            return "refused"
        if path.parent.name != "jobs":
            return "good"
        resolved = resolve(load_job(path), seed)
        try:
            build_world(resolved)
        except GudgeonError as error:
            print(error)
            return "refused"
        return "a world"


# -- watching -------------------------------------------------------------------------------------------------

_written: list[set[str]] = []
_hooked = False
WRITING = ("w", "a", "x", "+")
CHANGES = frozenset({"os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.symlink", "os.link", "os.truncate"})


def _hook(event: str, given: tuple[object, ...]) -> None:
    if not _written:
        return
    if event == "open":
        path, mode = given[0], str(given[1] or "")
        if any(letter in mode for letter in WRITING) and not str(path).startswith("/dev/"):
            _written[-1].add(str(path))
    elif event in CHANGES:
        _written[-1].add(f"{event} {given[0]}")


@contextlib.contextmanager
def _watched() -> Iterator[set[str]]:
    """What is opened for writing, made, moved or taken away meanwhile (PEP 578's audit events)."""
    global _hooked
    if not _hooked:  # a hook can be put in once and never taken out
        sys.addaudithook(_hook)
        _hooked = True
    seen: set[str] = set()
    _written.append(seen)
    try:
        yield seen
    finally:
        _written.pop()


@contextlib.contextmanager
def _cached_in(folder: Path) -> Iterator[None]:
    """The user's cache and the system's folder for scratch files are this one meanwhile."""
    before, scratch = os.environ.get("XDG_CACHE_HOME"), tempfile.tempdir
    folder.mkdir(exist_ok=True)
    os.environ["XDG_CACHE_HOME"] = tempfile.tempdir = str(folder)
    try:
        yield
    finally:
        tempfile.tempdir = scratch
        if before is None:
            del os.environ["XDG_CACHE_HOME"]
        else:
            os.environ["XDG_CACHE_HOME"] = before


@contextlib.contextmanager
def _at_most(seconds: float) -> Iterator[None]:
    """Raise TimeoutError once it has taken longer than this."""

    def stop(_signal: int, _frame: FrameType | None) -> None:
        raise TimeoutError(f"it took longer than {seconds:g} s")

    before = signal.signal(signal.SIGALRM, stop)
    signal.setitimer(signal.ITIMER_REAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0.0)
        signal.signal(signal.SIGALRM, before)
