"""A running job: `do` an action, let wall time `tick`, `observe`. The only door for screen, console, drill, test.

A session is a site, a hidden draw and a journal; its state is the replay of that journal. Every accepted action is
on disk before it is carried out, so that a killed process, a closed window or a flat battery loses nothing that
was acknowledged.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path

from sim.errors import ActionError, Refused
from sim.instruments.toolbag import Toolbag
from sim.said import said
from sim.units import SCAN, SECOND, Us, next_on_grid, to_seconds
from sim.world.actions import CATALOGUE, Action, checked
from sim.world.catalogue.survey import HINT
from sim.world.clock import Phase
from sim.world.history import History, Standing
from sim.world.meddling import Meddling, check, meddle
from sim.world.world import World
from trainer.session import observe
from trainer.session.acceptance import Judged, judged_now
from trainer.session.advice import advised
from trainer.session.assignment import Assignment, Judge
from trainer.session.attempt import keep_result
from trainer.session.branches import last_before, left_behind
from trainer.session.force_book import ForceBook
from trainer.session.journal import Journal, differing
from trainer.session.kept import Kept
from trainer.session.past import Past
from trainer.session.releasing import RELEASING, releasing
from trainer.session.sheet_log import SheetLog
from trainer.session.since_arrival import history_of
from trainer.session.strip import Strip
from trainer.session.view import DebriefView, Reply, View
from trainer.session.worth import WorthView, worth_of

PACES = (0.25, 1.0, 4.0, 16.0)
"""How fast simulated time may pass against the wall's."""

FRAME_MOST_S = 0.1
"""A frame advances at most this much wall time [s], however late it is."""

REACHED_EVERY_S = 1.0
"""Time reached is journalled at least each wall second while the world runs."""

REPORT = "debrief.html"
"""The report beside a journal."""

DIGEST_EVERY = 30
"""How many notes of time reached there are to one fingerprint of the whole state."""


class Session:
    """One attempt at one job."""

    def __init__(
        self,
        assignment: Assignment,
        build: Callable[[], World],
        journal: Journal,
        judge: Judge | None = None,
        publish: Callable[[View, Path], object] | None = None,
    ) -> None:
        """`judge` grades, `publish` writes the report of a finished attempt; both come from floors above."""
        self.assignment = assignment
        self.journal = journal
        self._build = build
        self._judge = judge
        self._publish = publish
        self.world = build()
        self.sheet_log, self.force_book = SheetLog.of(self.world), ForceBook()
        self._strip, self.past = Strip(self.world), Past(self.world)
        self.kept = Kept()
        """What a view is made of that stays from frame to frame."""
        self._paused = False
        self._pace = 1.0
        self._achieved = 1.0
        self._owed_s = 0.0
        self._since_reached_s = 0.0
        self._reply = ""
        self._shown: Us | None = None
        self._judged: tuple[int, Judged] = (-1, Judged())
        self._debrief: DebriefView | None = None
        self._writing: threading.Thread | None = None
        """Writes the report, or did."""
        self._inexact = ""
        """Why this replay can't be trusted; empty as it should be."""
        self._noted = 0
        self.on_anew: Callable[[], None] = lambda: None
        """Called when what happened is about to be played again in a new world: who stands beside comes along."""

    # -- do --------------------------------------------------------------------------------------------

    def do(self, kind: str, arguments: Mapping[str, object] | None = None) -> Reply:
        """Do an action now. Accepted means it is on disk; what came of it is in the reply's text."""
        try:
            action = checked(kind, arguments)
            if self._inexact:
                raise Refused(self._inexact)
            self._allowed(action)
            self.world.check(action)
            if action.kind == HINT:
                action = advised(action, self.assignment, self.history())
        except (ActionError, Refused) as error:
            self._reply = str(error)
            return Reply(False, str(error))
        self._shown = None
        line = self.journal.act(self.world.now, action.kind, action.arguments)
        self._reply = told = self.sheet_log.do(self.world, action, line.number)
        if self.world.ended:
            self._end()
        return Reply(True, told, line.number)

    def _allowed(self, action: Action) -> None:
        if action.kind not in self.assignment.allowed and action.kind not in RELEASING:
            raise Refused(said("'{kind}' is not part of this job", kind=action.kind))
        self.assignment.van.check(action)

    def _end(self) -> None:
        self.journal.digest(self.world.now, self.world.digest())
        self.journal.end(self.world.now, self.world.ended)

    def meddle(self, change: Meddling, at: Us | None = None) -> None:
        """Change something out of sight at the next scan instant, or at one that isn't over yet [µs of the world], as
        an instructor does; it is kept in the journal.

        May be called while time runs. Raises Refused if there is no such thing to change.
        """
        check(self.world, change)
        world = self.world

        def hand() -> None:
            if not world.ended and world is self.world:
                self.journal.meddled(world.now, change.what, change.target, change.on, change.values)
                meddle(world, change)

        when = next_scan(world) if at is None else max(at, world.now)
        world.clock.at(when, Phase.HAND, hand, f"instructor: {change.what} {change.target}".strip())

    def release_all(self) -> None:
        """Let go of everything held: on pause, loss of focus, rewind, closing. Each release is journalled."""
        for held in list(self.world.held):
            kind, arguments = releasing(held)
            self.do(kind, arguments)

    # -- time ------------------------------------------------------------------------------------------

    def tick(self, wall_s: float) -> None:
        """Let `wall_s` of wall time pass (at most 0.1 s counts); nothing happens while paused or looking back."""
        if self._paused or self._shown is not None or self.world.ended:
            return
        pace = min(self._pace, 1.0) if self.world.held else self._pace
        self._owed_s += min(wall_s, FRAME_MOST_S) * pace
        steps = int(self._owed_s * SECOND) // SCAN
        if steps > 0:
            before = self.world.now
            self.world.run_to(before + steps * SCAN)
            self._owed_s -= steps * SCAN / SECOND
            self._achieved = pace * min(1.0, FRAME_MOST_S / wall_s) if wall_s > FRAME_MOST_S else pace
        self._since_reached_s += wall_s
        if self._since_reached_s >= REACHED_EVERY_S:
            self._since_reached_s = 0.0
            self.note_time()

    def run_for(self, duration: Us, enough: Callable[[], bool] | None = None) -> bool:
        """Let simulated time pass without a wall clock (drills, solutions, tests); True if `enough` came first."""
        early = self.world.run_to(self.world.now + duration, enough)
        self.note_time()
        return early

    def note_time(self) -> None:
        """Put the time reached on disk, unless it stands there already or the attempt is over."""
        if self._inexact or self.world.ended or self.journal.last.at >= self.world.now:
            return
        self.journal.reached(self.world.now)
        self._noted += 1
        if self._noted % DIGEST_EVERY == 0:
            self.journal.digest(self.world.now, self.world.digest())

    def pause(self, on: bool) -> None:
        """Hold simulated time; whatever is held pressed is let go first."""
        if on:
            self.release_all()
        self._paused = on

    def set_pace(self, pace: float) -> None:
        """How fast time passes; at most 1× while a control is held, whatever is set."""
        if pace not in PACES:
            allowed = ", ".join(f"{p:g}×" for p in PACES)
            raise ActionError(said("pace {pace:g} is not one of {allowed}", pace=pace, allowed=allowed))
        self._pace = pace

    # -- the past --------------------------------------------------------------------------------------

    def look_at(self, when: Us | None) -> None:
        """Show a past instant [µs since arrival] from the recording; None: back to now. Changes nothing."""
        if when is not None:
            self.release_all()
            if self._shown is None:
                self.journal.look(self.world.now, Us(when + self.world.arrived))
        self._shown = when

    def go_on_from(self, when: Us) -> Reply:
        """Go on from a past instant [µs since arrival]: the present branch is left but stays in the journal."""
        if self.assignment.mode == "assessed":
            return Reply(False, said("in an assessed attempt the past can be looked at, not changed"))
        target = Us((when + self.world.arrived) // SCAN * SCAN)
        if not self.world.arrived <= target <= self.world.now:
            return Reply(False, said("that instant is not in this session's past"))
        self.release_all()
        self.journal.branch(target, last_before(self.journal.living(), target))
        self._replay(target)
        self._shown = None
        told = said(
            "Going on from {since_s:.1f} s; what came after is kept as a left branch.", since_s=to_seconds(when)
        )
        return Reply(True, told)

    def replay(self) -> None:
        """Bring the world to where the journal ends: resuming."""
        living = self.journal.living()
        self._replay(max((line.at for line in living), default=Us(0)))
        if self.journal.torn is not None:
            self._reply = str(self.journal.torn)
        if not self.world.ended:
            self.release_all()

    def _replay(self, until: Us) -> None:
        self.world = self._build()
        self.past = Past(self.world)
        self.sheet_log, self.force_book = SheetLog.of(self.world), ForceBook()
        self._debrief = None
        self._inexact = ""
        self._judged = (-1, Judged())
        self._queue_meddling()
        self.on_anew()
        for line in self.journal.living():
            if line.kind == "action":
                self.world.run_to(line.at)
                action = checked(str(line.data["do"]), line.data["with"])
                self.sheet_log.do(self.world, action, line.number)
            elif line.kind == "digest":
                self.world.run_to(line.at)
                if line.data["digest"] != self.world.digest() and not self._inexact:
                    self._inexact = differing(self.clock_us, line.number)
                    self._reply = self._inexact
            elif line.kind == "end" and not self.world.ended:
                self.world.run_to(line.at)
                self.world.ended = str(line.data["how"])  # as it stood: no act of the trainee's ended it
        self.world.run_to(until)
        self._strip = Strip(self.world)

    def _queue_meddling(self) -> None:
        """What an instructor changed may fall into the time an act takes, so all of it is queued before the acts."""
        world = self.world
        for line in self.journal.living():
            if line.kind == "meddling":
                told = line.data
                change = Meddling(told["what"], told["target"], told["on"], told.get("values", {}))
                world.clock.at(line.at, Phase.HAND, lambda c=change: meddle(world, c), "instructor")  # type: ignore[misc]

    # -- look ------------------------------------------------------------------------------------------

    def history(self) -> History:
        """All that grading may look at; times counted from arrival."""
        return history_of(self.world)

    @property
    def toolbag(self) -> Toolbag:
        """The instruments of this session."""
        bag = self.world.bag
        assert isinstance(bag, Toolbag)
        return bag

    def standing(self) -> Standing:
        """How the gate stands now, truth beside the sheet."""
        return self.world.standing()

    def debrief(self) -> DebriefView | None:
        """The graded result once the job has ended; None before, or without a judge."""
        if self._debrief is None and self.world.ended and self._judge is not None and not self._inexact:
            left = left_behind(self.journal.entries(), self.world.arrived)
            history = self.history()
            kept = self._judge.kept(history, self.assignment)
            end = next((line.number for line in reversed(self.journal.living()) if line.kind == "end"), 0)
            keep_result(self.journal.folder, kept, end)
            made = self._judge.debrief(history, self.assignment, self.journal.folder)
            worth = worth_of(self.assignment.adviser, lambda: history, begin=False)
            self._debrief = replace(made, left=left, worth=worth if worth.standing == "there" else None)
            if self._publish is not None:
                self._debrief = replace(self._debrief, report_path=str(self.journal.folder / REPORT))
                self._put_report()
        return self._debrief

    def worth(self) -> WorthView | None:
        """What each step was worth, or how it stands with it: asked again later, it may be there. None before the
        end.

        Where it comes later than the debrief, the report is written once more.
        """
        result = self.debrief()
        if result is None:
            return None
        if result.worth is not None:
            return result.worth
        worth = worth_of(self.assignment.adviser, self.history, begin=True)
        if worth.standing == "there":
            self._debrief = replace(result, worth=worth)
            if self._publish is not None:
                self._put_report()
        return worth

    def _put_report(self) -> None:
        self._writing = threading.Thread(target=self._write_report, args=(self._writing,), name="report")
        self._writing.start()

    def _write_report(self, before: threading.Thread | None) -> None:
        """Draw the report beside the journal, behind the screen: drawing takes longer than a frame may."""
        assert self._publish is not None
        if before is not None:
            before.join()
        try:
            self._publish(self.observe(), self.journal.folder)
        except Exception as error:
            self._reply = said(
                "The report could not be written: {error}. The journal is safe; the debrief is on screen.",
                error=str(error),
            )

    def finish(self) -> None:
        """End the attempt as it stands: nothing is handed over, what was done is graded."""
        if not self.world.ended:
            self.release_all()
            self.world.ended = "finished"
            self._end()

    def judged(self) -> Judged:
        """Acceptance and guide; worked out again only when something happened."""
        stamp = 2 * (len(self.world.events) + len(self.world.entries)) + bool(self.world.ended)
        if self._judge is not None and stamp != self._judged[0]:
            now = judged_now(self._judge, self.history(), self.assignment, bool(self.world.ended))
            self._judged = (stamp, now)
        return self._judged[1]

    def observe(self) -> View:
        """Everything a screen needs, frozen."""
        return observe.view(self)

    def close(self) -> None:
        """Let go of everything held and close the journal; the session can be resumed."""
        if not self.world.ended:
            self.release_all()
            self.note_time()
        self.journal.close()

    @property
    def clock_us(self) -> Us:
        """Time since arrival [µs]."""
        return Us(self.world.now - self.world.arrived)

    @property
    def shown_us(self) -> Us | None:
        """The past instant looked at [µs since arrival], None when live."""
        return self._shown

    @property
    def strip(self) -> Strip:
        """The recording behind the time strip."""
        return self._strip

    @property
    def pacing(self) -> tuple[bool, float, float]:
        """(paused, pace asked for, pace achieved)."""
        return self._paused, self._pace, self._achieved

    @property
    def last_reply(self) -> str:
        """What came of the last act, or why it was refused."""
        return self._reply


def next_scan(world: World) -> Us:
    """The next scan instant after the one that is [µs of the world]."""
    return Us(next_on_grid(int(world.clock.now) + 1, SCAN))


ALL_KINDS = frozenset(CATALOGUE)
"""Every action there is, for jobs that allow all."""
