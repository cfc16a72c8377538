"""By keys alone, no mouse at all: from the front desk to the debrief of a job that was handed over."""

from __future__ import annotations

from typing import Any

import pygame
import pytest

from tests.journeys.keyboard import focused, step, tab_to
from tests.journeys.sight import leaves_are_drawn_where_they_are
from trainer.window.words import action_words

pytestmark = [pytest.mark.display, pytest.mark.slow]

MOUSE = (pygame.MOUSEMOTION, pygame.MOUSEBUTTONDOWN, pygame.MOUSEBUTTONUP, pygame.MOUSEWHEEL)
PAGES = ("Brief", "Survey", "Cabinet", "Sheet", "Instruments", "Repair", "Notebook", "Acceptance", "Why still")


def test_a_fault_is_found_mended_and_handed_over_by_keys(call_out: str, person: Any) -> None:
    """The focus is seen at every stop; leads, notes, repair, held buttons and ticks need no mouse."""
    person.heard.clear()
    _begin(person, call_out)
    _page(person, "Cabinet")
    _do(person, "isolate")
    person.until(lambda: not person.view().board_on, "the board is dead")
    _do(person, "unplug", 2)
    person.until(lambda: not person.view().guards[2].plugged, "the edge's plug is out")
    _measure(person)
    assert "over range" in person.find("multimeter", "reading")["value"]
    person.picture("measured")
    _note(person)
    _splice(person)
    _page(person, "Cabinet")
    _do(person, "plug in")
    person.until(lambda: person.view().guards[2].plugged, "the edge's plug is in")
    _do(person, "restore")
    person.until(lambda: person.view().board_on, "the board has power")
    _open(person)
    _hand_over(person)
    person.reads(f"Debrief: {call_out}")
    person.picture("debrief")
    tab_to(person, "button", "To the front desk")
    person.key("Return")
    person.reads("best ")
    assert not any(person.heard[kind] for kind in MOUSE), person.heard


def _begin(person: Any, title: str) -> None:
    tab_to(person, "radio row", "who you are")
    for _n in range(40):
        if (focused(person) or ("",))[0] == "job":
            break
        step(person, "Tab")
    for _n in range(10):
        if focused(person) == ("job", title):
            break
        step(person, "Up")
    assert focused(person) == ("job", title)
    person.key("Return")
    person.until(lambda: person.app.session is not None and person.view().board_on, "a gate with power")


def _page(person: Any, name: str) -> None:
    """Turn to a page of the folder by its number."""
    person.key(f"ctrl+{PAGES.index(name) + 1}")
    person.until(lambda: person.find("folder", "tabs")["value"] == name, name)
    tab_to(person, "tabs", "folder", "shift+Tab")


def _do(person: Any, kind: str, nth: int = 0) -> None:
    """Go to the nth button that does an act, press it, and go on through the caution if one comes."""
    for turn in range(nth + 1):
        if turn:
            step(person, "Tab")
        tab_to(person, "button", action_words(kind))
    person.key("Return")
    if person.app.root.layer.kind == "dialog":
        tab_to(person, "button", person.dialog_answers()[0])
        person.key("Return")


def _take(person: Any, dropdown: str, choice: str) -> None:
    """Open a list and take a choice by its letters."""
    tab_to(person, "dropdown", dropdown)
    person.key("Return")
    person.take(choice)
    person.until(lambda: person.find(dropdown, "dropdown")["value"] == choice, f"{dropdown}: {choice}")


def _measure(person: Any) -> None:
    _page(person, "Instruments")
    tab_to(person, "tool shelf", "in hand")
    for _n in range(12):
        if person.find("in hand", "tool shelf")["value"] == "multimeter":
            break
        person.key("Right")
    _take(person, "function", "ohms")
    _take(person, "red lead", "active edge plug, line")
    _take(person, "black lead", "active edge plug, common")
    _do(person, "measure")
    person.until(lambda: person.view().tools.readings, "a reading")
    person.frames(2)


def _note(person: Any) -> None:
    _page(person, "Notebook")
    tab_to(person, "radio row", "what it is")
    person.key("Right")
    tab_to(person, "text entry", "new note")
    person.type("a core of the edge's line is broken")
    person.key("Return")
    person.until(lambda: [n.entry for n in person.view().notes if "core" in n.text] == ["suspected"], "the cause")


def _splice(person: Any) -> None:
    _page(person, "Repair")
    _take(person, "act: repair", "Splice")
    _take(person, "what", "active edge, line core")
    _do(person, "splice")


def _open(person: Any) -> None:
    """The plan comes back in the place of the drawing; Space is held on the button and let go."""
    person.key("F7")
    person.find("plan of the yard", "drawing")
    person.through(3.0)
    tab_to(person, "hold button", "Open")
    person.key_down("space")
    person.until(lambda: "open button" in person.view().held, "the open button is held")
    person.through(0.5)
    person.key_up("space")
    person.until(lambda: not person.view().held, "it is let go")
    person.until(lambda: person.view().leaves[0].angle_deg > 15, "the active leaf opens", 3000)
    leaves_are_drawn_where_they_are(person)


def _hand_over(person: Any) -> None:
    _page(person, "Acceptance")
    for shown in ("Release", "Stop", "Lamp", "Freeing a person", "Monthly checks"):
        tab_to(person, "tick box", shown)
        person.key("space")
    _do(person, "hand over")
