"""Text runs: each distinct line of text is drawn once and kept, since text is what a frame costs."""

from __future__ import annotations

from collections import OrderedDict
from enum import Enum
from pathlib import Path
from typing import Final

import pygame

from trainer.window.kit.style import Colour

MOST_RUNS: Final = 1500
"""Runs kept; the oldest unused go first."""


class Face(Enum):
    """The shipped fonts; the value is the file."""

    REGULAR = "B612-Regular.otf"
    BOLD = "B612-Bold.otf"
    ITALIC = "B612-Italic.otf"
    MONO = "B612Mono-Regular.otf"

    __hash__ = object.__hash__  # there is one of each, and it is in the key of every text that is drawn


class Glyphs:
    """Fonts by face and size, runs by everything that changes their pixels."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._fonts: dict[tuple[Face, int], pygame.font.Font] = {}
        self._runs: OrderedDict[tuple[str, Face, int, Colour, int], pygame.Surface] = OrderedDict()
        self._widths: OrderedDict[tuple[str, Face, int], int] = OrderedDict()
        self._wraps: OrderedDict[tuple[str, Face, int, int], tuple[str, ...]] = OrderedDict()
        self._elided: OrderedDict[tuple[str, Face, int, int], str] = OrderedDict()

    def font(self, face: Face, size: int) -> pygame.font.Font:
        """The font of a face at a size [px]."""
        found = self._fonts.get((face, size))
        if found is None:
            found = pygame.font.Font(self._folder / face.value, size)
            self._fonts[face, size] = found
        return found

    def height(self, face: Face, size: int) -> int:
        """Height of one line [px]."""
        return self.font(face, size).get_height()

    def width(self, text: str, face: Face, size: int) -> int:
        """Width of one line [px]."""
        key = (text, face, size)
        found = self._widths.get(key)
        if found is None:
            found = self._widths[key] = self.font(face, size).size(text)[0]
            if len(self._widths) > MOST_RUNS:
                self._widths.popitem(last=False)
        return found

    def run(self, text: str, face: Face, size: int, colour: Colour, spacing: int = 0) -> pygame.Surface:
        """The drawn line; `spacing` [px] is put between letters."""
        key = (text, face, size, colour, spacing)
        found = self._runs.get(key)
        if found is not None:
            self._runs.move_to_end(key)
            return found
        font = self.font(face, size)
        drawn = self._spaced(font, text, colour, spacing) if spacing else font.render(text, True, colour)
        self._runs[key] = drawn
        if len(self._runs) > MOST_RUNS:
            self._runs.popitem(last=False)
        return drawn

    @staticmethod
    def _spaced(font: pygame.font.Font, text: str, colour: Colour, spacing: int) -> pygame.Surface:
        letters = [font.render(letter, True, colour) for letter in text]
        width = sum(letter.get_width() + spacing for letter in letters)
        out = pygame.Surface((max(width, 1), font.get_height()), pygame.SRCALPHA)
        x = 0
        for letter in letters:
            out.blit(letter, (x, 0))
            x += letter.get_width() + spacing
        return out

    def wrap(self, text: str, face: Face, size: int, width: int) -> tuple[str, ...]:
        """The text broken into lines no wider than `width` [px]; a word that is wider alone is broken."""
        key = (text, face, size, width)
        found = self._wraps.get(key)
        if found is None:
            lines: list[str] = []
            for paragraph in text.split("\n"):
                lines += self._broken(paragraph, face, size, max(width, 8))
            found = self._wraps[key] = tuple(lines)
            if len(self._wraps) > MOST_RUNS:
                self._wraps.popitem(last=False)
        return found

    def _broken(self, paragraph: str, face: Face, size: int, width: int) -> list[str]:
        lines: list[str] = []
        line = ""
        for word in paragraph.split(" "):
            longer = f"{line} {word}" if line else word
            if self.width(longer, face, size) <= width:
                line = longer
                continue
            if line:
                lines.append(line)
            while len(word) > 1 and self.width(word, face, size) > width:
                cut = self._fitting(word, face, size, width)
                lines.append(word[:cut])
                word = word[cut:]
            line = word
        return [*lines, line]

    def _fitting(self, word: str, face: Face, size: int, width: int) -> int:
        cut = len(word) - 1
        while cut > 1 and self.width(word[:cut], face, size) > width:
            cut -= 1
        return max(cut, 1)

    def elide(self, text: str, face: Face, size: int, width: int) -> str:
        """The text, or its beginning and an ellipsis, so that it is no wider than `width` [px]."""
        if self.width(text, face, size) <= width:
            return text
        key = (text, face, size, width)
        found = self._elided.get(key)
        if found is None:
            low, high = 0, len(text)
            while low < high:
                middle = (low + high + 1) // 2
                if self.width(text[:middle].rstrip() + "…", face, size) <= width:
                    low = middle
                else:
                    high = middle - 1
            found = self._elided[key] = text[:low].rstrip() + "…" if low else ""
            if len(self._elided) > MOST_RUNS:
                self._elided.popitem(last=False)
        return found
