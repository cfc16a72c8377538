"""Golden pictures: a screen may only change on purpose, and for a reason that the commit tells.

Every screen of the album has a picture at each of three sizes of window and two sizes of text. The least window is
looked at whenever the tests run, the others by one command:

    GUDGEON_PICTURES=all pytest tests/trainer/window/test_pictures.py

With `GUDGEON_BLESS=1` before it, pictures that have changed are written anew, all others stay as they are. Look at
each of them before it is committed.
"""

from __future__ import annotations

import os
from pathlib import Path

import numpy as np
import pygame
import pytest

from tests.trainer.window.album import SCREENS
from tests.trainer.window.conftest import Work
from tests.trainer.window.likeness import (
    LEVEL,
    NARROWED,
    Pixels,
    differing,
    keep,
    kept,
    levelled,
    narrowed,
    pixels_of,
    unlike,
)
from trainer.window.kit.style import GO_WASH

GOLDEN = Path(__file__).resolve().parents[2] / "golden" / "window"

EVERY = os.environ.get("GUDGEON_PICTURES") == "all"
BLESS = os.environ.get("GUDGEON_BLESS") == "1"

FORMS = {
    "1280": ((1280, 800), 1.0),
    "1280-large-text": ((1280, 800), 2.0),
    "1920": ((1920, 1080), 1.0),
    "1920-large-text": ((1920, 1080), 2.0),
    "3840": ((3840, 2160), 1.0),
    "3840-large-text": ((3840, 2160), 2.0),
}
"""Folder of the pictures to size of the window [px] and size of text."""

WHOLE = "1280"
"""Its pictures are kept whole; small ones of the others."""

ALWAYS = ("1280", "1280-large-text")

HOW = "GUDGEON_BLESS=1 GUDGEON_PICTURES=all pytest tests/trainer/window/test_pictures.py"
"""What writes changed pictures anew."""

MOST_KB = 6000
"""What all pictures may take [kB]: they are fetched with every clone."""


def check(actual: Pixels, golden: Path, beside: Path, *, small: bool) -> None:
    """Compare a picture with the golden one, or put it in its place; leave what is to be looked at in a folder."""
    shown = narrowed(actual) if small else actual
    expected = kept(golden) if golden.exists() else np.zeros_like(shown)
    same_size = expected.shape == shown.shape
    wrong = differing(expected, shown, small=small) if same_size else np.ones(shown.shape[:2], bool)
    if not unlike(wrong, small=small):
        return
    if BLESS:
        keep(shown, golden, small=small)
        return
    name = f"{golden.parent.name}-{golden.stem}"
    keep(actual, beside / f"{name}-now.png", small=False)
    keep(expected, beside / f"{name}-golden.png", small=False)
    keep(np.repeat(wrong[:, :, None] * np.uint8(255), 3, axis=2), beside / f"{name}-difference.png", small=False)
    pytest.fail(
        f"{golden.stem} ({golden.parent.name}) looks different: {wrong.mean():.2%} of its pixels. What it is "
        f"now, the golden one and the difference are in {beside}. If it is meant to be so: {HOW}, look at what has "
        "changed, and tell the reason in the commit."
    )


@pytest.mark.parametrize("form", list(FORMS) if EVERY else ALWAYS)
@pytest.mark.parametrize("name", SCREENS)
def test_a_screen_looks_as_it_did(name: str, form: str, tmp_path: Path) -> None:
    """Every screen of the album."""
    app = SCREENS[name](*FORMS[form])
    check(pixels_of(app.window), GOLDEN / form / f"{name}.webp", tmp_path, small=form != WHOLE)


def test_every_golden_picture_is_of_a_screen() -> None:
    """None is left of a screen that is gone, and together they stay small."""
    found = {str(path.relative_to(GOLDEN)) for path in GOLDEN.rglob("*") if path.is_file()}
    assert found == {f"{form}/{name}.webp" for form in FORMS for name in SCREENS}
    assert sum((GOLDEN / path).stat().st_size for path in found) < MOST_KB * 1000


@pytest.fixture(params=FORMS)
def desk(request: pytest.FixtureRequest):
    """The list of jobs in each form: the window, a look at it, and whether it is kept small."""
    small = request.param != WHOLE
    app = SCREENS["desk-jobs"](*FORMS[request.param])

    def look() -> Pixels:
        app.root.draw(app.window)
        shown = pixels_of(app.window)
        return narrowed(shown) if small else shown

    return app, look, small


def test_a_word_that_changed_is_seen(desk) -> None:
    """One word on a button, in every form: far less than a thousandth of the screen."""
    app, look, small = desk
    before = levelled(look()) if small else look()
    assert not unlike(differing(before, look(), small=small), small=small)
    app.root.layer.top.who.words = lambda who: "Teacher" if who == "instructor" else who.capitalize()
    assert unlike(differing(before, look(), small=small), small=small)


def test_a_line_that_moved_is_seen(desk) -> None:
    """A box one logical pixel further down, in every form."""
    app, look, small = desk
    before = levelled(look()) if small else look()
    row = app.root.layer.top.who
    row.rect = row.rect.move(0, round(app.root.style.scale))
    assert unlike(differing(before, look(), small=small), small=small)


def test_a_colour_that_changed_is_seen(desk) -> None:
    """A caution on the wash of what is clear."""
    app, look, small = desk
    before = levelled(look()) if small else look()
    foot = app.root.layer.top.children[-1].children[0]
    foot.wash = GO_WASH
    assert unlike(differing(before, look(), small=small), small=small)


def test_grain_of_another_machine_is_no_difference(work: Work) -> None:
    """Letters and edges that came out a little darker or paler everywhere: no other picture."""
    whole = pixels_of(work.app.window).astype(int)
    grain = np.random.default_rng(7).integers(-9, 10, whole.shape)
    other = np.clip(whole + grain, 0, 255).astype(np.uint8)
    whole = whole.astype(np.uint8)
    assert not unlike(differing(whole, other, small=False), small=False)
    small = levelled(narrowed(whole))
    assert not unlike(differing(small, narrowed(other), small=True), small=True)


def test_a_small_picture_keeps_every_channel_within_half_a_level(work: Work, tmp_path: Path) -> None:
    """Written and read again; whole ones to the bit."""
    whole = pixels_of(work.app.window)
    keep(whole, tmp_path / "whole.webp", small=False)
    assert np.array_equal(kept(tmp_path / "whole.webp"), whole)
    small = narrowed(whole)
    keep(small, tmp_path / "small.webp", small=True)
    assert small.shape[:2] == (NARROWED * 800 // 1280, NARROWED)
    assert np.abs(kept(tmp_path / "small.webp").astype(int) - small.astype(int)).max() <= LEVEL // 2


def test_a_picture_that_changed_is_left_to_be_looked_at(work: Work, tmp_path: Path) -> None:
    """Now, golden and difference, and how it is blessed."""
    if BLESS:
        pytest.skip("everything is blessed now")
    shown = pixels_of(work.app.window)
    golden = tmp_path / "1280" / "made-up.webp"
    keep(np.roll(shown, 1, axis=1), golden, small=False)
    with pytest.raises(pytest.fail.Exception, match=r"GUDGEON_BLESS=1.*reason"):
        check(shown, golden, tmp_path, small=False)
    assert sorted(path.name for path in tmp_path.glob("*.png")) == [
        f"1280-made-up-{kind}.png" for kind in ("difference", "golden", "now")
    ]
    now = pygame.image.load(tmp_path / "1280-made-up-now.png")
    assert np.array_equal(pixels_of(now), shown)
