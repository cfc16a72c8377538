"""The plan shows the yard as it is and lets hands work in it: looked at by pixels and by the dumped tree."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pygame
import pytest

from trainer.window.kit.pen import Pen, Sprites
from trainer.window.kit.style import GO, INK, STOP, TAB, WHITE
from trainer.window.plan.frame import frame_places
from trainer.window.plan.ground import CABINET_M, draw_cabinet
from trainer.window.plan.ground_words import draw_ground_words


def colour_near(surface, point, colour, reach=2, within=40) -> bool:
    """Whether a pixel near a point has (about) a colour."""
    x, y = round(point[0]), round(point[1])
    for dx in range(-reach, reach + 1):
        for dy in range(-reach, reach + 1):
            seen = surface.get_at((x + dx, y + dy))[:3]
            if all(abs(a - b) <= within for a, b in zip(seen, colour, strict=True)):
                return True
    return False


def screen_of(work, active, angle, along, off=0.0):
    """Pixels of a point of a leaf."""
    leaf = work.session.observe().leaves[0 if active else 1]
    return work.screen.plan.port.to_screen(*leaf.spot(along, off, angle))


@pytest.mark.parametrize("angles", [(0.0, 0.0), (37.0, 12.0), (95.0, 63.5)])
def test_leaves_lie_where_their_angles_say(work, angles) -> None:
    """Along each leaf's middle the frame is white, at its edges ink; a little further there is neither."""
    work.session.angles = list(angles)
    work.frame()
    surface = work.app.window
    for active, angle in zip((True, False), angles, strict=True):
        middle = [screen_of(work, active, angle, along) for along in (1.0, 1.75, 2.0)]
        assert all(colour_near(surface, point, WHITE, reach=0, within=4) for point in middle)
        half = 5 / work.screen.plan.port.scale
        for along in (1.05, 1.7):
            assert colour_near(surface, screen_of(work, active, angle, along, -half), INK)
        if angle > 5:
            beyond = screen_of(work, active, angle, 1.0, -16 / work.screen.plan.port.scale)
            assert not colour_near(surface, beyond, INK, reach=1)


def test_a_leaf_that_moved_is_no_longer_where_it_was(work) -> None:
    """Nothing of the old picture stays behind."""
    work.session.angles = [50.0, 0.0]
    work.frame()
    old = screen_of(work, True, 50.0, 1.6)
    assert colour_near(work.app.window, old, WHITE, reach=0, within=4)
    work.session.angles = [20.0, 0.0]
    work.frame()
    assert not colour_near(work.app.window, old, WHITE, reach=0, within=4)


def test_the_cover_strip_lies_on_its_face_of_its_leaf(work) -> None:
    """The carrier's tip has the strip on the inside face and none on the outside; the other leaf has none."""
    work.session.angles = [60.0, 60.0]
    work.frame()
    surface, metre = work.app.window, 1 / work.screen.plan.port.scale
    tip = 2.19 - 7 * metre
    inside, outside = (screen_of(work, True, 60.0, tip, off * metre) for off in (9.5, -9.5))
    other = screen_of(work, False, 60.0, tip, 9.5 * metre)
    assert colour_near(surface, inside, TAB, reach=1, within=12)
    assert not colour_near(surface, outside, TAB, reach=1, within=12)
    assert not colour_near(surface, other, TAB, reach=1, within=12)


def test_a_beam_breaks_where_a_body_cuts_it(work) -> None:
    """From the emitter to the body the line is red; behind the body it is not; the words say tripped."""
    work.free()
    work.session.do("place body", {"body": "test body", "x_m": 2.2, "y_m": -0.6})
    work.frame()
    port, surface = work.screen.plan.port, work.app.window

    def reds(x0, x1) -> int:
        (a, y), (b, _y) = port.to_screen(x0, -0.6), port.to_screen(x1, -0.6)
        return sum(surface.get_at((x, round(y)))[:3] == STOP for x in range(round(a), round(b)))

    assert reds(0.3, 1.7) > 30
    assert reds(2.7, 4.1) == 0
    assert work.hand.find("guard", "outer beam")["value"] == "tripped"
    work.session.do("remove body", {"body": "test body"})
    work.frame()
    assert reds(0.3, 1.7) == 0
    assert work.hand.find("guard", "outer beam")["value"] == "clear"
    a, y = port.to_screen(1.0, -0.6)
    assert any(colour_near(surface, (a + n, y), GO, reach=1) for n in range(14))


def test_what_stands_on_the_plan_is_told_in_words(work) -> None:
    """The tree has both leaves with their angles, fitted guards with their state, and bodies."""
    work.session.angles = [12.0, 0.0]
    work.session.do("place body", {"body": "child", "x_m": 1.0, "y_m": -1.5})
    work.session.do("unplug", {"guard": "outer beam"})
    work.frame()
    plan = work.hand.find("drawing", "plan of the yard")
    told = {(child["role"], child["label"]): child["value"] for child in plan["children"]}
    assert told == {
        ("group", "plan tools"): None,
        ("part", "cabinet"): None,
        ("weather", "wind"): "Wind 4.0 m/s · 10 Pa; Beaufort 3, gentle breeze; air 15 °C",
        ("body", "child"): None,
        ("guard", "outer beam"): "unplugged",
        ("leaf", "active"): "12.0°",
        ("leaf", "inactive"): "0.0°",
        ("guard", "stop circuit"): "clear",
    }


def test_a_body_is_carried_by_mouse(work) -> None:
    """Choose it from the menu, move, click: it is placed under the pointer, to a centimetre."""
    work.screen.plan.carry("adult")
    point = tuple(round(v) for v in work.screen.plan.port.to_screen(1.5, -1.2))
    work.hand.move(point)
    work.frame()
    work.hand.click_at(point)
    placed = work.acts("place body")[-1]
    assert placed["body"] == "adult"
    assert placed["x_m"] == pytest.approx(1.5, abs=0.011)
    assert placed["y_m"] == pytest.approx(-1.2, abs=0.011)
    assert work.screen.plan.carrying.body is None


def test_a_body_is_carried_by_keys(work) -> None:
    """Arrows move it a tenth of a metre, with Shift a hundredth; Enter puts it down."""
    work.screen.plan.carry("test body", lying=True)
    start = work.screen.plan.carrying.at_m
    work.hand.key(pygame.K_RIGHT, pygame.K_RIGHT, pygame.K_UP)
    work.hand.key(pygame.K_LEFT, mod=pygame.KMOD_SHIFT)
    work.hand.key(pygame.K_RETURN)
    assert work.acts("place body") == [
        {
            "body": "test body",
            "x_m": round(start[0] + 0.19, 2),
            "y_m": round(start[1] + 0.1, 2),
            "lying": True,
            "turn_deg": 0.0,
        }
    ]


def test_esc_and_the_right_button_put_a_carried_body_back(work) -> None:
    """Nothing is placed."""
    work.screen.plan.carry("adult")
    work.hand.key(pygame.K_ESCAPE)
    work.screen.plan.carry("adult")
    work.hand.click_at(work.screen.plan.rect.center, button=3)
    assert work.screen.plan.carrying.body is None
    assert work.acts("place body") == []


def test_a_body_is_dragged(work) -> None:
    """Down on it, move, up: it stands there now."""
    work.session.do("place body", {"body": "adult", "x_m": 1.0, "y_m": -1.5})
    work.frame()
    start = work.hand.middle(work.hand.find("body", "adult"))
    end = tuple(round(v) for v in work.screen.plan.port.to_screen(2.0, -1.0))
    work.hand.down(start)
    work.hand.move(end)
    work.frame()
    work.hand.up(end)
    moved = work.acts("move body")[-1]
    assert (moved["body"], moved["x_m"]) == ("adult", pytest.approx(2.0, abs=0.011))
    assert moved["y_m"] == pytest.approx(-1.0, abs=0.011)


KINDS = ("test body", "adult", "child", "pram", "dog", "bicycle", "car", "van")


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_body_is_drawn_where_it_is_however_it_is_turned(work, kind) -> None:
    """Its outline stays inside the place it covers, and a quarter turn changes across and along."""
    at = {"body": kind, "x_m": 2.2, "y_m": -3.2}
    covered = []
    for turn in (0.0, 90.0, 37.0):
        work.session.do("place body", {**at, "turn_deg": turn})
        work.frame()
        covered.append(pygame.Rect(work.hand.find("body", kind)["rect"]))
    plain, quarter, _skew = covered
    assert quarter.size == pytest.approx((plain.height, plain.width), abs=2)
    from trainer.window.plan.figures import pieces

    across, along, _high = next(b for b in work.session.observe().bodies if b.name == kind).size_m
    for lying in (False, True):
        for _fill, corners in pieces(kind, across, along, lying):
            assert all(abs(x) <= across / 2 + 1e-9 and abs(y) <= along / 2 + 1e-9 for x, y in corners)


def test_a_body_is_sent_along_a_way_by_mouse(work) -> None:
    """Menu, a corner with Shift, the last click sends it; its way is drawn and it can be stopped."""
    work.session.do("place body", {"body": "dog", "x_m": 1.0, "y_m": -1.5})
    work.frame()
    plan = work.screen.plan
    work.hand.click("body", "dog")
    work.hand.click("option", "Send it on its way…")
    corner, end = (tuple(round(v) for v in plan.port.to_screen(*at)) for at in ((3.0, -1.5), (3.0, 1.0)))
    pygame.key.set_mods(pygame.KMOD_SHIFT)
    work.hand.click_at(corner)
    pygame.key.set_mods(0)
    assert work.acts("walk body") == []
    work.hand.click_at(end)
    sent = work.acts("walk body")[0]
    points = [tuple(float(n) for n in piece.split(",")) for piece in str(sent["path"]).split()]
    assert sent["body"] == "dog"
    assert points == [pytest.approx((3.0, -1.5), abs=0.012), pytest.approx((3.0, 1.0), abs=0.012)]
    work.frame()
    work.hand.click("body", "dog")
    work.hand.click("option", "Stop it")
    assert work.acts("stop body") == [{"body": "dog"}]


def test_a_body_is_sent_by_keys_and_esc_lets_it_stand(work) -> None:
    """Arrows draw the way, Enter sends."""
    work.session.do("place body", {"body": "adult", "x_m": 1.0, "y_m": -1.5})
    work.frame()
    work.screen.plan.send("adult")
    work.hand.key(pygame.K_UP, pygame.K_ESCAPE, pygame.K_RETURN)
    assert work.acts("walk body") == []
    work.screen.plan.send("adult")
    work.hand.key(*[pygame.K_UP] * 10, pygame.K_SPACE, pygame.K_RIGHT, pygame.K_RETURN)
    assert work.acts("walk body") == [{"body": "adult", "path": "1,-0.5 1.1,-0.5", "speed_m_s": 1.2}]


def test_a_released_leaf_is_pushed_by_dragging_it(work) -> None:
    """Only a released leaf is pushed by the drag's angle; the caution of releasing was asked first."""
    tip = tuple(round(v) for v in screen_of(work, True, 0.0, 1.5))
    work.hand.click_at(tip)
    work.hand.key(pygame.K_RETURN)
    assert work.acts("release drive") == []
    work.hand.click("button", "Release the drive")
    assert work.acts("release drive") == [{"leaf": "active"}]
    work.frame()
    work.hand.down(tip)
    work.hand.move(tuple(round(v) for v in screen_of(work, True, 40.0, 1.5)))
    work.hand.up(tuple(round(v) for v in screen_of(work, True, 40.0, 1.5)))
    assert work.acts("push leaf") == [{"leaf": "active", "to_deg": pytest.approx(40.0, abs=1.0)}]


def test_a_click_on_a_beam_offers_the_card(work) -> None:
    """Hold a card before it, and then uncover it: the menu follows how it stands."""
    for kind in ("cover beam", "uncover beam"):
        place = pygame.Rect(work.hand.find("guard", "outer beam")["rect"])
        work.hand.click_at(place.center)
        work.hand.key(pygame.K_RETURN)
        assert work.acts(kind) == [{"guard": "outer beam"}]
        work.frame()


def test_a_force_is_shown_with_what_it_presses_on(work) -> None:
    """A pressed edge shows red at the leaf's tip, and clears again."""
    work.session.angles = [0.0, 40.0]
    work.session.do("press edge", {"guard": "active edge"})
    work.frame()
    tip = screen_of(work, True, 0.0, 2.17)
    assert colour_near(work.app.window, tip, STOP, within=10)
    work.session.do("release edge", {"guard": "active edge"})
    work.frame()
    assert not colour_near(work.app.window, tip, STOP, within=10)


def test_the_lamp_blinks_slowly_and_not_at_all_in_reduced_motion(work) -> None:
    """Once a second while driven; with reduced motion it stays lit."""
    work.session.drive(95.0, 95.0)
    lamp = tuple(round(v) for v in work.screen.plan.port.to_screen(4.58, 0.0))

    def seen() -> set[tuple[int, ...]]:
        colours = set()
        for n in range(20):
            work.app.root.now = n * 0.1
            work.frame()
            colours.add(tuple(work.app.window.get_at(lamp)[:3]))
        return colours

    assert len(seen()) == 2
    work.app.appearance.prefer(calm=True)
    assert len(seen()) == 1


def test_the_past_is_marked_as_the_past(work) -> None:
    """While looking back the plan says so and shows the leaves as they were."""
    work.free()
    work.session.do("press", {"control": "open button"})
    work.session.do("release", {"control": "open button"})
    work.session.let_pass(10.0)
    work.session.look_at(4_000_000)
    work.frame()
    assert float(work.hand.find("leaf", "active")["value"].rstrip("°")) == pytest.approx(24.0, abs=1.0)
    work.session.look_at(None)
    work.frame()
    assert float(work.hand.find("leaf", "active")["value"].rstrip("°")) == pytest.approx(60.0, abs=1.0)


def test_the_wheel_zooms_and_dragging_the_ground_moves_it(work) -> None:
    """Zoomed in, the plan follows the mouse."""
    plan = work.screen.plan
    point = (plan.rect.left + 60, plan.rect.bottom - 60)
    work.hand.move(point)
    work.app.root.handle(pygame.event.Event(pygame.MOUSEWHEEL, x=0, y=2, precise_y=2.0))
    assert plan.port.zoom == pytest.approx(1.15**2)
    before = plan.port.to_plan(point)
    work.hand.down(point)
    work.hand.move((point[0] + 40, point[1] - 30))
    work.hand.up((point[0] + 40, point[1] - 30))
    assert math.dist(plan.port.to_plan((point[0] + 40, point[1] - 30)), before) < 0.02


def test_the_middle_button_moves_the_plan_and_home_shows_all_of_it(work) -> None:
    """Also over a leaf, which it neither pushes nor asks about; Home and the sign at the edge undo it."""
    plan = work.screen.plan
    start = tuple(map(round, screen_of(work, True, 0.0, 1.5)))
    work.app.root.set_focus(plan)
    work.hand.key(pygame.K_PLUS)
    for undo in (lambda: work.hand.key(pygame.K_HOME), lambda: work.hand.click("button", "The whole yard")):
        before = plan.port.to_plan(start)
        work.hand.down(start, button=2)
        end = (start[0] - 50, start[1] + 20)
        work.hand.move(end)
        work.hand.up(end, button=2)
        assert math.dist(plan.port.to_plan(end), before) < 0.02
        assert plan.pushing is None
        assert not work.hand.all("list")
        undo()
        assert (plan.port.zoom, plan.port.shift_m) == (1.0, (0.0, 0.0))


def test_a_body_is_carried_on_by_keys(work) -> None:
    """Stepped to, taken in hand from its menu, moved by arrows, put down."""
    work.session.do("place body", {"body": "adult", "x_m": 1.0, "y_m": -1.5})
    work.frame()
    work.app.root.set_focus(work.screen.plan, shows=True)
    work.hand.key(pygame.K_PAGEDOWN, pygame.K_RETURN, pygame.K_DOWN, pygame.K_RETURN)
    assert work.screen.plan.carrying.body == "adult"
    work.hand.key(pygame.K_RIGHT, pygame.K_UP, pygame.K_RETURN)
    assert work.acts("move body") == [{"body": "adult", "x_m": 1.1, "y_m": -1.4}]


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_nothing_of_the_yard_covers_the_caution(open_job, scale) -> None:
    """A van is put down over the title block: the block looks as before."""
    work = open_job((1280, 800), scale=scale)
    plan = work.screen.plan
    pen = Pen(work.app.window, work.app.root.style, Sprites())
    blocks = frame_places(pen, plan.port, work.session.observe())

    def look() -> list[np.ndarray]:
        work.frame(2)
        work.app.root.toasts.clear()
        work.frame()
        return [pygame.surfarray.array3d(work.app.window.subsurface(place)) for place in (plan.rect, *blocks)]

    yard, *before = look()
    for x in (3.5, 0.0):
        assert work.session.do("place body", {"body": "van", "x_m": x, "y_m": -2.2, "turn_deg": 90.0}).accepted
        with_van, *after = look()
        assert not np.array_equal(yard, with_van)
        assert all(np.array_equal(was, now) for was, now in zip(before, after, strict=True))


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_the_name_of_a_wall_keeps_off_the_cabinet(open_job, scale) -> None:
    """A wall's foot is right behind the cabinet, where its name would lie over the edge of the box."""
    work = open_job((1280, 800), scale=scale)
    plan, view = work.screen.plan, work.session.observe()
    x, y, wide, deep = CABINET_M
    wall = ("shed", view.opening_m - 0.5, y + deep + 0.02, 0.5 + x + 0.3 * wide, 0.5)

    def box(walls: tuple[tuple[str, float, float, float, float], ...]) -> np.ndarray:
        surface = pygame.Surface((1280, 800))
        pen, seen = Pen(surface, work.app.root.style, Sprites()), replace(view, walls=walls, loop=None)
        with pen.words_last():
            draw_ground_words(pen, plan.port, seen)
            place = draw_cabinet(pen, plan.port, seen)
        return pygame.surfarray.array3d(surface.subsurface(place))

    assert np.array_equal(box(()), box((wall,)))
