"""Every screen a person can come to, one after the other: each walk answers what is shown, which is to be drawn."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

import pygame

from tests.trainer.window.conftest import Hand
from trainer.drills.shelf import DrillCard
from trainer.language import _
from trainer.window.app import App
from trainer.window.canned import CannedDesk, CannedSession
from trainer.window.closeup.subject import subjects
from trainer.window.folder.folder import PAGES
from trainer.window.folder.repair import acts_of
from trainer.window.kit.scroll import Scroll
from trainer.window.screens.finish import ask_to_finish
from trainer.window.screens.report import ask_for_report
from trainer.window.tour.stops import STOPS

Walk = Iterator[str]

WITH_FORMS: Final = ("measure", "place body", "enrol transmitter", "survey hazard", "wait until", "place force gauge")


class Shelf:
    """Three drills, one of them left before its end, one of them broken."""

    def drills(self) -> list[DrillCard]:
        return [
            DrillCard(
                "drills/dark.yaml", "The beam goes dark", "Meet the gate", 30, "Since this morning it opens again."
            ),
            DrillCard(
                "drills/late.yaml", "The lamp is late", "First run", 20, "It warns when it moves.", unfinished=True
            ),
            DrillCard("drills/broken.yaml", "broken", "", 0, "drills/broken.yaml:2 job: missing", usable=False),
        ]

    def start(self, file: str, say: Callable[[str], None]) -> CannedSession:
        return CannedSession()

    def resume(self, file: str, say: Callable[[str], None]) -> CannedSession:
        return CannedSession()


@dataclass
class Stage:
    """A window of a size, with text of a size [share of the usual], on a made-up desk or a real one."""

    size: tuple[int, int]
    scale: float
    desk: Any = field(default_factory=CannedDesk)

    def __post_init__(self) -> None:
        self.app = App(self.desk, self.size, scale=self.scale)
        self.app.shelf = Shelf()  # type: ignore[assignment]
        self.app.show_desk()
        self.root = self.app.root
        self.hand = Hand(self.root)
        self.frame()

    @property
    def session(self) -> Any:
        """The open session."""
        return self.app.session

    @property
    def work(self) -> Any:
        """The work screen."""
        return self.app.work

    def frame(self, count: int = 1, wall_s: float = 0.0) -> None:
        """Frames without simulated time, unless told."""
        for _n in range(count):
            self.app.frame(wall_s)

    def open(self, mode: str = "practice") -> None:
        """Work on the first job of the desk."""
        self.app.open(self.desk.start("first-run", mode, 7))
        self.frame()

    def close(self) -> None:
        """Away with what lies over the screen."""
        while len(self.root.layers) > 1:
            self.root.close_layer()
        self.root.toasts.clear()
        self.root.bubble.hide()

    def down(self, what: str) -> Walk:
        """What is shown, and all that is under it, page by page."""
        yield what
        for area in [w for w in self.root.layer.top.walk() if isinstance(w, Scroll)]:
            at = None
            while area.value != at:
                at = area.value
                area.key(pygame.event.Event(pygame.KEYDOWN, key=pygame.K_PAGEDOWN, mod=0))
                if area.value != at:
                    yield f"{what}, further down"


def desk(stage: Stage) -> Walk:
    """The front desk for each who comes to it, with each of its pages."""
    if isinstance(stage.desk, CannedDesk):
        stage.desk.left = "Orchard Row"
    for who in ("apprentice", "instructor", "engineer"):
        stage.app.appearance.prefer(who=who)
        stage.app.show_desk()
        top = stage.root.layers[0].top
        for page in top.pages.choices:  # type: ignore[attr-defined]
            top.pages.choose(page)  # type: ignore[attr-defined]
            stage.frame(8)
            if page == "Free yard":
                faults = top.body.children[0].faults  # type: ignore[attr-defined]
                faults.toggle(0)
                faults.toggle(1)
            yield from stage.down(f"{who}: {page}")
            if page == "Drills":
                top.body.children[0].table.go_to(1)  # type: ignore[attr-defined]
                yield from stage.down("a drill that was left")
    stage.app.open_settings()
    yield from stage.down("settings")
    stage.close()


def pages(stage: Stage) -> Walk:
    """Every page of the folder."""
    stage.open()
    bare = CannedSession
    if isinstance(stage.session, bare):
        stage.session.do("note", {"text": "the outer beam is dirty"})
        stage.session.do("set", {"setting": "auto-close", "value": "on"})
    stage.frame()
    for page in PAGES:
        stage.work.open_page(page)
        stage.frame()
        yield from stage.down(page)
    for group in list(stage.work.folder.page.hands.view.tools.instruments):
        stage.work.open_page("Instruments")
        stage.work.folder.page._take(group.name)
        stage.frame()
        yield from stage.down(f"in hand: {group.name}")
    stage.work.open_page("Repair")
    page = stage.work.folder.page
    for part in list(page.chosen):
        for act in acts_of(part):
            page.chosen[part] = act
            page.sections[part].rebuild()
            stage.frame()
            yield from stage.down(f"repair: {act}")


def yard(stage: Stage) -> Walk:
    """The plan with bodies, close-ups, the wiring drawing, the strip in all its states."""
    stage.open()
    yield from stage.down("arrival")
    for kind, given in (
        ("place body", {"body": "adult", "x_m": 1.2, "y_m": -1.6}),
        ("place body", {"body": "test body", "x_m": 2.4, "y_m": -0.6}),
        ("walk body", {"body": "adult", "path": "1.5,0.7 3.4,0.8"}),
        ("release drive", {"leaf": "active"}),
        ("unplug", {"guard": "outer beam"}),
        ("press", {"control": "stop button"}),
        ("press edge", {"guard": "active edge"}),
        ("cordon", {}),
    ):
        stage.session.do(kind, given)
    stage.root.toasts.clear()
    stage.frame()
    yield "things happen"
    for words, subject in subjects(stage.work.hands.view).items():
        stage.work.plan.look(subject)
        yield f"close-up: {words}"
    stage.work.plan.look_away()
    yield from in_hand(stage)
    stage.work.turn_to(_("Time"))
    yield "time"
    stage.session.look_at(1_000_000)
    stage.frame()
    yield "looking back, time"
    strip = stage.work.time.strip
    strip.hover((strip.rect.left + strip.rect.width // 3, strip.rect.centery))
    yield "values read on the strip"
    strip.leave()
    stage.work.turn_to(_("Yard"))
    yield "looking back"
    stage.work.time._ask()
    yield "go on from here?"
    stage.close()
    stage.session.look_at(None)
    stage.frame()


def in_hand(stage: Stage) -> Walk:
    """A body on its way to its place, a way that is drawn for one, the wiring drawing with leads on it."""
    stage.work.plan.carry("child")
    yield "a body in hand"
    stage.work.plan.carrying.give_up()
    stage.work.plan.send("adult")
    yield "a way that is drawn"
    stage.work.plan.walking.give_up()
    stage.root.toasts.clear()
    stage.work.show_wiring(True)
    yield "wiring"
    terminals = [terminal.name for terminal in stage.work.hands.view.terminals]
    stage.work.folder.bench.put(terminals[0], "red")
    stage.work.folder.bench.put(terminals[1], "black")
    stage.work._enlarge(True)
    yield "wiring with leads"
    stage.work.wiring.drawing.eye.fit_all()
    yield "wiring as a whole"
    stage.work.show_wiring(False)


def free(stage: Stage) -> Walk:
    """A yard in which nothing is asked, and a job that is assessed."""
    site = next(site for site in stage.desk.sites() if site.usable)
    stage.app.open(stage.desk.start_yard(site.path, (), True, 0))
    stage.frame()
    for page in ("Brief", "Acceptance"):
        stage.work.open_page(page)
        stage.frame()
        yield from stage.down(f"free yard: {page}")
    stage.open("assessed")
    yield "assessed"
    stage.work.turn_to(_("Time"))
    stage.session.look_at(1_000_000)
    stage.frame()
    yield "assessed, looking back"


def force(stage: Stage) -> Walk:
    """The force gauge before a leaf, and what it read."""
    stage.open()
    given = {"leaf": "active", "gap_mm": 300.0, "height_mm": 860.0, "rest": "rigid rest"}
    for _n in range(3):
        stage.session.do("place force gauge", given)
        stage.frame()
        yield "force gauge in place"
        stage.session.do("read force gauge")
    stage.root.toasts.clear()
    for page in ("Instruments", "Acceptance"):
        stage.work.open_page(page)
        if page == "Instruments":
            stage.work.folder.page._take("force gauge")
        stage.frame()
        yield from stage.down(f"force gauge: {page}")


def helps(stage: Stage) -> Walk:
    """Tour, words of the trade, keys, all actions, and what is asked before something is done."""
    stage.open()
    stage.app.guidance.tour()
    for stop in STOPS:
        yield f"tour: {stop.title}"
        stage.work.over.floating.key(pygame.event.Event(pygame.KEYDOWN, key=pygame.K_RIGHT, mod=0))
    for what, ask in (
        ("words of the trade", stage.app.guidance.glossary),
        ("keys", stage.app.guidance.keys),
        ("settings", stage.app.open_settings),
        ("finish?", lambda: ask_to_finish(stage.root, lambda: None)),
        ("report", lambda: ask_for_report(stage.root, stage.session.observe(), Path("out"), lambda *_a: None)),
        ("caution", lambda: stage.work.hands.do("learn travel")),
        ("menu", stage.work.bar.more.open),
        ("guards", stage.work.controls.guards.open),
        ("leaves", stage.work.controls.leaves.open),
        ("bodies", stage.work.controls.bodies.open),
        ("refusal", lambda: stage.work.hands.do("read force gauge")),
    ):
        ask()
        stage.frame()
        yield from stage.down(what)
        stage.close()
    stage.work.shortcut(pygame.event.Event(pygame.KEYDOWN, key=pygame.K_k, mod=pygame.KMOD_CTRL))
    palette = next(w for w in stage.root.layer.top.walk() if hasattr(w, "kinds"))
    yield from stage.down("all actions")
    for kind in WITH_FORMS:
        palette._open(palette.kinds.index(kind))
        stage.frame()
        yield from stage.down(f"all actions: {kind}")
    stage.close()


def debrief(stage: Stage) -> Walk:
    """What comes when a job has ended, with its pages; and the panel of a screen that failed."""
    stage.open()
    stage.session.finish()
    stage.frame()
    screen = stage.root.layers[0].top
    for name in list(screen.pages):  # type: ignore[attr-defined]
        screen.page.choose(name)  # type: ignore[attr-defined]
        stage.frame()
        yield from stage.down(f"debrief: {name}")
    timeline = screen.timeline  # type: ignore[attr-defined]
    timeline.reveal(timeline.rect)
    stage.root.set_focus(timeline, shows=True)
    for _n in timeline.pins:
        yield "debrief: a finding on the timeline"
        timeline.key(pygame.event.Event(pygame.KEYDOWN, key=pygame.K_RIGHT, mod=0))
    stage.app._show_trouble(RuntimeError("9"))
    yield "trouble"


SCREENS: Final[dict[str, Callable[[Stage], Walk]]] = {
    "desk": desk,
    "pages": pages,
    "yard": yard,
    "free": free,
    "force": force,
    "helps": helps,
    "debrief": debrief,
}

REAL: Final = {name: walk for name, walk in SCREENS.items() if name not in ("desk", "force")}
"""Those that a session is seen on."""
