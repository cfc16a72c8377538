"""Somebody at work for hours in the real window with a real session: rounds of two thousand frames, each with a cycle
of the gate, guards, bodies, pages, undo, looking back, close-ups, the wiring drawing, dialogs and messages.

Nothing here is chance: a round does at the same frames what the round before did, so that what grows shows.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

ROUND = 2000
"""Frames. A round is two minutes of simulated time: one of frames, and one that its acts take."""

FRAME_S = 0.03
"""Wall time of a frame [s]: with what the acts take, 120 000 frames are two simulated hours."""

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
            if at % 220 == 200:
                self.app.work.open_page(PAGES[(self.frames // 220) % len(PAGES)])
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
    20: _act("press", control="open button"),
    28: _act("release", control="open button"),
    120: _act("cover beam", guard="inner beam"),
    180: _act("uncover beam", guard="inner beam"),
    300: _span,
    360: _act("place body", body="adult", x_m=1.5, y_m=-6.0),
    400: _act("walk body", body="adult", path="2.5,-8 4.5,-6", speed_m_s=1.0),
    640: _act("remove body", body="adult"),
    700: _act("set", setting="run speed", value="70"),
    740: _undo,
    800: _look(30.0),
    820: _look(12.5),
    850: _look(2000.0),
    880: _look(None),
    900: _closeup,
    980: lambda who, _round: who.app.work.plan.look_away(),
    1000: _act("press", control="close button"),
    1008: _act("release", control="close button"),
    1120: _act("press edge", guard="active edge"),
    1160: _act("release edge", guard="active edge"),
    1240: lambda who, number: who.app.root.toast(f"Round {number} of many, said once."),
    1280: _note,
    1320: lambda who, _round: who.app.work.show_wiring(True),
    1400: lambda who, _round: who.app.work.show_wiring(False),
    1440: lambda who, _round: who.app.open_settings(),
    1470: lambda who, _round: who.app.root.close_layer(),
    1480: lambda who, _round: who.app.guidance.glossary(),
    1510: lambda who, _round: who.app.root.close_layer(),
    1520: lambda who, _round: who.app.work.begin_tour(),
    1550: lambda who, _round: who.app.work.end_tour(),
    1600: _act(
        "place instrument",
        instrument="multimeter",
        function="volts dc",
        at="board supply, plus",
        against="board supply, minus",
    ),
    1660: _act("read instrument", instrument="multimeter"),
    1700: _act("lift instrument", instrument="multimeter"),
    1800: _act("press", control="close button"),
    1808: _act("release", control="close button"),
}
"""What happens at which frame of a round."""
