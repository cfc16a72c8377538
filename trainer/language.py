"""The language that people are spoken to: one for the whole process, English until another is chosen.

Everything a person reads goes through `_` where it is shown or written, never where it is made: what is made, kept
and compared is English (see `sim.said`).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from sim.said import Said, Verbatim

PARTED: Final = ", "
"""Between the parts of a name."""

_translate: Callable[[str], str] = str
_tag = "en"


def _(text: str) -> str:
    """The text in the language spoken, with what stands in its gaps; nothing stays nothing, for which a catalogue has
    its own header."""
    if isinstance(text, Verbatim):
        return text
    if isinstance(text, Said):
        fields = {name: _field(field) for name, field in text.fields.items()}
        return text.shaped(_translate_if_any(text.sentence).format_map(fields))
    return _translate_if_any(text)


def speak(translate: Callable[[str], str], tag: str = "en") -> None:
    """Take another language from now on; `translate` turns an English sentence into it, `tag` is what pages are
    marked with (BCP 47: `es`)."""
    global _translate, _tag
    _translate, _tag = translate, tag


def spoken() -> str:
    """The tag of the language spoken."""
    return _tag


def _translate_if_any(text: str) -> str:
    """What the catalogue has; a name of several parts (`outer beam plug, contact pole`) part by part."""
    if not text:
        return ""
    translated = _translate(text)
    if translated == text and PARTED in text and _translate is not str:
        return PARTED.join(map(_translate, text.split(PARTED)))
    return translated


def _field(field: object) -> object:
    return _(field) if isinstance(field, str) else field
