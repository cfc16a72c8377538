"""Rules that hold on every screen of the album: help for whatever can be used, targets that can be hit, letters that
can be read."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import pygame
import pytest

from tests.trainer.window.album import SCREENS
from tests.trainer.window.kit.test_looks import ASKED, contrast
from tests.trainer.window.likeness import pixels_of
from tests.trainer.window.test_help import helpless
from trainer.window.app import App
from trainer.window.kit.button import Button
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Label
from trainer.window.kit.looks import LOOKS
from trainer.window.kit.pen import Pen
from trainer.window.kit.style import FAINT, INK, TARGET, TEXT, Colour

LARGE_ASKED = {"ordinary": 3.0, "high": 4.5}
"""WCAG 2.2: 1.4.3 (AA) and 1.4.6 (AAA) of large text."""

LARGE_PX = 24.0
LARGE_BOLD_PX = 18.66
"""From these sizes on text is large (WCAG 2.2, "large scale": 18 point, or 14 point and bold)."""

MOST_UNREAD = 0.1
"""Share of a word's pixels that may lie on a line that crosses it."""


@pytest.fixture(scope="module", params=SCREENS)
def shown(request: pytest.FixtureRequest) -> App:
    """Each screen once, at the least size and ordinary text."""
    pygame.display.init()
    pygame.font.init()
    return SCREENS[request.param]((1280, 800), 1.0)


def small_targets(app: App) -> list[tuple[str, str, tuple[int, int]]]:
    """What can be used on the top layer and is smaller than a target in either way; options in a row, too."""
    found = []
    for told in _usable(app.root.layer.top.tree()):
        width, height = told["rect"][2:]
        if min(width, height) < TARGET:
            found.append((told["role"], told["label"], (width, height)))
    return found


PRESSED = {"button", "hold button", "tick box", "menu", "dropdown", "text entry", "number entry", "slider", "option",
           "job", "row", "force point"}  # fmt: skip
"""Roles of what is pressed with a pointer."""


def _usable(told: dict[str, Any], enabled: bool = True) -> Iterator[dict[str, Any]]:
    enabled = enabled and told["enabled"]
    if told["role"] in PRESSED and enabled and told["rect"][2] > 0:
        yield told
    for child in told.get("children", ()):
        yield from _usable(child, enabled)


def test_whatever_can_be_used_has_help(shown) -> None:
    """Under the pointer or at the focus, not even by what it lies in."""
    shown.root.lay_out()
    assert helpless(shown.root) == []


def test_whatever_can_be_pressed_can_be_hit(shown) -> None:
    """At least 32 logical pixels each way (our own measure; WCAG 2.2, 2.5.8 asks for 24)."""
    shown.root.lay_out()
    assert small_targets(shown) == []


def test_a_small_target_is_found(stage) -> None:
    """The rule can fail."""
    button = Button("Go", lambda: None, width=80.0)
    button.fixed_height = 20.0
    hand = stage(button)
    app: Any = type("Window", (), {"root": hand.root})
    assert [(role, label) for role, label, _size in small_targets(app)] == [("button", "Go")]


class Read:
    """What a pen wrote and can't be read: ink against the ground under it. What can't be used now is drawn faint and
    is exempt (WCAG 2.2, 1.4.3)."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.pale: list[tuple[str, float]] = []
        self.contrasted = "ordinary"
        write = Pen.text

        def text(pen: Pen, words: str, at: Any, size: float = TEXT, colour: Any = INK, face: Any = Face.REGULAR,
                 *rest: Any, **more: Any) -> pygame.Rect:  # fmt: skip
            wide, high = 2 * pen.style.width(words, size, face) + 80, 2 * pen.style.line(size, face)
            round_it = pygame.Rect(0, 0, wide, high)
            round_it.center = round(at[0]), round(at[1])
            round_it.clamp_ip(pen.surface.get_rect())
            round_it = round_it.clip(pen.surface.get_rect())
            before = pen.surface.subsurface(round_it).copy()
            place = write(pen, words, at, size, colour, face, *rest, **more).clip(round_it)
            if words.strip() and colour != FAINT and place.size > (0, 0):
                ground = before.subsurface(place.move(-round_it.left, -round_it.top))
                self._judge(words, pen, ground, place, size, colour, face)
            return place

        monkeypatch.setattr(Pen, "text", text)

    def _judge(
        self,
        words: str,
        pen: Pen,
        before: pygame.Surface,
        place: pygame.Rect,
        size: float,
        colour: Colour,
        face: Face,
    ) -> None:
        after = pygame.surfarray.array3d(pen.surface.subsurface(place)).astype(int)
        ground = pygame.surfarray.array3d(before).astype(int)
        changed = np.abs(after - ground).max(axis=2)
        if not changed.any():
            return
        grounds, counts = np.unique(ground[changed > changed.max() / 2], axis=0, return_counts=True)
        large = size * pen.style.scale >= (LARGE_BOLD_PX if face is Face.BOLD else LARGE_PX)
        asked = (LARGE_ASKED if large else ASKED)[self.contrasted]
        ratios = np.array([contrast(pen.style.seen(colour), _colour(each)) for each in grounds])
        if counts[ratios < asked].sum() > MOST_UNREAD * counts.sum():
            self.pale.append((words, round(float(ratios.min()), 2)))


def _colour(channels: np.ndarray) -> Colour:
    red, green, blue = (int(v) for v in channels)
    return red, green, blue


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> Read:
    """What is written from now on."""
    return Read(monkeypatch)


@pytest.mark.parametrize("look", LOOKS, ids=", ".join)
def test_all_that_is_written_can_be_read(shown, read, look) -> None:
    """Ink against the ground that is under each word, in every look."""
    read.contrasted = look[0]
    before = shown.appearance.now
    shown.appearance.prefer(contrast=look[0], colours=look[1])
    shown.root.draw(pygame.Surface((1280, 800)))
    shown.appearance.prefer(contrast=before.contrast, colours=before.colours)
    assert read.pale == []


def test_pale_words_are_found(stage, read) -> None:
    """The rule can fail: #8c8c8c on the sheet is about 3.2 to 1."""
    hand = stage(Label("hardly to be read", colour=(0x8C, 0x8C, 0x8C)), Label("easily read"))
    surface = pygame.Surface((600, 500))
    hand.root.draw(surface)
    assert [words for words, _ratio in read.pale] == ["hardly to be read"]
    assert pixels_of(surface).shape == (500, 600, 3)
