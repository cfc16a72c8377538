"""Nothing that can be used is left without a word on it: resting the pointer or the focus there tells what it is."""

from __future__ import annotations

from collections.abc import Iterator

import pygame
import pytest

from trainer.window.app import App
from trainer.window.canned import CannedDesk
from trainer.window.folder.repair import acts_of
from trainer.window.kit.button import Button
from trainer.window.kit.root import HOVER_WAIT_S, Root
from trainer.window.kit.tabs import IndexTabs
from trainer.window.kit.widget import Widget

PAGES = ("Brief", "Survey", "Cabinet", "Sheet", "Instruments", "Repair", "Notebook", "Acceptance", "Why still")


def helpless(root: Root) -> list[tuple[str, str]]:
    """(role, label) of everything usable on the top layer that has no help, not even by what it lies in."""
    found = []
    for widget in root.layer.top.walk():
        if not (widget.takes_focus and widget.usable()):
            continue
        if not any(above.help or above.keys_help for above in upwards(widget)):
            found.append((widget.role, widget.label))
    return found


def upwards(widget: Widget | None) -> Iterator[Widget]:
    """A widget and all above it."""
    while widget is not None:
        yield widget
        widget = widget.parent


def test_a_widget_without_help_is_found(stage) -> None:
    """The rule can fail."""
    assert helpless(stage(Button("Go", lambda: None)).root) == [("button", "Go")]


@pytest.mark.parametrize("page", PAGES)
def test_every_widget_of_the_work_screen_has_help(open_job, page: str) -> None:
    """With each page of the folder beside it, live and while the past is looked at."""
    work = open_job((1920, 1080))
    assert tuple(work.screen.folder.makers) == PAGES
    work.session.do("note", {"text": "the outer beam is dirty"})
    work.page(page)
    assert helpless(work.app.root) == []
    work.session.look_at(1)
    work.frame()
    assert helpless(work.app.root) == []


def test_every_instrument_and_every_repair_has_help(open_job) -> None:
    """Whatever is in hand or chosen, the fields that follow from it have help too."""
    work = open_job((1920, 1080))
    work.page("Instruments")
    page = work.screen.folder.page
    for group in page.groups.choices:
        page.groups.choose(group)
        work.frame()
        for tool in page.shelf.tools:
            page.shelf.choose(tool)
            work.frame()
            assert helpless(work.app.root) == [], tool
    work.page("Repair")
    page = work.screen.folder.page
    for group, section in page.sections.items():
        for act in acts_of(group):
            page.chosen[group] = act
            section.rebuild()
            work.frame()
            assert helpless(work.app.root) == [], act


def test_every_widget_of_a_narrow_screen_has_help(open_job) -> None:
    """Where parts take turns there is a switch more."""
    work = open_job((1280, 800), scale=2.0)
    for part in ("Yard", "Wiring", "Folder", "Time"):
        work.screen.turn_to(part)
        work.frame()
        assert helpless(work.app.root) == []


@pytest.mark.parametrize("who", ["apprentice", "instructor", "engineer"])
def test_every_widget_of_the_front_desk_has_help(who: str) -> None:
    """Whoever stands before it, on each of its pages."""
    app = App(CannedDesk(), (1920, 1080))
    app.appearance.prefer(who=who)
    app.show_desk()
    app.frame(0.0)
    desk = app.root.layer.top
    for page in desk.pages.choices:  # type: ignore[attr-defined]
        desk.pages.choose(page)  # type: ignore[attr-defined]
        app.frame(0.0)
        if page == "Free yard":
            desk._made[page].faults.toggle(0)  # type: ignore[attr-defined]
            app.frame(0.0)
        assert helpless(app.root) == [], page


def rest(work) -> str:
    """What is told after a moment's rest."""
    work.frame(round(HOVER_WAIT_S / 0.1) + 2, wall_s=0.1)
    return work.app.root.bubble.text


def test_a_drawing_tells_what_the_keys_do_when_the_focus_rests_on_it(work) -> None:
    """Its help under the pointer comes first; with the mouse alone an empty place says nothing."""
    work.hand.move(work.screen.plan.rect.topleft)
    assert rest(work) == ""
    work.hand.move((640, 40))
    work.app.root.set_focus(work.screen.plan, shows=True)
    assert "Arrows move the plan" in rest(work)


def test_each_tab_tells_what_its_page_is_for(work) -> None:
    """Under the pointer; beside the tab, not beside the row of tabs."""
    tabs = next(widget for widget in work.app.root.layer.top.walk() if isinstance(widget, IndexTabs))
    cell = tabs.cell("Why still")
    work.hand.move(cell.center)
    assert rest(work) == "Every input as the controller reads it, and what it waits for"
    assert work.app.root.bubble.about == cell
    work.hand.move((640, 40))
    work.app.root.set_focus(tabs, shows=True)
    assert rest(work) == "Arrows up and down turn the pages."


def test_the_shelf_tells_of_the_tool_in_hand_to_who_uses_keys(work) -> None:
    """The arrows go from card to card, and each tells what it measures."""
    work.page("Instruments")
    shelf = work.screen.folder.page.shelf
    work.hand.move((640, 40))
    work.app.root.set_focus(shelf, shows=True)
    assert rest(work) == shelf.helps[shelf.chosen]
    work.hand.key(pygame.K_RIGHT)
    work.frame()
    assert rest(work) == shelf.helps[shelf.chosen]
    assert work.app.root.bubble.about in shelf._cells
