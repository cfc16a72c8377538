"""What a person chose about the window, kept on disk between two starts.

A small JSON file, written whole and put in place in one step. A file that can't be read, or a value in it that
can't be used, never stops the window: it is told in a sentence, what is good in it is taken, and the file is put
aside under another name before anything is written in its place.
"""

from __future__ import annotations

import json
import math
import os
from collections.abc import Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any, Final, Literal, get_args

from trainer.language import _

Who = Literal["apprentice", "instructor", "engineer"]
Contrast = Literal["ordinary", "high"]
Colours = Literal["ordinary", "safe"]

FILE: Final = "window.json"
MOST_BYTES: Final = 65_536
"""A longer file is none of ours [bytes]."""

LEFT_S: Final = 3600.0
"""A half-written file this much older than what was written now is nobody's any more [s]. Ours."""

TEXT_SCALES: Final = (1.0, 2.0)
"""Least and most of the size of text against its ordinary one."""


@dataclass(frozen=True, slots=True)
class Preferences:
    """How one person likes the window. `checked` answers them from data that came from outside."""

    who: Who = "apprentice"
    """As whom she works here: it decides what the front desk lists, and nothing else."""
    language: str = "en"
    """Code of the language, as its catalogue is called."""
    text_scale: float = 1.0
    """Size of text, 1.0 to 2.0."""
    calm: bool = False
    """Reduced motion: nothing blinks, nothing glides."""
    sound: bool = True
    """Whether the gate is heard."""
    volume: float = 0.6
    """How loud, from 0 to 1."""
    contrast: Contrast = "ordinary"
    colours: Colours = "ordinary"
    """`safe`: a set of colours that stays apart for every common way of seeing colours."""
    captions: bool = True
    """Whether what can be heard is written as well."""
    toured: bool = False
    """Whether the tour of the yard was shown."""


_CHOICES: Final[Mapping[str, tuple[str, ...]]] = {
    "who": get_args(Who),
    "contrast": get_args(Contrast),
    "colours": get_args(Colours),
}
_SPANS: Final[Mapping[str, tuple[float, float]]] = {"text_scale": TEXT_SCALES, "volume": (0.0, 1.0)}


def checked(data: Mapping[str, Any]) -> tuple[Preferences, list[str]]:
    """Preferences from data, and a sentence for every value that could not be used; its default stands instead."""
    good: dict[str, Any] = {}
    problems: list[str] = []
    for name in (field.name for field in fields(Preferences)):
        if name not in data:
            continue
        allowed = _problem(name, data[name])
        if allowed:
            problems.append(
                _("{name}: read {value}; allowed: {allowed}").format(
                    name=name, value=_short(data[name]), allowed=allowed
                )
            )
        else:
            good[name] = float(data[name]) if name in _SPANS else data[name]
    return Preferences(**good), problems


def _problem(name: str, value: object) -> str:
    """What would be allowed, when this is not; empty when it is."""
    if name in _CHOICES:
        return "" if value in _CHOICES[name] else ", ".join(_CHOICES[name])
    if name in _SPANS:
        least, most = _SPANS[name]
        number = isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value)
        fits = number and least <= value <= most  # type: ignore[operator]
        return "" if fits else _("a number from {least:g} to {most:g}").format(least=least, most=most)
    if name == "language":
        fits = isinstance(value, str) and 2 <= len(value) <= 16 and value.replace("_", "").isalpha()
        return "" if fits else _("the code of a language, such as en")
    return "" if isinstance(value, bool) else "true, false"


def _short(value: object) -> str:
    text = json.dumps(value, ensure_ascii=False)
    return text if len(text) <= 40 else text[:39] + "…"


class Keeper:
    """One file of preferences: read once at the start, written after a change."""

    def __init__(self, path: Path | None = None) -> None:
        """Without a `path`: in memory only."""
        self.path = path
        self.now = Preferences()
        self.trouble = ""
        """What was wrong with the file, for the person; empty when all is well."""
        self.unwritten = False
        """Whether something was taken that isn't on disk yet."""
        self._others: dict[str, Any] = {}
        """What another version wrote there; it is written back untouched."""
        self._aside = False
        if path is not None:
            self._read(path)

    def _read(self, path: Path) -> None:
        try:
            with path.open("rb") as file:
                raw = file.read(MOST_BYTES + 1)
            if len(raw) > MOST_BYTES:
                raise ValueError(_("it is longer than {most} bytes").format(most=MOST_BYTES))
            data = json.loads(raw)
            if not isinstance(data, dict):
                raise ValueError(_("it is no list of names and values"))
        except FileNotFoundError:
            return
        except (OSError, ValueError, RecursionError) as error:
            self._aside = not isinstance(error, OSError)
            self.trouble = _(
                "Your settings in {path} could not be read ({error}); the window starts with ordinary ones. "
                "Nothing was lost: the file is kept."
            ).format(path=path, error=error)
            return
        self.now, problems = checked(data)
        known = {field.name for field in fields(Preferences)}
        self._others = {name: value for name, value in data.items() if name not in known}
        if problems:
            self._aside = True
            self.trouble = _("Some of your settings in {path} can't be used: {problems}.").format(
                path=path, problems="; ".join(problems)
            )

    def take(self, chosen: Preferences) -> None:
        """Hold to other preferences from now on; `write` puts them on disk."""
        self.unwritten = self.unwritten or chosen != self.now
        self.now = chosen

    def write(self) -> str:
        """Put on disk what was taken; answers a sentence for the person when that could not be done."""
        unwritten, self.unwritten = self.unwritten, False
        if self.path is None or not unwritten:
            return ""
        whole = {**self._others, **{field.name: getattr(self.now, field.name) for field in fields(Preferences)}}
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            if self._aside:
                self._put_aside(self.path)
            fresh = self.path.with_name(f"{self.path.name}.{os.getpid()}.new")
            with fresh.open("w", encoding="utf-8") as file:
                json.dump(whole, file, ensure_ascii=False, indent=2)
                file.write("\n")
                file.flush()
                os.fsync(file.fileno())
            fresh.replace(self.path)
            _clear_away(self.path)
        except OSError as error:
            return _(
                "Your settings could not be written to {path} ({error}); they hold until the window closes."
            ).format(path=self.path, error=error.strerror or error)
        return ""

    def _put_aside(self, path: Path) -> None:
        """The file that could not be used, under the first free name beside it."""
        number = 1
        while (kept := path.with_name(f"{path.stem}-kept-{number}{path.suffix}")).exists():
            number += 1
        if path.exists():
            path.rename(kept)
        self._aside = False


def _clear_away(path: Path) -> None:
    """What windows that were killed while they wrote left half written; not what another is writing now."""
    for left in path.parent.glob(f"{path.name}.*.new"):
        if left.stat().st_mtime < path.stat().st_mtime - LEFT_S:
            left.unlink(missing_ok=True)


def own_path() -> Path:
    """Where this person's preferences lie on this machine."""
    from platformdirs import user_config_path

    return Path(user_config_path("gudgeon")) / FILE
