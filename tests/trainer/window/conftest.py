"""A window without a display: the dummy driver is chosen before pygame is imported; a hand that clicks and types."""

from __future__ import annotations

import importlib.util
import os

os.environ["SDL_VIDEODRIVER"] = "dummy"
os.environ["SDL_AUDIODRIVER"] = "dummy"

from collections.abc import Callable, Iterator
from typing import Any

import pygame
import pytest

from trainer.window.app import App
from trainer.window.canned import CannedDesk, CannedSession
from trainer.window.kit.boxes import Column
from trainer.window.kit.glyphs import Glyphs
from trainer.window.kit.root import Root
from trainer.window.kit.widget import Widget
from trainer.window.shipped import assets

Told = dict[str, Any]


def walk(told: Told) -> Iterator[Told]:
    """A dumped tree, each widget before those below it."""
    yield told
    for child in told.get("children", ()):
        yield from walk(child)


class Hand:
    """Finds things by role and label and uses mouse and keyboard on them, as a person would."""

    def __init__(self, root: Root) -> None:
        self.root = root

    def all(self, role: str | None = None, label: str | None = None) -> list[Told]:
        """Everything with a role and a label."""
        return [
            told
            for told in walk(self.root.tree())
            if (role is None or told["role"] == role) and (label is None or told["label"] == label)
        ]

    def find(self, role: str, label: str) -> Told:
        """The one thing with a role and a label."""
        found = self.all(role, label)
        assert found, f"no {role} ‘{label}’; there is: {sorted({(t['role'], t['label']) for t in self.all()})}"
        return found[0]

    def texts(self) -> str:
        """All labels and values on the screen, joined."""
        return "\n".join(f"{told['label']} {told['value']}" for told in self.all())

    @staticmethod
    def middle(told: Told) -> tuple[int, int]:
        """The middle of something found."""
        return pygame.Rect(told["rect"]).center

    def move(self, point: tuple[int, int]) -> None:
        """Move the mouse."""
        self.root.handle(pygame.event.Event(pygame.MOUSEMOTION, pos=point, rel=(0, 0), buttons=(0, 0, 0)))

    def down(self, point: tuple[int, int], button: int = 1) -> None:
        """Mouse button down."""
        self.move(point)
        self.root.handle(pygame.event.Event(pygame.MOUSEBUTTONDOWN, pos=point, button=button))

    def up(self, point: tuple[int, int], button: int = 1) -> None:
        """Mouse button up."""
        self.root.handle(pygame.event.Event(pygame.MOUSEBUTTONUP, pos=point, button=button))

    def click_at(self, point: tuple[int, int], button: int = 1) -> None:
        """Down and up at one place."""
        self.down(point, button)
        self.up(point, button)

    def click(self, role: str, label: str, button: int = 1) -> None:
        """Click in the middle of something found."""
        self.click_at(self.middle(self.find(role, label)), button)

    def key_down(self, key: int, mod: int = 0, unicode: str = "") -> None:
        """Key down."""
        self.root.handle(pygame.event.Event(pygame.KEYDOWN, key=key, mod=mod, unicode=unicode))

    def key_up(self, key: int, mod: int = 0) -> None:
        """Key up."""
        self.root.handle(pygame.event.Event(pygame.KEYUP, key=key, mod=mod))

    def key(self, *keys: int, mod: int = 0) -> None:
        """Keys pressed and let go, one after the other."""
        for key in keys:
            self.key_down(key, mod)
            self.key_up(key, mod)

    def type(self, text: str) -> None:
        """Letters as the system sends them: a key, then its text."""
        for letter in text:
            self.key_down(pygame.key.key_code(letter) if letter.isascii() and letter.isalnum() else 0, 0, letter)
            self.root.handle(pygame.event.Event(pygame.TEXTINPUT, text=letter))
            self.key_up(0)

    @property
    def focus(self) -> tuple[str, str] | None:
        """(role, label) of what has the focus."""
        focus = self.root.tree()["focus"]
        return tuple(focus) if focus else None


@pytest.fixture(autouse=True)
def _display() -> Iterator[None]:
    """A display for each test; its events are gone afterwards."""
    pygame.display.init()
    pygame.font.init()
    pygame.display.set_mode((1280, 800))
    yield
    pygame.event.clear()


@pytest.fixture(scope="session")
def glyphs() -> Glyphs:
    """The shipped fonts."""
    pygame.font.init()
    return Glyphs(assets() / "fonts")


@pytest.fixture
def stage(glyphs: Glyphs) -> Callable[..., Hand]:
    """Put widgets under one another on a bare root; answers a hand on it."""

    def put(*widgets: Widget, size: tuple[int, int] = (600, 500), scale: float = 1.0) -> Hand:
        root = Root(glyphs, size, scale)
        root.show(Column(*widgets, pad=10))
        root.lay_out()
        return Hand(root)

    return put


@pytest.fixture(scope="session")
def sentences() -> frozenset[str]:
    """Every sentence that translators are given, by the script that gathers them."""
    spec = importlib.util.spec_from_file_location("gather", assets() / "translations" / "gather.py")
    assert spec is not None
    assert spec.loader is not None
    gather = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(gather)
    return frozenset(str(message.id) for message in gather.gathered() if message.id)


class Work:
    """The app with a canned job open."""

    def __init__(self, size: tuple[int, int], mode: str, scale: float) -> None:
        self.desk = CannedDesk()
        self.app = App(self.desk, size, scale=scale)
        self.app.frame(0.0)
        self.app._open(lambda: self.desk.start("first-run", mode, 7))  # type: ignore[arg-type]
        assert isinstance(self.desk.session, CannedSession)
        self.session = self.desk.session
        self.hand = Hand(self.app.root)
        self.frame()

    @property
    def screen(self) -> Any:
        """The work screen."""
        return self.app.work

    def frame(self, count: int = 1, wall_s: float = 0.0) -> None:
        """Frames without simulated time, unless told."""
        for _ in range(count):
            self.app.frame(wall_s)

    def page(self, name: str) -> None:
        """Open a page of the folder."""
        self.screen.open_page(name)
        self.frame()

    def said(self) -> list[str]:
        """Messages on the screen."""
        return [told["label"] for told in self.hand.all("message")]

    def acts(self, kind: str) -> list[dict[str, object]]:
        """Arguments of every accepted action of a kind."""
        return [arguments for done, arguments in self.session.done if done == kind]

    def free(self) -> None:
        """Declare the absent guard, so that the canned gate moves."""
        self.session.do("survey hazard", {"hazard": "gap at the hinge", "protection": "nothing"})
        self.session.do("set", {"setting": "inner beam", "value": "not fitted"})
        self.frame()


@pytest.fixture
def open_job() -> Callable[..., Work]:
    """Open a canned job in the real app."""

    def open_(size: tuple[int, int] = (1280, 800), mode: str = "practice", scale: float = 1.0) -> Work:
        return Work(size, mode, scale)

    return open_


@pytest.fixture
def work(open_job: Callable[..., Work]) -> Work:
    """A canned job at the least size."""
    return open_job()
