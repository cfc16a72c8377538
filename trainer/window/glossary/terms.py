"""The words of the trade and their sentences, as shipped in `assets/glossary/words.toml`; and where texts hold them.

The file is in English. A word, its other forms and its sentence each go through the window's catalogue, so that a
word is found in a text in whatever language the window speaks.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Final

from trainer.language import _
from trainer.window.shipped import assets

FILE: Final = "glossary/words.toml"


@dataclass(frozen=True, slots=True)
class Term:
    """One word of the trade, in English."""

    name: str
    group: str
    text: str
    """One plain sentence."""
    also: tuple[str, ...] = ()
    """Other forms in which it stands in texts."""

    @property
    def forms(self) -> tuple[str, ...]:
        """The word and its other forms, in the language of the window."""
        return tuple(_(form) for form in (self.name, *self.also))


def read(data: Mapping[str, object]) -> tuple[Term, ...]:
    """Terms of a file's data, in its order. Raises KeyError or TypeError where the file has another shape."""
    groups = data["group"]
    if not isinstance(groups, list):
        raise TypeError(f"'group' is read as {type(groups).__name__}; it has to be a list of tables")
    return tuple(
        Term(word["name"], group["name"], word["text"], tuple(word.get("also", ())))
        for group in groups
        for word in group["word"]
    )


@cache
def terms() -> tuple[Term, ...]:
    """Every term, in the order to be read in. The file is read once, when it is first asked for."""
    return read(tomllib.loads((assets() / FILE).read_text(encoding="utf-8")))


def terms_in(text: str) -> list[Term]:
    """The terms that stand in a text as whole words, in the order of their first place; the longest form wins."""
    owner: dict[str, Term] = {}
    for term in terms():
        for form in term.forms:
            owner.setdefault(form.lower(), term)
    longest_first = sorted(owner, key=len, reverse=True)
    pattern = r"(?<!\w)(?:" + "|".join(map(re.escape, longest_first)) + r")(?!\w)"
    found = (owner[match.group().lower()] for match in re.finditer(pattern, text.lower()))
    return list(dict.fromkeys(found))


def matching(query: str, among: Iterable[Term]) -> list[Term]:
    """The terms in which every word of a query stands: in the word, its other forms or its sentence.

    Those that have it in the word itself come first.
    """
    wanted = query.lower().split()
    hits = [
        term for term in among if all(each in f"{' '.join(term.forms)} {_(term.text)}".lower() for each in wanted)
    ]
    return sorted(hits, key=lambda term: not all(each in " ".join(term.forms).lower() for each in wanted))
