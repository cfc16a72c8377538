"""A language made up out of English, so that what never went through a catalogue, or has no room, is seen at once.

Sentences stand between marks, their vowels bear accents, and each word is some 35 % longer, which is what small texts
grow by in translation at the least (common practice). What stands in a gap is not touched: it has its own marks when
it was translated itself.
"""

from __future__ import annotations

import re

OPEN, CLOSE, LONGER = "«", "»", "·"
_ACCENTS = str.maketrans("aeiouAEIOU", "àëîöûÀËÎÖÛ")
_GAP = re.compile(r"(\{[^{}]*\})")
_WORD = re.compile(r"[A-Za-zÀ-ɏΑ-ωµ]+")


def pseudo(sentence: str) -> str:
    """The sentence in the made-up language; what has no letters of its own stays."""
    parts = _GAP.split(sentence)
    if not any(_WORD.search(part) for part in parts[::2]):
        return sentence
    return OPEN + "".join(part if n % 2 else _longer(part) for n, part in enumerate(parts)) + CLOSE


def _longer(part: str) -> str:
    return _WORD.sub(lambda word: word[0].translate(_ACCENTS) + LONGER * round(0.35 * len(word[0]) + 0.2), part)


def untranslated(text: str, allowed: frozenset[str]) -> list[str]:
    """Words of a text that went through no catalogue: they bear neither an accent nor a mark of length."""
    words = ((match[0], text[match.end() : match.end() + 1]) for match in _WORD.finditer(text))
    return [word for word, after in words if word.isascii() and after != LONGER and word not in allowed]
