"""Metres to pixels and back; leaves and rams lie where geometry says."""

from __future__ import annotations

import pygame
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.window.plan.viewport import NEAREST, Viewport

AREA = pygame.Rect(30, 40, 760, 480)
METRES = st.floats(-4, 8, allow_nan=False)


@given(x=METRES, y=METRES, zoom=st.floats(1, NEAREST), shift=st.tuples(st.floats(-2, 2), st.floats(-2, 2)))
def test_there_and_back(x, y, zoom, shift) -> None:
    """A point comes back within half a pixel, whatever the zoom and the shift."""
    port = Viewport(4.4, 2.2, AREA, zoom, shift)
    sx, sy = port.to_screen(x, y)
    bx, by = port.to_plan((round(sx), round(sy)))
    assert abs(bx - x) <= 0.51 / port.scale
    assert abs(by - y) <= 0.51 / port.scale


def test_inside_is_up_and_along_is_right() -> None:
    """The plan's y grows upwards on the screen, x to the right, both to one scale."""
    port = Viewport(4.4, 2.2, AREA)
    x0, y0 = port.to_screen(0, 0)
    x1, y1 = port.to_screen(1, 1)
    assert x1 - x0 == pytest.approx(port.scale)
    assert y0 - y1 == pytest.approx(port.scale)


def test_the_whole_yard_is_in_sight_at_first() -> None:
    """Open leaves, both posts and the ground before the opening lie inside the area."""
    for size in ((760, 480), (400, 260), (1100, 700)):
        port = Viewport(4.4, 2.2, pygame.Rect((0, 0), size))
        for point in ((-0.4, 0), (4.8, 0), (0, 2.2), (4.4, 2.2), (2.2, -1.9)):
            assert pygame.Rect((0, 0), size).collidepoint(port.to_screen(*point))


def test_zoom_keeps_what_is_under_the_pointer() -> None:
    """Zooming in at a point leaves that point where it was."""
    port = Viewport(4.4, 2.2, AREA)
    point = (300, 250)
    before = port.to_plan(point)
    port.zoom_at(point, 1.5)
    assert port.to_plan(point) == pytest.approx(before)
    assert port.zoom == 1.5
    port.fit()
    assert (port.zoom, port.shift_m) == (1.0, (0.0, 0.0))


def test_leaves_that_open_outwards_are_in_sight_as_well() -> None:
    """The same room is shown, mirrored: open leaves outside, and the ground inside where the drives stand."""
    for size in ((760, 480), (400, 260), (1100, 700)):
        port = Viewport(4.4, 2.2, pygame.Rect((0, 0), size), outwards=True)
        for point in ((-0.4, 0), (4.8, 0), (0, -2.2), (4.4, -2.2), (2.2, 1.9)):
            assert pygame.Rect((0, 0), size).collidepoint(port.to_screen(*point))
