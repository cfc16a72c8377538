"""The album: every screen of the window under a name, each brought about by what a person would do there.

Whoever adds a screen adds it to `SCREENS`: from then on its picture, help, targets and contrast are tested.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pygame

from tests.trainer.window.conftest import Work
from tests.trainer.window.learner import COMPETENCES, OVERRULED, Coach
from tests.trainer.window.screens.test_drillpage import Shelf
from trainer.window.app import App
from trainer.window.canned import CannedDesk
from trainer.window.closeup.subject import MEETING, Subject
from trainer.window.screens.debrief import DebriefScreen
from trainer.window.screens.trouble import Trouble
from trainer.window.tour.stops import STOPS

Size = tuple[int, int]
Screen = Callable[[Size, float], App]
"""Opens a window of a size [px] with text of a size (1.0 to 2.0) and brings the screen about."""

PAGES = ("Brief", "Survey", "Cabinet", "Sheet", "Instruments", "Repair", "Notebook", "Acceptance", "Why still")
"""Pages of the folder."""


def still(app: App) -> App:
    """The window once it has come to rest, without messages that pass."""
    app.frame(0.0)
    app.frame(0.0)
    app.root.toasts.clear()
    app.frame(0.0)
    return app


def desk(who: str, page: str, then: Callable[[App], None] = lambda app: None) -> Screen:
    """A page of the front desk as somebody finds it."""

    def screen(size: Size, scale: float) -> App:
        app = App(CannedDesk(), size, scale=scale)
        app.shelf = Shelf()
        app.coach = Coach()
        app.appearance.prefer(who=who)
        app.show_desk()
        app.frame(0.0)
        front: Any = app.root.layer.top
        front.pages.choose(page)
        then(app)
        return still(app)

    return screen


def job(*acts: Callable[[Work], None]) -> Screen:
    """The work screen after what was done there."""

    def screen(size: Size, scale: float) -> App:
        work = Work(size, "practice", scale)
        for act in acts:
            act(work)
            work.frame()
        return still(work.app)

    return screen


# -- at the front desk


def some_faults(app: App) -> None:
    """All faults that fit have come in, and two of them are put on the gate."""
    for _ in range(8):
        app.frame(0.0)
    front: Any = app.root.layer.top
    faults = front._made["Free yard"].faults
    faults.toggle(1)
    faults.toggle(3)


def left_yard(app: App) -> None:
    """A free yard was left before."""
    app.desk.left = "Orchard Row"  # type: ignore[attr-defined]
    app.show_desk()
    front: Any = app.root.layer.top
    front.pages.choose("Free yard")
    some_faults(app)


def kept_settings(app: App) -> None:
    """The settings, with the place where they are kept."""
    app.appearance.keeper.path = Path("gudgeon/window.json")
    app.open_settings()


def keys_told(app: App) -> None:
    """The sheet of keys."""
    app.guidance.keys()


# -- at the gate


def done(work: Work, *acts: tuple[str, dict[str, Any]]) -> None:
    """Act by act; an act that is refused would make a picture of something else."""
    for kind, given in acts:
        reply = work.session.do(kind, given)
        assert reply.accepted, f"{kind}: {reply.text}"


def reversal(work: Work) -> None:
    """A gate that was reversed by the test body in its beam."""
    work.free()
    done(
        work,
        ("set", {"setting": "opens first", "value": "active"}),
        ("place body", {"body": "adult", "x_m": 1.2, "y_m": -1.6}),
        ("press", {"control": "open button"}),
        ("release", {"control": "open button"}),
    )
    work.session.let_pass(18.0)
    done(work, ("press", {"control": "close button"}), ("release", {"control": "close button"}))
    work.session.let_pass(7.0)
    done(work, ("place body", {"body": "test body", "x_m": 2.4, "y_m": -0.6}))
    work.session.let_pass(2.0)


def everything_trips(work: Work) -> None:
    """An edge pressed, a beam cut, the stop button in, a leaf released: all that the plan can tell at once."""
    work.session.angles = [62.0, 48.0]
    done(
        work,
        ("place body", {"body": "adult", "x_m": 1.2, "y_m": -0.6}),
        ("press edge", {"guard": "active edge"}),
        ("press", {"control": "stop button"}),
        ("release drive", {"leaf": "inactive"}),
    )


def crowd(work: Work) -> None:
    """Bodies of every kind, turned, one on its way."""
    for body, x, y, turn in (
        ("adult", 0.1, 1.6, 0.0),
        ("child", 0.8, 1.6, 0.0),
        ("pram", 1.6, 1.5, 0.0),
        ("dog", 2.6, 1.6, 40.0),
        ("bicycle", 4.0, 1.6, -60.0),
        ("test body", 0.4, 0.8, 0.0),
        ("van", 2.2, -3.0, 90.0),
    ):
        done(work, ("place body", {"body": body, "x_m": x, "y_m": y, "turn_deg": turn}))
    done(work, ("walk body", {"body": "dog", "path": "1.5,0.7 3.4,0.8"}))


def page(name: str) -> Callable[[Work], None]:
    """A page of the folder is opened."""
    return lambda work: work.page(name)


def noted(work: Work) -> None:
    """Survey, sheet and notebook have something written in them."""
    done(
        work,
        ("state user group", {"group": "instructed with public"}),
        ("survey hazard", {"hazard": "gap at the hinge", "protection": "nothing"}),
        ("note", {"text": "the outer beam is dirty"}),
        ("note", {"text": "the active leaf groans half way"}),
        ("set", {"setting": "run speed", "value": "60"}),
        ("set", {"setting": "auto-close", "value": "on"}),
        ("set", {"setting": "guard test", "value": "off"}),
    )


def gauged(work: Work) -> None:
    """Both leaves half way, the force gauge before one of them."""
    work.session.angles = [40.0, 25.0]
    where = {"leaf": "active", "gap_mm": 300.0, "height_mm": 860.0, "rest": "rigid rest"}
    done(work, ("place force gauge", where))


def forces_measured(work: Work) -> None:
    """Three readings at one point of the force plan."""
    gauged(work)
    done(work, *(("read force gauge", {}),) * 3)


def looked_at(subject: Subject) -> Callable[[Work], None]:
    """A close-up is opened."""
    return lambda work: work.screen.plan.look(subject)


def tampered(work: Work) -> None:
    """A plug that is out, a bridge, an open isolator, swapped motor leads."""
    done(
        work,
        ("isolate", {}),
        ("unplug", {"guard": "outer beam"}),
        ("bridge", {"guard": "stop circuit"}),
        ("swap motor leads", {"leaf": "active"}),
    )


def leads_on(plus: str, minus: str) -> Callable[[Work], None]:
    """The multimeter in hand with its leads on two screws."""

    def put(work: Work) -> None:
        work.page("Instruments")
        opened = work.screen.folder.page
        opened.shelf.choose("multimeter")
        opened.bench.put(plus, "red")
        opened.bench.put(minus, "black")

    return put


def drawing_enlarged(work: Work) -> None:
    """The wiring drawing over the whole of the middle, moved to its terminals."""
    work.screen.show_wiring(True)
    work.screen._enlarge(True)
    work.frame(2)
    work.screen.wiring.drawing.eye.move(0.0, 190.0)


def meter_read(work: Work) -> None:
    """A meter in place with its reading, beside the drawing."""
    given = {"function": "volts dc", "red": "isolator inlet, live", "black": "isolator inlet, neutral"}
    done(work, ("place probes", given), ("read meter", {}))
    work.screen.show_wiring(True)


def past(part: str) -> Callable[[Work], None]:
    """The yard as it was some seconds ago."""

    def look(work: Work) -> None:
        work.session.look_at(21_500_000)
        work.screen.turn_to(part)

    return look


def words_asked(work: Work) -> None:
    """The glossary, narrowed by a few letters."""
    work.app.guidance.glossary()
    work.hand.type("force")


def tour_at(title: str) -> Callable[[Work], None]:
    """The tour at one of its stops."""

    def go(work: Work) -> None:
        work.app.guidance.tour()
        work.screen.over.floating.go(next(n for n, stop in enumerate(STOPS) if stop.title == title))

    return go


def menu_open(work: Work) -> None:
    """The menu of the work screen."""
    work.hand.click("menu", "More")


def actions_listed(work: Work) -> None:
    """All actions by name, one of them chosen."""
    from trainer.window.screens.palette import open_palette

    open_palette(work.screen.hands)
    work.hand.type("place force")


def asked(kind: str) -> Callable[[Work], None]:
    """The question before something that would hurt someone."""
    return lambda work: work.screen.hands.do(kind)


def going_on_asked(work: Work) -> None:
    """The question before one goes on from the past."""
    past("Time")(work)
    work.frame(2)
    work.hand.click("button", "Go on from here")


def finish_asked(work: Work) -> None:
    """The question before an attempt ends as it stands."""
    work.app._ask_to_finish()


def ended(work: Work) -> None:
    """A job of eleven minutes that has ended."""
    work.session.let_pass(660.0)
    done(work, ("make safe", {"reason": "no parts"}))


def turned(name: str) -> Callable[[Work], None]:
    """A page of the debrief, brought into sight where all is one column."""

    def turn(work: Work) -> None:
        debrief: Any = work.app.root.layer.top
        debrief.page.choose(name)
        work.frame()
        shown = debrief.pages[name]
        shown.reveal(pygame.Rect(shown.rect.topleft, (1, debrief.rect.height // 2)))

    return turn


def overruled(work: Work) -> None:
    """The debrief of an attempt that an instructor has looked at, by a college's list."""
    view = work.session.observe()
    assert view.debrief is not None
    told = replace(view.debrief, overruled=OVERRULED, competences=COMPETENCES)
    nothing = {"on_yard": lambda: None, "on_report": lambda: None, "on_desk": lambda: None}
    work.app.root.show(DebriefScreen(view, told, lambda when: None, **nothing))


def report_asked(work: Work) -> None:
    """The question where the report is written."""
    work.hand.click("button", "Write the report…")
    entry = next(widget for widget in work.app.root.layer.top.walk() if widget.role == "text entry")
    work.app.root.set_focus(entry)
    work.hand.key(pygame.K_a, mod=pygame.KMOD_CTRL)
    work.hand.type("gudgeon-out")
    work.app.root.set_focus(work.app.root.layer.top.answers[-1])  # type: ignore[attr-defined]


def broken(work: Work) -> None:
    """The calm panel; its details are made up, since true ones differ from place to place."""
    details = "\n".join(f"File “trainer/window/screens/work.py”, line {line}, in show" for line in range(101, 131))
    nothing = {"again": lambda: None, "desk": lambda: None}
    work.app.root.show(Trouble(RuntimeError("made up for the album"), details, **nothing))


SCREENS: dict[str, Screen] = {
    "desk-jobs": desk("apprentice", "Jobs"),
    "desk-drills": desk("instructor", "Drills"),
    "desk-bench": desk("engineer", "Bench"),
    "desk-yard": desk("apprentice", "Free yard", some_faults),
    "desk-yard-left": desk("engineer", "Free yard", left_yard),
    "desk-settings": desk("apprentice", "Jobs", kept_settings),
    "desk-keys": desk("apprentice", "Jobs", keys_told),
    "yard": job(reversal),
    "yard-tripped": job(everything_trips),
    "yard-bodies": job(crowd),
    "yard-past": job(reversal, past("Yard")),
    "strip-past": job(reversal, past("Time")),
    **{f"page-{name.lower().replace(' ', '-')}": job(reversal, noted, page(name)) for name in PAGES},
    "page-acceptance-forces": job(forces_measured, page("Acceptance")),
    "wiring": job(tampered, leads_on("battery, plus", "board supply, minus"), drawing_enlarged),
    "instrument": job(leads_on("isolator inlet, live", "isolator inlet, neutral"), meter_read),
    "closeup-hinge": job(gauged, looked_at(Subject("hinge", "active"))),
    "closeup-drive": job(gauged, looked_at(Subject("drive", "inactive"))),
    "closeup-meeting": job(gauged, looked_at(MEETING)),
    "closeup-leaf": job(gauged, looked_at(Subject("leaf", "active"))),
    "tour-first": job(tour_at("The yard")),
    "tour-cabinet": job(tour_at("Cabinet")),
    "tour-last": job(tour_at("More help")),
    "menu": job(menu_open),
    "glossary": job(words_asked),
    "actions": job(actions_listed),
    "caution": job(asked("learn travel")),
    "going-on": job(reversal, going_on_asked),
    "finish": job(finish_asked),
    "debrief-findings": job(ended),
    "debrief-measurements": job(ended, turned("Measurements")),
    "debrief-force": job(forces_measured, ended, turned("Force")),
    "debrief-expert": job(ended, turned("The expert's way")),
    "debrief-overruled": job(ended, overruled),
    "report": job(ended, report_asked),
    "trouble": job(broken),
}
"""Every screen by the name of its picture."""
