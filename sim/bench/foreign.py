"""A controller that somebody else wrote: loaded from a file, and held to the contract of the terminals.

Only the user's own command line names such a file; no site, job or journal ever does. What it answers is checked
before anything acts on it, and what it raises becomes one sentence that names its own line.
"""

from __future__ import annotations

import hashlib
import importlib.util
import math
import sys
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NoReturn

from sim.controller.ports import Controller, Drive, Inputs, Outputs, Panel, Scan, Watch
from sim.controller.reference import ReferenceController
from sim.errors import ControllerError, DataError, nearest_right
from sim.units import Us, clock_text

METHODS = ("scan",)
"""What a controller must have; see `sim.controller.ports.Controller`. `power_up` and `panel` may be left out: then
nothing is done when power comes back, and the display stays empty."""


@dataclass(frozen=True, slots=True)
class Source:
    """Where a foreign controller comes from: `file.py:Class`, split and found."""

    file: Path
    name: str

    @property
    def digest(self) -> str:
        """SHA-256 of the file, hexadecimal. Modules that it imports are not covered."""
        return hashlib.sha256(self.file.read_bytes()).hexdigest()

    def __str__(self) -> str:
        return f"{self.file}:{self.name}"


def source(text: str) -> Source:
    """Split `file.py:Class`. Raises DataError if it has no such form or the file isn't there."""
    file, colon, name = text.rpartition(":")
    if not colon or not file or not name.isidentifier():
        raise DataError(f"a controller is named as file.py:Class, not '{text}'")
    path = Path(file)
    if not path.is_file():
        raise DataError(f"there is no file '{file}' to load the controller '{name}' from")
    return Source(path.resolve(), name)


def load(wanted: Source) -> HeldToContract:
    """Run the file and make one controller of the class. Raises ControllerError saying what went wrong where."""
    spec = importlib.util.spec_from_file_location(f"foreign_{wanted.file.stem}", wanted.file)
    if spec is None or spec.loader is None:
        raise ControllerError(f"{wanted.file.name} is no Python file: its name must end in .py")
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    try:
        spec.loader.exec_module(module)
    except (Exception, SystemExit) as error:
        raise ControllerError(f"{wanted.file.name} can't be loaded: {_told(error, wanted.file)}") from error
    made = getattr(module, wanted.name, None)
    if not isinstance(made, type):
        classes = [n for n, v in vars(module).items() if isinstance(v, type) and v.__module__ == spec.name]
        hint = nearest_right(wanted.name, classes, otherwise=f"; it has {', '.join(classes) or 'no class'}")
        raise ControllerError(f"{wanted.file.name} has no class '{wanted.name}'{hint}")
    try:
        controller = made()
    except (Exception, SystemExit) as error:
        raise ControllerError(f"{wanted.name}() can't be made: {_told(error, wanted.file)}") from error
    lacking = [name for name in METHODS if not callable(getattr(controller, name, None))]
    if lacking:
        raise ControllerError(f"{wanted.name} lacks {', '.join(lacking)}; a controller has {', '.join(METHODS)}")
    return HeldToContract(controller, wanted)


class HeldToContract:
    """A foreign controller behind a check: a `Controller` whose every breach is a ControllerError in words."""

    def __init__(self, inner: Controller, origin: Source) -> None:
        self._inner = inner
        self._origin = origin
        self.name = origin.name
        """The class's name, for people."""
        self._now = Us(0)

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """Ask it, and refuse an answer that isn't one."""
        self._now = now
        answer = self._call("scan", lambda: self._inner.scan(now, inputs))
        if not isinstance(answer, Scan):
            self._refuse(f"scan answered {_shown(answer)}; a Scan is needed")
        if not isinstance(answer.outputs, Outputs):
            self._refuse(f"scan answered outputs {_shown(answer.outputs)}; an Outputs is needed")
        self._check_drive("active", answer.outputs.active)
        self._check_drive("inactive", answer.outputs.inactive)
        wake = answer.wake
        if wake is not None and (not isinstance(wake, int) or isinstance(wake, bool) or wake <= now):
            self._refuse(f"it wants to be woken at {_shown(wake)}; a whole number of µs after {now} is needed")
        watches: object = answer.watches
        if watches is not None and not (isinstance(watches, tuple) and all(isinstance(w, Watch) for w in watches)):
            self._refuse(f"its watches are {_shown(watches)}; None or a tuple of Watch is needed")
        return answer

    def power_up(self, now: Us) -> None:
        """The board has power again."""
        self._now = now
        if hasattr(self._inner, "power_up"):
            self._call("power_up", lambda: self._inner.power_up(now))

    def panel(self) -> Panel:
        """What its display shows."""
        if not hasattr(self._inner, "panel"):
            return Panel(state="", message="")
        shown = self._call("panel", self._inner.panel)
        if not isinstance(shown, Panel):
            self._refuse(f"panel answered {_shown(shown)}; a Panel is needed")
        return shown

    @property
    def is_kind_of_ours(self) -> bool:
        """Whether its class is made from the reference controller, so that it can go on from where that one is."""
        return isinstance(self._inner, ReferenceController)

    def restore(self, state: dict[str, Any]) -> None:
        """Be as the reference controller was when `state` was taken; only for a kind of it."""
        inner = self._inner
        assert isinstance(inner, ReferenceController)
        self._call("restore", lambda: inner.restore(state))

    def _check_drive(self, leaf: str, drive: object) -> None:
        if not isinstance(drive, Drive):
            self._refuse(f"the {leaf} leaf is given {_shown(drive)}; a Drive is needed")
        if not _between(drive.duty, -1.0, 1.0):
            self._refuse(f"the {leaf} leaf's duty is {_shown(drive.duty)}; allowed: −1 to 1")
        if not _between(drive.slew_per_s, 0.0, 1000.0):
            self._refuse(f"the {leaf} leaf's slew is {_shown(drive.slew_per_s)} per second; allowed: 0 to 1000")
        if not _between(drive.limit_a, 0.0, 1000.0):
            self._refuse(f"the {leaf} leaf's current limit is {_shown(drive.limit_a)} A; allowed: 0 to 1000")

    def _call(self, method: str, call: Callable[[], Any]) -> Any:
        try:
            return call()
        except (Exception, SystemExit) as error:
            self._refuse(f"{method} raised {_told(error, self._origin.file)}", error)

    def _refuse(self, what: str, cause: BaseException | None = None) -> NoReturn:
        raise ControllerError(f"{self._origin.name} at {clock_text(self._now)}: {what}") from cause


def _between(value: object, least: float, most: float) -> bool:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return False
    return math.isfinite(value) and least <= value <= most


def _shown(value: object) -> str:
    try:
        text = repr(value)
    except Exception:
        text = f"a {type(value).__name__} that can't be shown"
    return text if len(text) <= 80 else text[:77] + "..."


def _told(error: BaseException, file: Path) -> str:
    """An error as `Kind: text (file.py, line n)`, with the last line of the foreign file that led to it."""
    lines = [f.lineno for f in traceback.extract_tb(error.__traceback__) if f.filename == str(file)]
    if isinstance(error, SyntaxError) and error.filename == str(file):
        lines.append(error.lineno)
    place = f" ({file.name}, line {lines[-1]})" if lines else ""
    text = str(error.msg) if isinstance(error, SyntaxError) else str(error)
    return f"{type(error).__name__}{': ' + text if text else ''}{place}"
