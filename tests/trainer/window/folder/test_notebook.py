"""The notebook page: three kinds under their headings, put right through the menu beside each note."""

from __future__ import annotations

import pygame
import pytest


def _under(work, heading: str) -> list[str]:
    """The notes that stand under a heading, the newest first."""
    found, here = [], False
    for told in work.hand.all():
        if told["role"] == "heading":
            here = told["label"] == heading
        elif told["role"] == "item" and here:
            found.append(told["value"].split("   ")[1])
    return found


def _put_right(work, number: int, choice: str) -> None:
    """Open the menu beside a note and take an entry, by mouse and keys."""
    line = work.hand.find("note line", f"note {number}")
    menu = next(told for told in line["children"] if told["role"] == "menu")
    work.hand.click_at(work.hand.middle(menu))
    work.hand.type(choice[:3])
    work.hand.key(pygame.K_RETURN)
    work.frame()


def _write(work, kind: str, text: str) -> None:
    """Choose what it is, type, Enter."""
    work.hand.click("option", kind)
    work.hand.click("text entry", "new note")
    work.hand.type(text)
    work.hand.key(pygame.K_RETURN)
    work.frame()


def test_each_kind_stands_under_its_heading(work) -> None:
    """A heading without notes isn't there."""
    work.page("Notebook")
    _write(work, "What I saw", "lamp dark")
    _write(work, "What I suspect", "lamp fuse")
    assert [given["entry"] for given in work.acts("note")] == ["seen", "suspected"]
    assert _under(work, "What I saw") == ["lamp dark"]
    assert _under(work, "What I suspect") == ["lamp fuse"]
    assert not work.hand.all("heading", "What I ruled out")


def test_a_suspicion_is_ruled_out_with_its_reason(work) -> None:
    """Its words come up to be added to; it moves to the other heading."""
    work.page("Notebook")
    _write(work, "What I suspect", "lamp fuse")
    _put_right(work, 1, "I have ruled it out")
    assert work.hand.focus == ("text entry", "new note")
    work.hand.type(": whole")
    work.hand.click("button", "Write it anew")
    work.frame()
    assert work.acts("change note") == [{"number": 1, "text": "lamp fuse: whole", "entry": "ruled out"}]
    assert _under(work, "What I suspect") == []
    assert _under(work, "What I ruled out")[0].startswith("lamp fuse: whole")
    assert work.hand.find("text entry", "new note")["value"] == "", "ready for a new note"
    assert work.hand.all("button", "Write")


def test_a_note_is_struck_out_and_counts_again(work) -> None:
    """It stays readable, in words and with a mark."""
    work.page("Notebook")
    _write(work, "What I saw", "wrong leaf")
    _put_right(work, 1, "Strike it out")
    assert work.acts("strike note") == [{"number": 1}]
    assert _under(work, "What I saw") == ["wrong leaf (struck out)"]
    _put_right(work, 1, "Let it count again")
    assert work.acts("change note") == [{"number": 1, "text": "wrong leaf", "entry": "seen"}]
    assert "struck out" not in _under(work, "What I saw")[0]


@pytest.mark.parametrize("way", ["Leave it", "Ctrl Z"])
def test_a_change_is_left(work, way: str) -> None:
    """Nothing is done, and the field is for a new note again."""
    work.page("Notebook")
    _write(work, "What I saw", "wrong leaf")
    _put_right(work, 1, "Change the words")
    assert work.hand.find("text entry", "new note")["value"] == "wrong leaf"
    if way == "Leave it":
        work.hand.click("button", "Leave it")
    else:
        work.app.root.set_focus(None)
        work.hand.key(pygame.K_z, mod=pygame.KMOD_CTRL)
    work.frame()
    assert work.acts("change note") == []
    assert work.hand.find("text entry", "new note")["value"] == ""
    assert not work.hand.all("button", "Leave it")


def test_after_the_end_the_notebook_only_stands_there(work) -> None:
    """No menu, and nothing can be written."""
    work.page("Notebook")
    _write(work, "What I saw", "lamp dark")
    page = work.screen.folder.page
    work.session.finished = True
    work.screen.show(work.session.observe())
    assert not page.entry.enabled
    assert not [widget for widget in page.walk() if widget.role == "menu"]


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_long_notes_wrap_beside_their_menu(open_job, scale: float) -> None:
    """Words and menu don't overlap, and stay on the page."""
    work = open_job((1280, 800), scale=scale)
    work.page("Notebook")
    work.session.do(
        "note", {"text": "The inactive leaf stops short of its stop when the wind comes from inside. " * 3}
    )
    work.frame()
    page = pygame.Rect(work.hand.find("scroll area", "Notebook")["rect"])
    words, menu = (pygame.Rect(told["rect"]) for told in work.hand.find("note line", "note 1")["children"][:2])
    assert not words.colliderect(menu)
    assert menu.right <= page.right
    assert words.width > 8 * menu.height / 2, "room for words at the side of the menu"
