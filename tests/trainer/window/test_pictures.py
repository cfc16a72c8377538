"""Golden pictures: a screen may only change on purpose.

`GUDGEON_BLESS=1` writes the pictures anew; look at them before they are committed, and say why they changed.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pygame
import pytest

from trainer.window.closeup.subject import MEETING, Subject

GOLDEN = Path(__file__).resolve().parents[2] / "golden" / "window"

MOST_DIFFERING = 0.001
"""Share of pixels that may differ (practice 6)."""

MOST_STEP = 24
"""A pixel differs when one of its channels does by more than this (practice 6)."""


def differing(expected: np.ndarray, actual: np.ndarray) -> np.ndarray:
    """Which pixels differ."""
    return np.any(np.abs(expected.astype(int) - actual.astype(int)) > MOST_STEP, axis=2)


@pytest.fixture
def compare(tmp_path: Path) -> Callable[[pygame.Surface, str], None]:
    """Compare a picture with the golden one of a name; leave both and their difference to be looked at."""

    def check(surface: pygame.Surface, name: str) -> None:
        golden = GOLDEN / f"{name}.png"
        if os.environ.get("GUDGEON_BLESS") == "1":
            GOLDEN.mkdir(parents=True, exist_ok=True)
            pygame.image.save(surface, golden)
            return
        assert golden.exists(), f"there is no golden picture {golden.name}; write it with GUDGEON_BLESS=1"
        expected = pygame.surfarray.array3d(pygame.image.load(golden))
        actual = pygame.surfarray.array3d(surface)
        assert expected.shape == actual.shape
        wrong = differing(expected, actual)
        if wrong.mean() > MOST_DIFFERING:
            for kind, pixels in (
                ("expected", expected),
                ("actual", actual),
                ("difference", np.repeat(wrong[:, :, None] * np.uint8(255), 3, axis=2)),
            ):
                pygame.image.save(pygame.surfarray.make_surface(pixels), tmp_path / f"{name}-{kind}.png")
            pytest.fail(f"{wrong.mean():.2%} of the pixels of {name} differ; look into {tmp_path}")

    return check


def moving(work) -> None:
    """A gate that was reversed by the test body in its beam."""
    work.free()
    work.session.do("set", {"setting": "opens first", "value": "active"})
    work.session.do("place body", {"body": "adult", "x_m": 1.2, "y_m": -1.6})
    work.session.do("press", {"control": "open button"})
    work.session.do("release", {"control": "open button"})
    work.session.let_pass(18.0)
    work.session.do("press", {"control": "close button"})
    work.session.do("release", {"control": "close button"})
    work.session.let_pass(7.0)
    work.session.do("place body", {"body": "test body", "x_m": 2.4, "y_m": -0.6})
    work.session.let_pass(2.0)
    work.frame(2)


def test_the_front_desk(open_job, compare) -> None:
    """The first thing anyone sees."""
    work = open_job()
    work.app.show_desk()
    work.frame(2)
    compare(work.app.window, "front-desk")


@pytest.mark.parametrize(
    ("name", "size", "scale", "page"),
    [
        ("work-sheet", (1280, 800), 1.0, "Sheet"),
        ("work-still", (1920, 1080), 1.0, "Why still"),
        ("work-large-text", (1280, 800), 1.5, ""),
    ],
)
def test_the_work_screen(open_job, compare, name, size, scale, page) -> None:
    """A reversal as it is seen: body in the beam, leaves opening again, the strip behind it."""
    work = open_job(size, scale=scale)
    moving(work)
    if page:
        work.page(page)
    work.app.root.toasts.clear()
    work.frame(2)
    compare(work.app.window, name)


def test_the_wiring_drawing(work, compare) -> None:
    """A plug that is out, a bridge, an open isolator, and the leads of a meter on two screws."""
    for kind, given in (
        ("isolate", {}),
        ("unplug", {"guard": "outer beam"}),
        ("bridge", {"guard": "stop circuit"}),
        ("swap motor leads", {"leaf": "active"}),
    ):
        work.session.do(kind, given)
    work.page("Instruments")
    page = work.screen.folder.page
    page.shelf.choose("multimeter")
    page.bench.put("battery, plus", "red")
    page.bench.put("board supply, minus", "black")
    work.screen.show_wiring(True)
    work.screen._enlarge(True)
    work.frame(2)
    work.screen.wiring.drawing.eye.move(0.0, 190.0)
    work.app.root.toasts.clear()
    work.frame()
    compare(work.app.window, "wiring")


def test_an_instrument_in_place_beside_the_drawing(work, compare) -> None:
    """The face with its reading, least and most; the same reading in the corner of the drawing."""
    work.page("Instruments")
    page = work.screen.folder.page
    page.shelf.choose("multimeter")
    page.bench.put("isolator inlet, live", "red")
    page.bench.put("isolator inlet, neutral", "black")
    given = {"function": "volts dc", "red": "isolator inlet, live", "black": "isolator inlet, neutral"}
    work.session.do("place probes", given)
    work.session.do("read meter")
    work.screen.show_wiring(True)
    work.frame(2)
    work.app.root.toasts.clear()
    work.frame()
    compare(work.app.window, "instrument")


def test_bodies_of_every_kind(work, compare) -> None:
    """From above, turned, one on its way."""
    standing = (
        ("adult", 0.1, 1.6, 0.0),
        ("child", 0.8, 1.6, 0.0),
        ("pram", 1.6, 1.5, 0.0),
        ("dog", 2.6, 1.6, 40.0),
        ("bicycle", 4.0, 1.6, -60.0),
        ("test body", 0.4, 0.8, 0.0),
        ("van", 2.2, -3.0, 90.0),
    )
    for body, x, y, turn in standing:
        work.session.do("place body", {"body": body, "x_m": x, "y_m": y, "turn_deg": turn})
    work.session.do("walk body", {"body": "dog", "path": "1.5,0.7 3.4,0.8"})
    work.frame(2)
    work.app.root.toasts.clear()
    work.frame()
    compare(work.app.window, "bodies")


@pytest.mark.parametrize(
    ("name", "subject"),
    [
        ("closeup-hinge", Subject("hinge", "active")),
        ("closeup-drive", Subject("drive", "inactive")),
        ("closeup-meeting", MEETING),
        ("closeup-leaf", Subject("leaf", "active")),
    ],
)
def test_a_close_up(work, compare, name, subject) -> None:
    """A hinge half way, a drive, the meeting edge, a leaf from the front with the force gauge before it."""
    work.session.angles = [40.0, 25.0]
    gauge = {"leaf": "active", "gap_mm": 300.0, "height_mm": 860.0, "rest": "rigid rest"}
    assert work.session.do("place force gauge", gauge).accepted
    work.frame()
    work.screen.plan.look(subject)
    work.frame()
    work.app.root.toasts.clear()
    work.frame()
    compare(work.app.window.subsurface(work.screen.plan.rect), name)


def test_a_caution(work, compare) -> None:
    """The moment before something that would hurt someone."""
    work.screen.hands.do("learn travel")
    work.frame(2)
    compare(work.app.window, "caution")


def test_the_debrief(work, compare) -> None:
    """The last thing of a job."""
    work.session.do("make safe", {"reason": "no parts"})
    work.frame(2)
    work.app.root.toasts.clear()
    work.frame()
    compare(work.app.window, "debrief")


def test_a_line_that_moved_by_a_pixel_is_noticed(work, compare) -> None:
    """The comparison can fail: everything one pixel to the right is another picture."""
    before = pygame.surfarray.array3d(work.app.window)
    after = np.roll(before, 1, axis=0)
    assert differing(before, after).mean() > MOST_DIFFERING
    assert differing(before, before.copy()).mean() == 0
