"""Sentences for a person who wrote a file: where it is wrong, what was read, what is allowed, what may be meant."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from sim.errors import ScenarioError
from sim.said import Verbatim, said

MOST_SHOWN: Final = 20
"""More problems than this are counted, not listed."""

LONGEST: Final = 1200
"""A sentence longer than this lists or quotes too much [characters]: its middle is left out."""

KEPT_END: Final = 200
"""What is kept of its end, where the nearest right name stands [characters]."""


ALIKE: Final = 0.5
"""Names less alike than this are not offered, as `difflib` counts it [share]."""


def nearest(word: str, allowed: Iterable[str], alike: float | None = None) -> str:
    """` did you mean 'x'?` with a leading semicolon, or nothing when no name is near.

    Near is a name that looks alike, or the only one that has `word` among its words: `articulated arm` for `arm`.
    """
    names = [name for name in allowed if isinstance(name, str)]
    short = word[:80].lower().replace(" ", "_").replace("-", "_")
    shaped = {name.lower().replace(" ", "_").replace("-", "_"): name for name in names}
    near = difflib.get_close_matches(short, shaped, n=1, cutoff=ALIKE if alike is None else alike)
    holding = [name for name in shaped if short in name.split("_")] if len(short) > 2 or short.isdigit() else []
    if not near and len(holding) == 1:
        near = holding
    return said("; did you mean '{name}'?", name=Verbatim(shaped[near[0]])) if near else ""


def shown(value: object) -> str:
    """What was read, short enough for a sentence."""
    if value is None:
        return said("nothing")
    if isinstance(value, bool):
        return Verbatim("true" if value else "false")
    if isinstance(value, str):
        if len(value) <= 60:
            return Verbatim(f"'{value}'")
        return said("'{beginning}...' ({length} characters)", beginning=Verbatim(value[:57]), length=len(value))
    if isinstance(value, Mapping):
        keys = listing([*(str(key)[:20] for key in list(value)[:3]), *(["..."] if len(value) > 3 else [])])
        return said("a mapping ({keys})", keys=keys) if value else said("an empty mapping")
    if isinstance(value, Sequence):
        return said("a list of {length}", length=len(value))
    return Verbatim(f"{value:g}" if isinstance(value, float) else str(value)[:60])


def listing(names: Iterable[str]) -> str:
    """Names for a sentence, as they stand in a file."""
    return Verbatim(", ".join(names))


def _cut(sentence: str) -> str:
    """A sentence that is not longer than the longest."""
    if len(sentence) <= LONGEST:
        return sentence
    return f"{sentence[: LONGEST - KEPT_END - 5]} ... {sentence[-KEPT_END:]}"


def refuse(problems: list[str]) -> ScenarioError:
    """The error that carries these problems, each once, bounded in number."""
    once = list(dict.fromkeys(_cut(problem) for problem in problems))
    if len(once) > MOST_SHOWN:
        once = [*once[:MOST_SHOWN], said("... and {more} more problems", more=len(once) - MOST_SHOWN)]
    return ScenarioError(once)
