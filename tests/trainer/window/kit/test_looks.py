"""The looks: contrast by the published formula, colours that stay apart for all eyes, and nothing drawn past them."""

from __future__ import annotations

import itertools

import numpy as np
import pygame
import pytest

from trainer.window.app import App
from trainer.window.canned import CannedDesk
from trainer.window.kit.looks import LOOKS
from trainer.window.kit.style import (
    FIELD,
    GO,
    GO_WASH,
    INK,
    INK_OVER,
    PAPER,
    PICKED,
    SHEET,
    SOFT,
    STOP,
    STOP_OVER,
    STOP_WASH,
    TAB,
    WARN,
    WARN_WASH,
    WHITE,
    WIRE,
    WIRE_WASH,
    Colour,
)

TEXT_ON = [
    *itertools.product((INK, SOFT, GO, STOP, WARN, WIRE), (PAPER, SHEET, WHITE)),
    *itertools.product((INK,), (TAB, GO_WASH, STOP_WASH, WARN_WASH, WIRE_WASH, PICKED)),
    *((colour, wash) for colour, wash in ((GO, GO_WASH), (STOP, STOP_WASH), (WARN, WARN_WASH), (WIRE, WIRE_WASH))),
    *itertools.product((WHITE,), (INK, INK_OVER, GO, STOP, STOP_OVER)),
]
"""(letters, ground) as they meet on the screens."""

ASKED = {"ordinary": 4.5, "high": 7.0}
"""WCAG 2.2: 1.4.3 (AA) of small text, 1.4.6 (AAA) of the same."""

EYES = {
    "ordinary": np.eye(3),
    "no long waves": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "no middle waves": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "no short waves": np.array(
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
    ),
}
"""Machado, Oliveira and Fernandes 2009, severity 1: what dichromats see, in linear light. Figures from memory."""

APART = 20.0
"""Least distance of two colours in CIELAB: far beyond what is just noticed (about 2.3). Our own measure."""


def linear(colour: Colour) -> np.ndarray:
    """Linear light of a colour of the screen (sRGB, IEC 61966-2-1)."""
    share = np.array(colour) / 255
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def contrast(one: Colour, other: Colour) -> float:
    """Contrast ratio (WCAG 2.2, "contrast ratio" and "relative luminance")."""
    low, high = sorted(float(linear(colour) @ (0.2126, 0.7152, 0.0722)) for colour in (one, other))
    return (high + 0.05) / (low + 0.05)


def lab(light: np.ndarray) -> np.ndarray:
    """CIELAB of linear light under D65 (CIE 15)."""
    to_xyz = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
    xyz = to_xyz @ np.clip(light, 0, 1) / (0.95047, 1.0, 1.08883)
    f = np.where(xyz > (6 / 29) ** 3, np.cbrt(xyz), xyz / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def nearest(colours: list[Colour], eye: np.ndarray) -> float:
    """The least distance of two of the colours for an eye."""
    seen = [lab(eye @ linear(colour)) for colour in colours]
    return min(float(np.linalg.norm(one - other)) for one, other in itertools.combinations(seen, 2))


def test_the_formulas_give_published_figures() -> None:
    """Black on white is 21 to 1; #767676 on white is the lightest grey that passes (4.54); white has L* 100."""
    assert contrast((0, 0, 0), (255, 255, 255)) == pytest.approx(21.0)
    assert contrast((0x76, 0x76, 0x76), (255, 255, 255)) == pytest.approx(4.54, abs=0.01)
    assert lab(linear((255, 255, 255)))[0] == pytest.approx(100.0, abs=0.01)


@pytest.mark.parametrize(("key", "look"), LOOKS.items(), ids=[look.name for look in LOOKS.values()])
def test_letters_can_be_read_in_every_look(key, look) -> None:
    """On every ground that they stand on; and the edge of a field can be seen (1.4.11: 3 to 1)."""
    low = {
        pair: ratio
        for pair in TEXT_ON
        if (ratio := contrast(*(look.colours.get(colour, colour) for colour in pair))) < ASKED[key[0]]
    }
    assert low == {}
    for ground in (PAPER, SHEET, WHITE):
        assert contrast(look.colours.get(FIELD, FIELD), look.colours.get(ground, ground)) >= 3.0


@pytest.mark.parametrize("eye", EYES)
@pytest.mark.parametrize("contrasted", ["ordinary", "high"])
def test_safe_colours_stay_apart_for_all_eyes(eye, contrasted) -> None:
    """Clear, danger, caution, wiring and ink: no two of them come near one another."""
    table = LOOKS[contrasted, "safe"].colours
    assert nearest([table.get(colour, colour) for colour in (GO, STOP, WARN, WIRE, INK)], EYES[eye]) >= APART


def test_the_ordinary_colours_are_why_there_is_a_safe_set() -> None:
    """Danger and caution come near one another for who sees no middle waves."""
    assert nearest([STOP, WARN], EYES["no middle waves"]) < APART / 2


def left_over(surface: pygame.Surface, replaced: set[Colour]) -> set[Colour]:
    """Colours that should have been replaced and still stand in whole areas of a picture."""
    pixels = pygame.surfarray.array3d(surface).reshape(-1, 3).astype(np.int64)
    codes = pixels[:, 0] << 16 | pixels[:, 1] << 8 | pixels[:, 2]
    return {c for c in replaced if int((codes == (c[0] << 16 | c[1] << 8 | c[2])).sum()) > 0}


@pytest.mark.parametrize("page", ["Brief", "Sheet", "Cabinet", "Instruments", "Acceptance"])
def test_everything_on_the_work_screen_is_drawn_in_the_look(work, page) -> None:
    """Changed at once, on every part of the screen, and put back to the pixel."""
    work.page(page)
    work.frame()
    before = pygame.surfarray.array3d(work.app.window)
    work.app.appearance.prefer(contrast="high", colours="safe")
    work.frame()
    look = LOOKS["high", "safe"].colours
    assert left_over(work.app.window, set(look) - set(look.values())) == set()
    work.app.appearance.prefer(contrast="ordinary", colours="ordinary")
    work.frame()
    assert np.array_equal(before, pygame.surfarray.array3d(work.app.window))


def test_the_front_desk_is_drawn_in_the_look() -> None:
    """From the first frame on, when it was chosen before."""
    app = App(CannedDesk())
    app.appearance.prefer(contrast="high")
    app.frame(0.0)
    look = LOOKS["high", "ordinary"].colours
    assert left_over(app.window, set(look) - set(look.values())) == set()
    assert app.window.get_at((4, 400))[:3] == look[PAPER]
