"""The sheet of keys says what the code does: every key the window knows stands there, and nothing that it doesn't."""

from __future__ import annotations

import ast
from pathlib import Path

import pygame
import pytest

from trainer.window.screens.keys import KEYS

WINDOW = Path(__file__).resolve().parents[4] / "trainer" / "window"

CALLED = {
    **dict.fromkeys(("K_LEFT", "K_RIGHT", "K_UP", "K_DOWN"), "arrows"),
    **dict.fromkeys(("K_RETURN", "K_KP_ENTER"), "Enter"),
    **dict.fromkeys(("K_PLUS", "K_KP_PLUS", "K_EQUALS"), "+"),
    **dict.fromkeys(("K_MINUS", "K_KP_MINUS"), "−"),
    **{f"K_{n}": str(n) for n in (1, 2, 3, 4)},
    **{f"K_{letter}": letter.upper() for letter in "abcjklprsvxz"},
    **{f"K_F{n}": f"F{n}" for n in (1, 6, 7, 9, 12)},
    "K_9": "Ctrl 9",
    "K_TAB": "Tab",
    "K_SPACE": "Space",
    "K_ESCAPE": "Esc",
    "K_HOME": "Home",
    "K_END": "End",
    "K_PAGEUP": "Page Up",
    "K_PAGEDOWN": "Page Down",
    "K_BACKSPACE": "Backspace",
    "K_DELETE": "Delete",
}
"""What each key is called on the sheet."""


def known(source: str) -> set[str]:
    """The keys that a source asks about."""
    return {
        node.attr
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Attribute) and node.attr.startswith("K_")
    }


def listed() -> str:
    """All names of keys on the sheet."""
    return " ; ".join(keys for _group, rows in KEYS for keys, _told in rows)


def test_every_key_that_the_window_knows_is_on_the_sheet() -> None:
    """A key added without a line here is found."""
    used = set().union(*(known(path.read_text(encoding="utf-8")) for path in WINDOW.rglob("*.py")))
    assert used == set(CALLED)
    names = set(listed().replace(",", " ").replace(";", " ").split())
    for key, name in CALLED.items():
        assert name in listed() if " " in name else name in names, key


def test_no_key_stands_twice_in_a_group() -> None:
    """However it is written: `J, L` is `J and L`."""
    for group, rows in KEYS:
        keys = [frozenset(keys.replace(" and ", ", ").split(", ")) for keys, _told in rows]
        assert len(keys) == len(set(keys)), group


def test_a_planted_key_is_found() -> None:
    """The rule above can fail."""
    assert known("if event.key == pygame.K_q and pygame.key.name(1): pass") == {"K_q"}


def opens_glossary_or_keys(work) -> None:
    work.hand.key(pygame.K_F1)
    assert work.hand.all("dialog")
    work.hand.key(pygame.K_ESCAPE)
    work.hand.key_down(pygame.K_SLASH, unicode="?")
    assert work.hand.find("dialog", "Keys")


def holds_time(work) -> None:
    for key in (pygame.K_F9, pygame.K_p):
        before = work.session.paused
        work.hand.key(key)
        assert work.session.paused is not before
        work.frame()


def sets_the_pace(work) -> None:
    for key, pace in ((pygame.K_1, 0.25), (pygame.K_2, 1.0), (pygame.K_3, 4.0), (pygame.K_4, 16.0)):
        work.hand.key(key)
        assert work.session.pace == pace


def turns_to_the_wiring(work) -> None:
    work.hand.key(pygame.K_F7)
    assert (work.screen.wiring.visible, work.screen.plan.visible) == (True, False)
    work.hand.key(pygame.K_F7)
    assert (work.screen.wiring.visible, work.screen.plan.visible) == (False, True)


def opens_pages(work) -> None:
    for n, name in enumerate(work.screen.folder.makers):
        work.hand.key(pygame.K_1 + n, mod=pygame.KMOD_CTRL)
        assert work.screen.folder.page is work.screen.folder.pages[name]
    assert n == 8


def lists_all_actions(work) -> None:
    work.hand.key(pygame.K_k, mod=pygame.KMOD_CTRL)
    assert work.hand.find("dialog", "All actions")


def presses_stop(work) -> None:
    work.hand.key(pygame.K_s)
    assert "stop button" in work.session.held
    work.frame()
    work.hand.key(pygame.K_s)
    assert "stop button" not in work.session.held


def looks_back_and_on(work) -> None:
    work.frame(40, wall_s=0.1)
    now = work.session.observe().strip.end_s
    for key, mod, shown in (
        (pygame.K_j, 0, now - 1.0),
        (pygame.K_j, pygame.KMOD_SHIFT, now - 1.1),
        (pygame.K_l, pygame.KMOD_SHIFT, now - 1.0),
    ):
        work.hand.key(key, mod=mod)
        work.frame()
        assert work.session.observe().strip.shown_s == pytest.approx(shown, abs=0.02)


@pytest.mark.parametrize(
    ("keys", "play"),
    [
        ("F1", opens_glossary_or_keys),
        ("F9 or P", holds_time),
        ("1 2 3 4", sets_the_pace),
        ("F7", turns_to_the_wiring),
        ("Ctrl 1 to Ctrl 9", opens_pages),
        ("Ctrl K", lists_all_actions),
        ("S", presses_stop),
        ("J and L", looks_back_and_on),
    ],
)
def test_a_line_of_the_sheet_is_true(work, keys: str, play) -> None:
    """What it says is what the key does."""
    assert keys in [row[0] for _group, rows in KEYS for row in rows]
    play(work)


def test_the_sheet_can_be_read_to_its_end_by_keys_alone(work) -> None:
    """It is longer than the window; its focus stands on the answers."""
    work.app.guidance.keys()
    work.frame()
    scroll = work.app.root.layer.top.body
    work.hand.key(pygame.K_PAGEDOWN, pygame.K_PAGEDOWN, pygame.K_PAGEDOWN)
    assert scroll.child.rect.bottom == scroll.rect.bottom
    work.hand.key(pygame.K_PAGEUP, pygame.K_PAGEUP, pygame.K_PAGEUP)
    assert scroll.child.rect.top == scroll.rect.top
