"""A person at a real window: an X server without a screen, real mouse and key events, and eyes for what is shown.

Nothing sleeps: after each event frames are drawn until what was waited for is seen, or the frames run out.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

FRAMES = 900
"""How many frames a person waits for something before giving up."""

WALL_S = 1 / 60


@pytest.fixture(scope="session")
def screen() -> Iterator[str]:
    """The display of an X server of our own; skipped aloud where there is none to start."""
    missing = [tool for tool in ("Xvfb", "xdotool") if shutil.which(tool) is None]
    if missing:
        pytest.skip(f"journeys need a display: {' and '.join(missing)} not installed")
    reading, writing = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(writing), "-screen", "0", "1920x1080x24", "-nolisten", "tcp", "-noreset"],
        pass_fds=(writing,),
        stderr=subprocess.DEVNULL,
    )
    os.close(writing)
    with os.fdopen(reading) as told:
        number = told.readline().strip()
    assert number, "the X server did not start"
    yield f":{number}"
    server.terminate()
    server.wait()


class Person:
    """Somebody with a mouse and a keyboard before one window."""

    def __init__(self, app: Any, display: str, pictures: Path) -> None:
        self.app = app
        self.display = display
        self.pictures = pictures

    # -- eyes ------------------------------------------------------------------------------------------

    def frames(self, count: int = 3) -> None:
        """Let the window draw."""
        for _ in range(count):
            self.app.frame(WALL_S)

    def until(self, seen: Callable[[], Any], what: str, frames: int = FRAMES) -> Any:
        """Draw until something is seen; what was seen is returned."""
        for _ in range(frames):
            self.app.frame(WALL_S)
            found = seen()
            if found:
                return found
        self.picture("not-seen")
        raise AssertionError(f"not seen after {frames} frames: {what}; on the screen: {self.texts()}")

    def all(self, label: str, role: str = "", inside: str = "") -> list[dict[str, Any]]:
        """Everything on the screen with this label, in reading order; `inside` names a group around it."""
        return [
            node
            for node, path in _walk(self.app.root.tree(), ())
            if node.get("label") == label
            and role in ("", node["role"])
            and (not inside or any(above.get("label") == inside for above in path))
        ]

    def find(self, label: str, role: str = "", inside: str = "", nth: int = 0) -> dict[str, Any]:
        """The widget, waited for."""
        return self.until(lambda: self.all(label, role, inside)[nth : nth + 1], f"{role} {label!r} {inside}")[0]

    def texts(self) -> list[str]:
        """Every text on the screen."""
        told = []
        for node, _ in _walk(self.app.root.tree(), ()):
            told += [str(node[part]) for part in ("label", "value") if node.get(part) not in (None, "", False, True)]
        return told

    def sees(self, text: str) -> bool:
        """Whether a text is part of anything on the screen."""
        return any(text in told for told in self.texts())

    def reads(self, text: str, frames: int = FRAMES) -> None:
        """Wait until a text is part of something on the screen."""
        self.until(lambda: self.sees(text), repr(text), frames)

    def view(self) -> Any:
        """What the session shows, for comparing the picture with it."""
        return self.app.session.observe()

    def picture(self, name: str) -> Path:
        """Keep what the window shows."""
        self.pictures.mkdir(parents=True, exist_ok=True)
        path = self.pictures / f"{name}.png"
        self.app.picture(path)
        return path

    def colour(self, at: tuple[int, int]) -> tuple[int, int, int]:
        """The colour of one point of the window."""
        return tuple(self.app.window.get_at(at))[:3]  # type: ignore[return-value]

    def middle(self, node: dict[str, Any]) -> tuple[int, int]:
        """The middle of a widget."""
        return middle(node)

    def dialog_answers(self) -> list[str]:
        """What can be answered to the dialog that is open."""
        for node, _ in _walk(self.app.root.tree(), ()):
            if node["role"] == "dialog":
                return [str(n["label"]) for n, _ in _walk(node, ()) if n["role"] == "button"]
        return []

    # -- hands -----------------------------------------------------------------------------------------

    def _tool(self, *words: str | int) -> None:
        subprocess.run(
            ["xdotool", *map(str, words)], env={**os.environ, "DISPLAY": self.display}, check=True, timeout=20
        )

    def point(self, at: tuple[int, int]) -> None:
        """Move the mouse and wait until the window knows."""
        import pygame

        self._tool("mousemove", *at)
        self.until(lambda: pygame.mouse.get_pos() == at, f"the mouse at {at}")

    def down(self, at: tuple[int, int]) -> None:
        """Press the left button and hold it."""
        import pygame

        self.point(at)
        self._tool("mousedown", 1)
        self.until(lambda: pygame.mouse.get_pressed()[0], "the button down")

    def up(self) -> None:
        """Let the left button go."""
        import pygame

        self._tool("mouseup", 1)
        self.until(lambda: not pygame.mouse.get_pressed()[0], "the button up")
        self.frames(2)

    def click(self, label: str, role: str = "", inside: str = "", nth: int = 0) -> None:
        """Click the middle of a widget, once it can be used."""

        def usable() -> dict[str, Any] | None:
            return next(iter([n for n in self.all(label, role, inside) if n["enabled"]][nth : nth + 1]), None)

        said = f"{role} {label!r} {inside}, usable"
        self._scroll_to(self.until(usable, said))
        self.down(middle(self.until(usable, said)))
        self.up()

    def use(self, kind: str, nth: int = 0) -> None:
        """Click the widget that does an action of the catalogue, and answer its caution if one comes."""

        def usable() -> dict[str, Any] | None:
            found = [n for n, _ in _walk(self.app.root.tree(), ()) if kind in n.get("acts", ()) and n["enabled"]]
            buttons = [n for n in found if n["role"] == "button"]
            return buttons[nth] if len(buttons) > nth else None

        self.until(usable, f"something that does '{kind}'")
        for _ in range(60):  # the same words may stand on several buttons, so it is followed by its place in the list
            wanted, area = self.until(usable, kind), self._area_of(kind)
            if area is None or area[1] + 16 <= middle(wanted)[1] <= area[1] + area[3] - 16:
                break
            self.point((area[0] + area[2] // 2, area[1] + area[3] // 2))
            self._tool("click", 4 if middle(wanted)[1] < area[1] + 16 else 5)
            self.frames(3)
        self.down(middle(self.until(usable, kind)))
        self.up()
        dialog = next((n for n, _ in _walk(self.app.root.tree(), ()) if n["role"] == "dialog"), None)
        if dialog is not None:
            answers = [n for n, _ in _walk(dialog, ()) if n["role"] == "button"]
            self.down(middle(answers[0]))
            self.up()

    def _area_of(self, kind: str) -> tuple[int, int, int, int] | None:
        for node, path in _walk(self.app.root.tree(), ()):
            if kind in node.get("acts", ()) and node["role"] == "button":
                area = next((n for n in reversed(path) if n["role"] == "scroll area"), None)
                return area["rect"] if area is not None else None
        return None

    def _scroll_to(self, wanted: dict[str, Any]) -> None:
        """Turn the wheel over the scroll area around a widget until it is in sight."""
        for _ in range(60):
            found = next(((n, p) for n, p in _walk(self.app.root.tree(), ()) if _same(n, wanted)), None)
            area = next((n for n in reversed(found[1]) if n["role"] == "scroll area"), None) if found else None
            if found is None or area is None:
                return
            top, height = area["rect"][1], area["rect"][3]
            at = middle(found[0])[1]
            if top + 16 <= at <= top + height - 16:
                return
            self.point(middle(area))
            self._tool("click", 4 if at < top + 16 else 5)
            self.frames(3)

    def choose(self, opener: str, option: str, inside: str = "") -> None:
        """Open a menu or a dropdown and take one of its options."""
        self.click(opener, inside=inside)
        self.click(option, "option")

    def confirm(self, answer: str) -> None:
        """Read the caution and go on."""
        self.find(answer, "button")
        self.click(answer, "button", nth=len(self.all(answer, "button")) - 1)

    def hold(self, label: str, seconds: float, inside: str = "", nth: int = 0) -> None:
        """Hold a button for some simulated seconds."""
        self.down(middle(self.find(label, "hold button", inside, nth)))
        self.through(seconds)
        self.up()

    def through(self, seconds: float) -> None:
        """Watch for some simulated seconds."""
        end = self.app.session.clock_us + round(seconds * 1e6)
        self.until(lambda: self.app.session.clock_us >= end, f"{seconds} s passed", frames=20_000)

    def drag(self, start: tuple[int, int], end: tuple[int, int]) -> None:
        """Press, move there in a few steps, let go."""
        self.down(start)
        for part in (0.3, 0.7, 1.0):
            self.point((round(start[0] + part * (end[0] - start[0])), round(start[1] + part * (end[1] - start[1]))))
        self.up()

    def key(self, *names: str) -> None:
        """Press and release keys, by their X names."""
        self._tool("key", *names)
        self.frames(4)

    def type(self, text: str) -> None:
        """Type a text."""
        self._tool("type", "--delay", "1", text)
        self.frames(6)


def _same(node: dict[str, Any], wanted: dict[str, Any]) -> bool:
    return bool(node["role"] == wanted["role"] and node.get("label") == wanted.get("label"))


def middle(node: dict[str, Any]) -> tuple[int, int]:
    """The middle of a widget."""
    x, y, width, height = node["rect"]
    return x + width // 2, y + height // 2


Node = dict[str, Any]


def _walk(node: Node, path: tuple[Node, ...]) -> Iterator[tuple[Node, tuple[Node, ...]]]:
    yield node, path
    for child in node.get("children", ()):
        yield from _walk(child, (*path, node))


@pytest.fixture
def person(screen: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Person]:
    """A person before a new window of 1280 × 800 with the real front desk."""
    import pygame

    pygame.display.quit()
    for name, value in {
        "SDL_VIDEODRIVER": "x11",
        "DISPLAY": screen,
        "SDL_VIDEO_WINDOW_POS": "0,0",
        "SDL_FRAMEBUFFER_ACCELERATION": "0",
        "LC_ALL": "C.UTF-8",
    }.items():
        monkeypatch.setenv(name, value)
    from trainer.grading.judge import Grader
    from trainer.session.desk import Desk
    from trainer.window.app import App

    app = App(Desk(Grader(), tmp_path / "sessions"), (1280, 800))
    who = Person(app, screen, tmp_path / "pictures")
    who.point((640, 790))
    who.frames()
    yield who
    app.leave_session()
    pygame.display.quit()
