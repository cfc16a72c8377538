"""The tour: real widgets, by mouse and by keys, shown once, never in the way of the stop button."""

from __future__ import annotations

import pygame
import pytest

from trainer.window.app import App
from trainer.window.canned import CannedDesk
from trainer.window.preferences import Keeper
from trainer.window.tour.stops import STOPS


def titles(work) -> list[str]:
    """What the callout is about, if there is one."""
    tour = work.screen.over.floating
    return [] if tour is None else [tour.title.text]


def test_next_goes_through_all_stops_and_the_last_ends_the_tour(work) -> None:
    """From the menu, with the mouse."""
    work.hand.click("menu", "More")
    work.hand.click("option", "Show me round")
    seen = []
    while titles(work):
        seen += titles(work)
        assert len(seen) <= len(STOPS)
        work.frame()
        work.hand.click("button", "Done" if len(seen) == len(STOPS) else "Next")
    assert seen == [stop.title for stop in STOPS]


def test_keys_alone_walk_the_tour(work) -> None:
    """Enter and the arrows; Esc ends it and lets go of everything, as it always does."""
    work.app.guidance.tour()
    assert work.hand.focus == ("button", "Next")
    work.hand.key(pygame.K_RETURN, pygame.K_RIGHT)
    assert titles(work) == ["Stop"]
    work.hand.key(pygame.K_LEFT, pygame.K_LEFT, pygame.K_LEFT)
    assert titles(work) == ["The yard"]
    work.session.do("press", {"control": "open button"})
    work.hand.key(pygame.K_ESCAPE)
    assert (titles(work), work.session.held) == ([], [])


def test_it_can_be_skipped_and_shown_again(work) -> None:
    """From the sheet of keys too."""
    work.app.guidance.tour()
    work.hand.click("button", "Skip the tour")
    assert titles(work) == []
    work.hand.key_down(pygame.K_SLASH, unicode="?")
    work.hand.click("button", "Show me round")
    assert titles(work) == ["The yard"]


def test_the_screen_stays_in_use_round_it(work) -> None:
    """Stop by key with the focus on the tour, another control by mouse; a press on the slip does nothing."""
    work.app.guidance.tour()
    work.hand.key(pygame.K_s)
    assert work.session.held == ["stop button"]
    work.frame()
    work.hand.key(pygame.K_s)
    work.hand.down(work.hand.middle(work.hand.find("hold button", "Open")))
    assert work.session.held == ["open button"]
    work.hand.up(work.hand.middle(work.hand.find("hold button", "Open")))
    slip = work.screen.over.floating.rect
    work.hand.click_at((slip.left + 3, slip.top + 3))
    assert titles(work) == ["The yard"]


SIZES = [((1280, 800), 1.0), ((1280, 800), 1.5), ((1280, 800), 2.0), ((1920, 1080), 1.0), ((1920, 1080), 2.0)]


@pytest.mark.parametrize(("size", "scale"), [*SIZES, ((3840, 2160), 1.0)])
def test_each_stop_points_at_something_in_sight_and_leaves_the_stop_button_free(open_job, size, scale) -> None:
    """At every size: the callout in the window, its target shown, the stop button under nothing."""
    work = open_job(size, scale=scale)
    work.app.guidance.tour()
    tour = work.screen.over.floating
    for number, stop in enumerate(STOPS):
        tour.go(number)
        work.frame()
        screen = pygame.Rect((0, 0), size)
        assert screen.contains(tour.rect), stop.title
        assert stop.at(work.screen).usable(), stop.title
        assert tour.target.width > 0, stop.title
        assert tour.target.height > 0, stop.title
        assert screen.contains(tour.target), stop.title
        button = work.screen.controls.held["stop button"]
        assert not (button.usable() and button.rect.colliderect(tour.rect)), stop.title
        if stop.title == "Stop":
            assert button.rect == tour.target
            assert work.app.root.layer.top.at(button.rect.center) is button


def test_nothing_is_darkened(work) -> None:
    """Away from the slip and its frame the picture is as it was."""
    before = work.app.window.copy()
    work.app.guidance.tour()
    work.frame()
    for label in ("Stop", "Open"):
        point = pygame.Rect(work.hand.find("hold button", label)["rect"]).topleft
        assert work.app.window.get_at(point) == before.get_at(point)


def test_it_is_shown_once_where_preferences_are_kept(tmp_path) -> None:
    """On the first job ever; on the next start no more. Where nothing is kept it comes only when asked for."""
    shown = []
    for path in (tmp_path / "window.json", tmp_path / "window.json", None):
        desk = CannedDesk()
        app = App(desk, keeper=Keeper(path))
        app._open(lambda desk=desk: desk.start("first-run", "practice", 7))
        app.frame(0.1)
        assert app.work is not None
        shown.append(app.work.over.floating is not None)
        app.appearance.keeper.write()
    assert shown == [True, False, False]
