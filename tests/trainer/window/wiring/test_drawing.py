"""The wiring drawing in the window: leads by mouse and by keys, pan and zoom, names, and where it stands."""

from __future__ import annotations

import pygame
import pytest

from trainer.window.wiring.drawing import BOTH_SIDES


@pytest.fixture
def drawing(work):
    """The drawing beside the cabinet's page."""
    work.page("Cabinet")
    return work.screen.wiring.drawing


def leads(work) -> dict[str, str]:
    """Terminal to the lead that is on it, as the tree tells."""
    return {told["label"]: told["value"] for told in work.hand.all("terminal") if told["value"]}


def at(drawing, name: str) -> tuple[int, int]:
    """The pixel of a screw, brought into sight."""
    x, y = drawing.layout.spots[name].at
    drawing.eye.show((x - 40, y - 12, 80, 24))
    return drawing.eye.to_screen((x, y))


def test_the_cabinet_page_brings_the_drawing_and_another_page_the_yard(work) -> None:
    """Who goes to the cabinet looks into it; Instruments leaves it as it is."""
    assert (work.screen.plan.visible, work.screen.wiring.visible) == (True, False)
    for page, shown in (("Cabinet", True), ("Instruments", True), ("Sheet", False), ("Instruments", False)):
        work.page(page)
        assert (work.screen.wiring.visible, work.screen.plan.visible) == (shown, not shown)
    work.hand.key(pygame.K_F7)
    work.frame()
    assert work.hand.find("wiring drawing", "wiring drawing")


def test_leads_are_put_by_mouse(work, drawing) -> None:
    """Left is red, right is black, and a click beside a screw is none."""
    work.hand.click_at(at(drawing, "isolator outlet, live"))
    work.hand.click_at(at(drawing, "isolator outlet, neutral"), button=3)
    x, y = at(drawing, "earth bar, earth")
    work.hand.click_at((x + 40, y + 22))
    work.frame()
    assert leads(work) == {"isolator outlet, live": "red", "isolator outlet, neutral": "black"}


def test_leads_are_put_by_keys_alone(work, drawing) -> None:
    """Arrows go from screw to screw; R and B put a lead, Enter the next one, X takes both off."""
    work.app.root.set_focus(drawing, shows=True)
    work.frame()
    assert drawing.mark == "accessory supply, plus"
    work.hand.key(pygame.K_r, pygame.K_DOWN, pygame.K_b)
    assert leads(work) == {"accessory supply, plus": "red", "accessory supply, minus": "black"}
    work.hand.key(pygame.K_RIGHT)
    assert drawing.mark == "radio receiver, minus"
    work.hand.key(pygame.K_UP, pygame.K_RETURN)
    assert leads(work) == {"radio receiver, plus": "red"}
    work.hand.key(pygame.K_x)
    assert leads(work) == {}


def test_every_screw_can_be_reached_by_arrows(work, drawing) -> None:
    """From the first one, no screw is an island."""
    from trainer.window.wiring.drawing import STEPS, neighbour

    seen, edge = {drawing.mark}, [drawing.mark]
    while edge:
        found = {neighbour(drawing.layout, mark, way) for mark in edge for way in STEPS.values()}
        edge = sorted(found - seen)
        seen.update(edge)
    assert set(drawing.layout.spots) - seen == set()


def test_the_marked_screw_stays_in_sight(work, drawing) -> None:
    """Going down by keys moves the sheet."""
    work.app.root.set_focus(drawing, shows=True)
    for _ in range(40):
        work.hand.key(pygame.K_DOWN)
        assert drawing.rect.collidepoint(drawing.eye.to_screen(drawing.layout.spots[drawing.mark].at))
    assert drawing.eye.corner[1] < drawing.rect.top - 200


def test_what_is_under_the_mouse_is_named(work, drawing) -> None:
    """A terminal with a warning while it may be live, a core with both its ends."""
    work.hand.move(at(drawing, "isolator inlet, live"))
    assert "Isolator inlet, live. May be live." in drawing.help
    a, b = (drawing.layout.spots[f"isolator {end}, earth"].at for end in ("inlet", "outlet"))
    work.hand.move(drawing.eye.to_screen(((a[0] + b[0]) / 2, a[1])))
    assert drawing.help == "Lead, isolator inlet, earth: isolator inlet, earth → isolator outlet, earth"


def test_the_sheet_is_dragged_scrolled_and_zoomed(work, drawing) -> None:
    """Under the pointer stays under the pointer; the sheet never leaves the window."""
    point = drawing.rect.center
    before = drawing.eye.to_sheet(point)
    drawing.eye.zoom_at(point, 1.6)
    assert drawing.eye.to_sheet(point) == pytest.approx(before, abs=0.6)
    work.hand.down(point)
    work.hand.move((point[0] - 90, point[1] - 70))
    work.hand.up((point[0] - 90, point[1] - 70))
    moved = drawing.eye.to_sheet(point)
    assert (moved[0] - before[0]) * drawing.eye.per_unit == pytest.approx(90, abs=1.5)
    assert leads(work) == {}, "a drag puts no lead"
    for _ in range(40):
        drawing.wheel(-5.0, point)
    assert drawing.eye.to_screen(drawing.layout.size)[1] == pytest.approx(drawing.rect.bottom, abs=2)


def test_the_enlarged_drawing_takes_the_whole_middle_and_both_sides(work, drawing) -> None:
    """A wide drawing is for a wide place; the way back is beside it."""
    assert drawing.rect.width < BOTH_SIDES
    narrow = drawing.layout.size
    work.hand.click("button", "Enlarge")
    work.frame()
    assert drawing.rect.width > 1200
    assert drawing.layout.size[1] < 0.7 * narrow[1]
    assert not work.screen.folder.visible
    work.hand.click("button", "Back to the side")
    work.frame()
    assert work.screen.folder.visible
    work.hand.click("button", "Yard")
    work.frame()
    assert work.screen.plan.visible


def test_the_drawing_follows_the_hands(work, drawing) -> None:
    """Unplugged, isolated, exchanged: the next frame shows it."""
    work.session.do("unplug", {"guard": "outer beam"})
    work.session.do("isolate")
    work.session.do("swap motor leads", {"leaf": "active"})
    work.frame()
    cores = {told["label"]: told["value"] for told in work.hand.all("core")}
    assert "(open)" in cores["isolator, live pole"]
    assert "active leaf motor, minus →" in cores["active leaf motor, plus core"]
    assert not next(box for box in drawing.layout.boxes if box.part == "outer beam plug").closed


def test_a_still_drawing_is_painted_once(work, drawing, monkeypatch) -> None:
    """Frames in which nothing of the sheet changed don't draw it again."""
    work.frame(2)
    painted = []
    monkeypatch.setattr(drawing, "paint", lambda pen: painted.append(pen))
    work.frame(5, wall_s=1 / 60)
    drawing.bench.put("battery, plus", "red")
    work.frame(2)
    assert painted == []
    drawing.eye.move(0.0, 40.0)
    work.frame()
    assert len(painted) == 1


@pytest.mark.parametrize(("size", "scale"), [((1280, 800), 1.0), ((1280, 800), 2.0), ((3840, 2160), 1.0)])
def test_the_drawing_has_room_at_any_size(open_job, size, scale) -> None:
    """In the place of the yard, buttons inside the window, and words never smaller than can be read."""
    work = open_job(size, scale=scale)
    work.screen.show_wiring(True)
    work.frame(2)
    drawing = work.screen.wiring.drawing
    window = pygame.Rect((0, 0), size)
    assert window.contains(drawing.rect)
    assert all(window.contains(button.rect) for button in work.screen.wiring.walk() if button.role == "button")
    assert min(drawing.rect.size) > 200
    assert 10.5 * drawing.eye.per_unit >= 8.9
