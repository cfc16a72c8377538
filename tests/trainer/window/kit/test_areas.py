"""Scroll areas, tables, tabs and sliders: by wheel, mouse and keys."""

from __future__ import annotations

import pygame
import pytest

from trainer.window.kit.boxes import Column as Stack
from trainer.window.kit.button import Button
from trainer.window.kit.scroll import Scroll
from trainer.window.kit.slider import Slider
from trainer.window.kit.table import Column, Table
from trainer.window.kit.tabs import IndexTabs


@pytest.fixture
def log() -> list[object]:
    """What happened, in order."""
    return []


def test_focus_is_scrolled_into_sight(stage) -> None:
    """Tabbing to a button below the edge brings it into the area."""
    buttons = [Button(f"b{n}", lambda: None) for n in range(30)]
    area = Scroll(Stack(*buttons), height=200, grow=0)
    hand = stage(area)
    for _ in range(20):
        hand.key(pygame.K_TAB)
    assert hand.focus == ("button", "b19")
    assert area.rect.contains(buttons[19].rect)
    hand.key(pygame.K_TAB, mod=pygame.KMOD_SHIFT)
    assert area.rect.contains(buttons[18].rect)


def test_what_is_pressed_stays_under_the_mouse(stage, log) -> None:
    """Something half in sight isn't scrolled by the press: what the mouse is on is what is pressed."""

    class Tall(Button):
        def press(self, point, button) -> bool:
            log.append(point[1] - self.rect.top)
            return True

    tall = Tall("tall", lambda: None)
    tall.fixed_height = 400.0
    area = Scroll(Stack(Button("head", lambda: None), tall), height=200, grow=0)
    hand = stage(area)
    point = (tall.rect.centerx, area.rect.bottom - 6)
    wanted = point[1] - tall.rect.top
    hand.click_at(point)
    assert log == [wanted]
    assert area.offset == 0


def test_what_is_scrolled_out_of_sight_cant_be_clicked(stage, log) -> None:
    """A click above the area doesn't reach what was scrolled there."""
    buttons = [Button(f"b{n}", lambda n=n: log.append(n)) for n in range(30)]
    area = Scroll(Stack(*buttons), height=200, grow=0)
    hand = stage(Button("above", lambda: log.append("above")), area)
    hand.move(area.rect.center)
    hand.root.handle(pygame.event.Event(pygame.MOUSEWHEEL, x=0, y=-1, precise_y=-1.0))
    assert area.offset > 0
    hidden = next(button for button in buttons if button.rect.bottom <= area.rect.top)
    hand.click_at(hidden.rect.center)
    assert not any(isinstance(n, int) for n in log)


def test_the_bar_drags_and_the_ends_are_ends(stage) -> None:
    """Dragging the bar to the foot shows the last row, further changes nothing."""
    area = Scroll(Stack(*(Button(f"b{n}", lambda: None) for n in range(30))), height=200, grow=0)
    hand = stage(area)
    bar = area._bar(hand.root.style)
    hand.down(bar.center)
    hand.move((bar.centerx, 480))
    assert area.offset == area._content - area.rect.height
    hand.move((bar.centerx, 20))
    hand.up((bar.centerx, 20))
    assert area.offset == 0


def test_a_table_of_a_hundred_thousand_tells_and_draws_only_what_is_in_sight(stage) -> None:
    """The tree holds the rows in sight; End shows the last one."""
    table = Table("log", [Column("n"), Column("text")], grow=1.0)
    hand = stage(table)
    table.show([(str(n), f"line {n}") for n in range(100_000)])
    rows = hand.all("row")
    assert (hand.find("table", "log")["value"], len(rows)) == (100_000, table._fitting())
    assert rows[0]["label"] == "0 · line 0"
    hand.key(pygame.K_TAB, pygame.K_END)
    assert hand.all("row")[-1]["label"] == "99999 · line 99999"


def test_a_row_is_marked_by_keys_and_taken_by_enter(stage, log) -> None:
    """Arrows mark and say so; Enter takes the marked one; a second click on it as well."""
    table = Table("jobs", [Column("name")], grow=1.0, on_mark=lambda n: log.append(("mark", n)),
                  on_take=lambda n: log.append(("take", n)))  # fmt: skip
    hand = stage(table)
    table.show([("a",), ("b",), ("c",)])
    hand.key(pygame.K_TAB, pygame.K_DOWN, pygame.K_DOWN, pygame.K_RETURN)
    assert log == [("mark", 0), ("mark", 1), ("take", 1)]
    hand.click("row", "c")
    hand.click("row", "c")
    assert log[3:] == [("mark", 2), ("take", 2)]


def test_a_log_stays_at_its_end_unless_one_scrolled_back(stage) -> None:
    """New rows are followed from the end, and leave a reader further up in peace."""
    table = Table("log", [Column("text")], grow=1.0, follow=True)
    hand = stage(table)
    table.show([(f"{n}",) for n in range(200)])
    hand.root.lay_out()
    table.first = 200 - table._fitting()
    table.show([(f"{n}",) for n in range(210)])
    assert hand.all("row")[-1]["label"] == "209"
    table.first = 50
    table.show([(f"{n}",) for n in range(220)])
    assert hand.all("row")[0]["label"] == "50"


def test_tabs_turn_by_click_and_arrows(stage, log) -> None:
    """Arrows go round; a click takes the tab under it."""
    tabs = IndexTabs("folder", ["Brief", "Survey", "Sheet"], log.append)
    hand = stage(tabs)
    hand.click_at(tabs.cell("Sheet").center)
    hand.key(pygame.K_DOWN, pygame.K_UP)
    assert log == ["Sheet", "Brief", "Sheet"]


def test_a_slider_steps_jumps_and_stays_on_its_steps(stage, log) -> None:
    """Arrows step, Home and End jump, the mouse lands on the nearest step."""
    slider = Slider("text", 1.0, 1.0, 2.0, 0.1, log.append)
    hand = stage(slider)
    hand.key(pygame.K_TAB, pygame.K_RIGHT, pygame.K_END, pygame.K_RIGHT, pygame.K_HOME)
    assert log == [1.1, 2.0, 1.0]
    line = slider._line
    hand.down((line.left + round(line.width * 0.52), line.top))
    assert log[-1] == 1.5
    hand.move((line.right + 50, line.top))
    hand.up((line.right + 50, line.top))
    assert log[-1] == 2.0
