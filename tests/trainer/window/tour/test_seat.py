"""A callout sits beside what it points at, inside the window, and off what has to stay free."""

from __future__ import annotations

import pygame
from hypothesis import given
from hypothesis import strategies as st

from trainer.window.tour.seat import seat_for

SCREEN = pygame.Rect(0, 0, 1280, 800)
GAP = 14


def rects(most: int = 300) -> st.SearchStrategy[pygame.Rect]:
    """Rectangles inside the screen."""
    return st.builds(
        lambda x, y, w, h: pygame.Rect(x, y, w, h).clip(SCREEN),
        st.integers(0, SCREEN.width - 1),
        st.integers(0, SCREEN.height - 1),
        st.integers(1, most),
        st.integers(1, most),
    )


@given(rects(1280), rects(100), st.integers(200, 640), st.integers(90, 330))
def test_it_is_inside_the_window_and_off_the_stop_button(target, stop, wide, high) -> None:
    """Whatever it points at and wherever the stop button is: there is room on one of its sides."""
    seat = seat_for((wide, high), target, SCREEN, [stop], GAP)
    assert seat.size == (wide, high)
    assert SCREEN.inflate(-2 * GAP, -2 * GAP).contains(seat)
    assert not seat.colliderect(stop)


@given(rects())
def test_it_covers_no_small_thing_that_it_points_at(target) -> None:
    """With nothing else to keep free."""
    assert not seat_for((330, 150), target, SCREEN, [], GAP).colliderect(target)


def test_it_sits_near() -> None:
    """Under a button in the corner, not across the window."""
    assert seat_for((330, 150), pygame.Rect(1200, 10, 60, 32), SCREEN, [], GAP) == pygame.Rect(936, 56, 330, 150)
