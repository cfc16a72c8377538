"""A sentence that knows how it was put together, so that another language can put it together anew.

    said("The {guard} is interrupted", guard="photo beam")

is the English text to everyone who reads, compares, writes or logs it. Whoever shows it in another language asks for
its sentence with named gaps and for what stands in them (see `trainer.language`). Whole sentences only: a language
orders its words for itself. A gap that is filled with nothing tells what is meant, where English has one word for
several: `open{of_a_gate}`. Called wherever something with a value or a name in it is said to a person.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Self


class Said(str):
    """English text, its sentence with gaps, and what fills them.

    `sentence` has named gaps in the manner of `str.format`, with formats where wanted (`{force_n:.0f} N`); `fields`
    are numbers, texts, or again `Said`. Adding to it or cutting it gives a plain text: join with `joined`.
    """

    __slots__ = ("fields", "sentence")

    sentence: str
    fields: Mapping[str, object]

    def __new__(cls, sentence: str, fields: Mapping[str, object]) -> Self:
        """Raises KeyError when a gap of the sentence has no field."""
        made = super().__new__(cls, cls.shaped(sentence.format_map(fields)))
        made.sentence = sentence
        made.fields = fields
        return made

    @staticmethod
    def shaped(text: str) -> str:
        """What is done to the whole once its gaps are filled, in any language: nothing."""
        return text

    def __str__(self) -> str:
        """Itself, so that an error made of it keeps it: `str(error)` is what was said."""
        return self

    def __reduce__(self) -> tuple[type[Self], tuple[str, Mapping[str, object]]]:
        """How a copy is made, in this process or another."""
        return type(self), (self.sentence, self.fields)


class Verbatim(str):
    """Text that is the same in every language: what stands in a file, or what a person wrote."""

    __slots__ = ()


class Begun(Said):
    """Text at the beginning of a sentence."""

    __slots__ = ()

    @staticmethod
    def shaped(text: str) -> str:
        """With a large first letter."""
        return text[:1].upper() + text[1:]


class Amid(Said):
    """Text in the middle of a sentence."""

    __slots__ = ()

    @staticmethod
    def shaped(text: str) -> str:
        """With a small first letter."""
        return text[:1].lower() + text[1:]


def said(sentence: str, /, **fields: object) -> Said:
    """The sentence with its gaps filled. Raises KeyError when a gap has no field."""
    return Said(sentence, fields)


def joined(parts: Iterable[str], mark: str = " ") -> str:
    """Several sentences or words after each other with a mark between them, each still to be had in any language."""
    each = list(parts)
    if len(each) == 1:
        return each[0]
    gaps = [f"part{n}" for n in range(len(each))]
    return Said(mark.join(f"{{{gap}}}" for gap in gaps), dict(zip(gaps, each, strict=True)))


def listed(names: Iterable[str]) -> str:
    """`a`, `a and b`, `a, b and c`, to be had in any language; '' without a name."""
    *before, last = list(names) or [""]
    return said("{before} and {last}", before=joined(before, ", "), last=last) if before else last


def begun(text: str) -> str:
    """The text as a sentence begins with it: its first letter is large, whatever the language."""
    return Begun(*_parts(text))


def amid(text: str) -> str:
    """The text as it stands within a sentence: its first letter is small, whatever the language."""
    return Amid(*_parts(text))


def _parts(text: str) -> tuple[str, Mapping[str, object]]:
    return (text.sentence, text.fields) if isinstance(text, Said) else ("{text}", {"text": text})
