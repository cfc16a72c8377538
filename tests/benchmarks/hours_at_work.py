"""Somebody at work for hours in the real window with a real session: rounds of a thousand frames, each with a cycle
of the gate, guards, bodies, pages, undo, looking back, close-ups, the wiring drawing, dialogs and messages.

Nothing here is chance: a round does at the same frames what the round before did, so that what grows shows.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

ROUND = 1000
"""Frames."""

FRAME_S = 0.06
"""Wall time of a frame [s]: 120 000 of them are two hours."""

PLUS, MINUS = "board supply, plus", "board supply, minus"

PAGES = ("Brief", "Survey", "Cabinet", "Sheet", "Instruments", "Repair", "Notebook", "Acceptance", "Why still")


class AtWork:
    """The app with a session of the commissioned gate in which everything is allowed."""

    def __init__(self, folder: Path) -> None:
        from trainer.grading.judge import Grader
        from trainer.job import load_named_job, resolve
        from trainer.session.desk import Desk
        from trainer.window.app import App

        desk = Desk(Grader(), folder)
        found = resolve(load_named_job("meet_the_gate"), 0)
        everything = replace(found, job=found.job.model_copy(update={"allowed": "all"}))
        self.session = desk.begin(everything, "meet_the_gate")
        self.app: Any = App(desk, (1280, 800))  # type: ignore[arg-type]
        self.app.frame(0.0)
        self.app.open(self.session)
        self.frames = 0
        self.refused: dict[str, str] = {}
        """What was not done, by its kind, with the reason."""

    def close(self) -> None:
        """Leave the window."""
        self.app.leave_session()

    def work(self, frames: int) -> None:
        """So many frames, with what belongs to each of them."""
        for _ in range(frames):
            number, at = divmod(self.frames, ROUND)
            doing = SCRIPT.get(at)
            if doing is not None:
                doing(self, number)
            if at % 110 == 100:
                self.app.work.open_page(PAGES[(self.frames // 110) % len(PAGES)])
            self.app.frame(FRAME_S)
            self.frames += 1

    def do(self, kind: str, **given: object) -> None:
        """One act through the window's own hands."""
        reply = self.session.do(kind, given)
        if not reply.accepted:
            self.refused[kind] = reply.text


def _act(kind: str, **given: object) -> Callable[[AtWork, int], None]:
    return lambda who, _round: who.do(kind, **given)


def _undo(who: AtWork, _round: int) -> None:
    who.app.work.open_page("Sheet")
    who.app.work.folder.page.undo()


def _look(seconds: float | None) -> Callable[[AtWork, int], None]:
    def look(who: AtWork, _round: int) -> None:
        back = None if seconds is None else max(0, int(who.session.clock_us - seconds * 1e6))
        who.session.look_at(back)

    return look


def _span(who: AtWork, number: int) -> None:
    from trainer.window.strip.panel import SPANS

    who.app.work.time._span(tuple(SPANS)[number % len(SPANS)])


def _closeup(who: AtWork, number: int) -> None:
    from trainer.window.closeup.subject import subjects

    found = list(subjects(who.app.work.hands.view).values())
    who.app.work.plan.look(found[number % len(found)])


def _note(who: AtWork, number: int) -> None:
    if number % 10 == 0:
        who.do("note", text=f"seen in round {number}")


SCRIPT: dict[int, Callable[[AtWork, int], None]] = {
    10: _act("press", control="open button"),
    14: _act("release", control="open button"),
    60: _act("cover beam", guard="inner beam"),
    90: _act("uncover beam", guard="inner beam"),
    150: _span,
    180: _act("place body", body="adult", x_m=1.5, y_m=-6.0),
    200: _act("walk body", body="adult", path="2.5,-8 4.5,-6", speed_m_s=1.0),
    320: _act("remove body", body="adult"),
    350: _act("set", setting="run speed", value="70"),
    370: _undo,
    400: _look(30.0),
    410: _look(12.5),
    425: _look(2000.0),
    440: _look(None),
    450: _closeup,
    490: lambda who, _round: who.app.work.plan.look_away(),
    500: _act("press", control="close button"),
    504: _act("release", control="close button"),
    560: _act("press edge", guard="active edge"),
    580: _act("release edge", guard="active edge"),
    620: lambda who, number: who.app.root.toast(f"Round {number} of many, said once."),
    640: _note,
    660: lambda who, _round: who.app.work.show_wiring(True),
    700: lambda who, _round: who.app.work.show_wiring(False),
    720: lambda who, _round: who.app.open_settings(),
    735: lambda who, _round: who.app.root.close_layer(),
    740: lambda who, _round: who.app.guidance.glossary(),
    755: lambda who, _round: who.app.root.close_layer(),
    760: lambda who, _round: who.app.work.begin_tour(),
    775: lambda who, _round: who.app.work.end_tour(),
    800: _act(
        "place instrument",
        instrument="multimeter",
        function="volts dc",
        at="board supply, plus",
        against="board supply, minus",
    ),
    830: _act("read instrument", instrument="multimeter"),
    850: _act("lift instrument", instrument="multimeter"),
    900: _act("press", control="close button"),
    904: _act("release", control="close button"),
}
"""What happens at which frame of a round."""
