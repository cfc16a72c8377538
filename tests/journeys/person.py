"""Somebody before a window: real mouse and key events, and eyes for what is shown.

Nothing sleeps: after each event frames are drawn until what was waited for is seen, or the frames run out.
"""

from __future__ import annotations

import os
import subprocess
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from trainer.language import _
from trainer.window.words import first_upper

FRAMES = 900
"""How many frames a person waits for something before giving up."""

WALL_S = 1 / 60


class Person:
    """Somebody with a mouse and a keyboard before one window."""

    def __init__(self, app: Any, display: str, pictures: Path) -> None:
        self.app = app
        self.display = display
        self.pictures = pictures
        self.heard: Counter[int] = Counter()
        """How many events of each kind came to the window."""
        handle = app.root.handle

        def heard(event: Any) -> None:
            self.heard[event.type] += 1
            handle(event)

        app.root.handle = heard

    @classmethod
    def at_a_new_window(cls, folder: Path, display: str) -> Person:
        """Open a window of 1280 × 800 that keeps sessions, settings and pictures in a folder, and sit down before it.

        The pointer is put on the window, for without a window manager keys go where the pointer is. The tour of the
        yard, which comes up once, has a test of its own: it has been seen.
        """
        from trainer.grading.judge import Grader
        from trainer.session.desk import Desk
        from trainer.window.app import App
        from trainer.window.preferences import Keeper

        kept = folder / "window.json"
        if not kept.exists():
            kept.write_text('{"toured": true}', encoding="utf-8")
        app = App(Desk(Grader(), folder / "sessions"), (1280, 800), keeper=Keeper(kept))
        app.pictures = folder / "pictures"
        who = cls(app, display, app.pictures)
        who.point((640, 790))
        who.frames()
        return who

    # -- eyes ------------------------------------------------------------------------------------------

    def frames(self, count: int = 3) -> None:
        """Let the window draw."""
        for _n in range(count):
            self.app.frame(WALL_S)

    def until(self, seen: Callable[[], Any], what: str, frames: int = FRAMES) -> Any:
        """Draw until something is seen; what was seen is returned."""
        for _n in range(frames):
            self.app.frame(WALL_S)
            found = seen()
            if found:
                return found
        self.picture("not-seen")
        raise AssertionError(f"not seen after {frames} frames: {what}; on the screen: {self.texts()}")

    def all(self, label: str, role: str = "", inside: str = "") -> list[dict[str, Any]]:
        """Everything on the screen with this label, in reading order; `inside` names a group around it.

        Labels are given in English and found in the language that the window speaks.
        """
        labels, groups = (label, _(label)), (inside, _(inside))
        return [
            node
            for node, path in _walk(self.app.root.tree(), ())
            if node.get("label") in labels
            and role in ("", node["role"])
            and (not inside or any(above.get("label") in groups for above in path))
        ]

    def find(self, label: str, role: str = "", inside: str = "", nth: int = 0) -> dict[str, Any]:
        """The widget, waited for."""
        return self.until(lambda: self.all(label, role, inside)[nth : nth + 1], f"{role} {label!r} {inside}")[0]

    def texts(self) -> list[str]:
        """Every text on the screen."""
        told = []
        for node, _path in _walk(self.app.root.tree(), ()):
            told += [str(node[part]) for part in ("label", "value") if node.get(part) not in (None, "", False, True)]
        return told

    def sees(self, text: str) -> bool:
        """Whether a text is part of anything on the screen; given in English, as labels are."""
        return any(text in told or _(text) in told for told in self.texts())

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
        for node, _path in _walk(self.app.root.tree(), ()):
            if node["role"] == "dialog":
                return [str(n["label"]) for n, _path in _walk(node, ()) if n["role"] == "button"]
        return []

    # -- hands -----------------------------------------------------------------------------------------

    def _tool(self, *words: str | int) -> None:
        subprocess.run(
            ["xdotool", *map(str, words)], env={**os.environ, "DISPLAY": self.display}, check=True, timeout=20
        )

    def _hears(self, kind: int, more: int, *words: str | int) -> None:
        """Use the tool, and wait until the window has heard so many more events of a kind."""
        enough = self.heard[kind] + more
        self._tool(*words)
        self.until(lambda: self.heard[kind] >= enough, f"{more} of event {kind} after {words}")
        self.frames(2)

    def _wheel(self, up: bool) -> None:
        import pygame

        self._hears(pygame.MOUSEWHEEL, 1, "click", 4 if up else 5)

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
            found = [n for n, _path in _walk(self.app.root.tree(), ()) if kind in n.get("acts", ()) and n["enabled"]]
            buttons = [n for n in found if n["role"] == "button"]
            return buttons[nth] if len(buttons) > nth else None

        self.until(usable, f"something that does '{kind}'")
        for _n in range(
            60
        ):  # the same words may stand on several buttons, so it is followed by its place in the list
            wanted, area = self.until(usable, kind), self._area_of(kind)
            if area is None or area[1] + 16 <= middle(wanted)[1] <= area[1] + area[3] - 16:
                break
            self.point((area[0] + area[2] // 2, area[1] + area[3] // 2))
            self._wheel(up=middle(wanted)[1] < area[1] + 16)
        self.down(middle(self.until(usable, kind)))
        self.up()
        dialog = next((n for n, _path in _walk(self.app.root.tree(), ()) if n["role"] == "dialog"), None)
        if dialog is not None:
            answers = [n for n, _path in _walk(dialog, ()) if n["role"] == "button"]
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
        for _n in range(60):
            found = next(((n, p) for n, p in _walk(self.app.root.tree(), ()) if _same(n, wanted)), None)
            area = next((n for n in reversed(found[1]) if n["role"] == "scroll area"), None) if found else None
            if found is None or area is None:
                return
            top, height = area["rect"][1], area["rect"][3]
            at = middle(found[0])[1]
            if top + 16 <= at <= top + height - 16:
                return
            self.point(middle(area))
            self._wheel(up=at < top + 16)

    def choose(self, opener: str, option: str, inside: str = "") -> None:
        """Open a menu or a dropdown and take one of its options; a long list is turned until it is in sight."""
        self.click(opener, inside=inside)
        for _n in range(60):
            if self.all(option, "option"):
                break
            self.point(middle(self.until(self._listed, f"the list of {opener}")))
            self._wheel(up=False)
        self.click(option, "option")

    def _listed(self) -> dict[str, Any] | None:
        """The list that is open."""
        return next((node for node, _path in _walk(self.app.root.tree(), ()) if node["role"] == "list"), None)

    def take(self, choice: str) -> None:
        """Go to a choice in the list that is open by its letters, or else by steps, and take it."""
        self.type(choice)
        if self._marked() != choice:  # letters that came late began a word anew
            self.key("Home")
            self.until(lambda: self._marked() == choice or self.key("Down"), f"{choice} in the list")
        self.key("Return")

    def _marked(self) -> str:
        """What is marked in the list that is open."""
        listed = self.until(self._listed, "a list")
        return str(listed["value"])

    def open_job(self, title: str, how: str = "Practice") -> None:
        """Begin a job that is listed at the front desk."""
        self.click(title, "job")
        if how != "Practice":
            self.click(how, "option", inside="how")
        self.click("Start the job", "button")
        self.until(lambda: self.app.session is not None, "a session")

    def resize(self, size: tuple[int, int]) -> None:
        """Give the window another size, as the edge of a window that is drawn does."""
        import pygame

        self._tool("windowsize", pygame.display.get_wm_info()["window"], *size)
        self.until(lambda: self.app.window.get_size() == size, f"a window of {size}")
        self.frames(2)

    def put_lead(self, terminal: str, button: int) -> None:
        """Put the red lead (button 1) or the black one (3) on a screw of the wiring drawing."""
        drawing = ("wiring drawing", "wiring drawing")
        for _n in range(60):
            left, top, wide, high = self.find(*drawing)["rect"]
            x, y = middle(self.find(terminal, "terminal"))
            if top + 30 <= y <= top + high - 60 and left < x < left + wide:
                break
            self.point((left + wide // 2, top + high // 2))
            self._wheel(up=y < top + 30)
        self.point(middle(self.find(terminal, "terminal")))
        self._tool("click", button)
        lead = "red" if button == 1 else "black"
        self.until(lambda: self.find(terminal, "terminal")["value"] == lead, f"{lead} lead on {terminal}")

    def hand_over(self) -> None:
        """Everything is shown to the user, and the gate is handed over."""
        self.tab("Acceptance")
        for shown in ("release", "stop", "lamp", "freeing a person", "monthly checks"):
            self.click(first_upper(_(shown)), "tick box")
        self.use("hand over")

    def tab(self, name: str) -> None:
        """Turn to a page of the folder."""
        self.click(name, "option", inside="folder")

    def passed(self, check: str) -> None:
        """Wait until a check of the acceptance has passed."""
        self.until(lambda: dict(self.view().acceptance)[check] == "passed", f"'{check}' passed")

    def confirm(self, answer: str) -> None:
        """Read the caution and go on."""
        self.find(answer, "button")
        self.click(answer, "button", nth=len(self.all(answer, "button")) - 1)

    def hold(self, label: str, seconds: float, inside: str = "", nth: int = 0) -> None:
        """Hold a button for some simulated seconds."""
        self.down(middle(self.find(label, "hold button", inside, nth)))
        self.through(seconds)
        self.up()

    def pace(self, times: str) -> None:
        """Let time pass faster or slower: ¼×, 1×, 4× or 16×."""
        self.click(times, "option", inside="pace")

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
        """Press and release keys, by their X names; several at once with a plus between."""
        import pygame

        self._hears(pygame.KEYUP, sum(len(name.split("+")) for name in names), "key", *names)

    def key_down(self, name: str) -> None:
        """Press a key and hold it."""
        import pygame

        self._hears(pygame.KEYDOWN, 1, "keydown", name)

    def key_up(self, name: str) -> None:
        """Let a key go."""
        import pygame

        self._hears(pygame.KEYUP, 1, "keyup", name)

    def type(self, text: str) -> None:
        """Type a text."""
        import pygame

        self._hears(pygame.TEXTINPUT, len(text), "type", "--delay", "1", text)


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
