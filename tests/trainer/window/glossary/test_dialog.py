"""The glossary on the screen: by letters, by arrows, by F1 or the right button on a text, and back."""

from __future__ import annotations

import pygame
import pytest

from trainer.window.app import App
from trainer.window.canned import CannedDesk
from trainer.window.glossary.terms import terms

F1 = pygame.K_F1


def words(hand) -> list[str]:
    """The words listed, in sight."""
    return [row["label"] for row in hand.all("row")]


def test_letters_narrow_the_list_and_the_first_word_is_explained(work) -> None:
    """From the menu, by keyboard alone."""
    work.hand.click("menu", "More")
    work.hand.click("option", "Words of the trade…")
    assert work.hand.focus == ("text entry", "look for a word")
    assert work.hand.find("table", "words of the trade")["value"] == len(terms())
    work.hand.type("residual")
    assert words(work.hand)[0] == "Residual force"
    assert "so small that a person comes free" in work.hand.texts()
    work.hand.type(" zebra")
    assert (words(work.hand), "comes free" in work.hand.texts()) == ([], False)
    work.hand.key(pygame.K_ESCAPE, pygame.K_ESCAPE)
    assert work.hand.all("dialog") == []


def test_arrows_go_from_word_to_word(work) -> None:
    """The sentence beside the list is that of the marked word."""
    work.app.guidance.glossary()
    work.hand.key(pygame.K_TAB, pygame.K_DOWN)
    assert terms()[1].text in work.hand.texts()
    work.hand.key(pygame.K_END)
    assert terms()[-1].text in work.hand.texts()


def test_f1_on_the_focus_explains_its_words(work) -> None:
    """And all other words are one button away; the word that was read stays marked."""
    work.screen.open_page("Survey")
    work.frame()
    button = next(told for told in work.hand.all("hold button") if told["label"] == "Key switch")
    work.app.root.set_focus(work.screen.controls.held["key switch"], shows=True)
    assert button["enabled"]
    work.hand.key(F1)
    assert "Key switch" in words(work.hand)
    work.hand.key(pygame.K_DOWN, pygame.K_UP)
    work.hand.click("button", "All words")
    assert work.hand.find("table", "words of the trade")["value"] == len(terms())
    assert "only while somebody with the key turns it" in work.hand.texts()
    assert work.hand.all("button", "All words") == []


def test_f1_under_the_pointer_comes_before_the_focus(work) -> None:
    """What one points at is what one asks about."""
    work.app.root.set_focus(work.screen.controls.held["key switch"], shows=True)
    work.hand.move(work.hand.middle(work.hand.find("menu", "Leaves")))
    work.hand.key(F1)
    assert words(work.hand)[0] == "Leaf"


def test_f1_where_no_word_stands_lists_the_keys(work) -> None:
    """Help always comes."""
    work.app.root.set_focus(None)
    work.hand.move((2, 2))
    work.hand.key(F1)
    assert work.hand.find("dialog", "Keys")


def test_the_right_button_on_a_text_explains_it(work) -> None:
    """In the folder, where most is written; on a text without such a word nothing happens."""
    work.page("Brief")
    told = next(
        each for each in work.hand.all() if "the drives are on" in str(each["value"]) and each["rect"][0] > 700
    )
    work.hand.click_at(pygame.Rect(told["rect"]).center, button=3)
    assert words(work.hand) == ["Drive"]
    work.hand.key(pygame.K_ESCAPE)
    work.hand.click_at(work.hand.middle(work.hand.find("label", "clock")), button=3)
    assert work.hand.all("dialog") == []


def test_a_question_mark_in_a_field_is_a_letter(work) -> None:
    """It opens nothing while somebody writes."""
    work.app.guidance.glossary()
    work.hand.type("why?")
    assert work.hand.find("text entry", "look for a word")["value"] == "why?"
    assert [told["label"] for told in work.hand.all("dialog")] == ["Words of the trade"]


def test_help_is_there_at_the_front_desk_too(stage) -> None:
    """Before any job is open."""
    app = App(CannedDesk())
    app.frame(0.0)
    hand = stage()
    hand.root = app.root
    hand.key_down(pygame.K_SLASH, unicode="?")
    hand.key_up(pygame.K_SLASH)
    assert hand.find("dialog", "Keys")
    hand.click("button", "Words of the trade")
    assert hand.find("dialog", "Words of the trade")


@pytest.mark.parametrize(("size", "scale"), [((1280, 800), 1.0), ((1280, 800), 2.0), ((1920, 1080), 1.5)])
def test_the_glossary_fits_its_window(open_job, size, scale) -> None:
    """Nothing of it lies outside the window; no sentence is cut."""
    work = open_job(size, scale=scale)
    work.app.guidance.glossary()
    work.frame()
    screen = pygame.Rect((0, 0), size)
    assert screen.contains(pygame.Rect(work.hand.find("dialog", "Words of the trade")["rect"]))
    assert screen.contains(pygame.Rect(work.hand.find("button", "Close")["rect"]))
