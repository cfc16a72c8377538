"""The window: opens first, then shows the front desk, a session's work screen, and its debrief.

`run()` loops until the window is closed; `frame(dt)` is one turn of that loop and is all that tests need.
Only what the first frame needs is imported at the top: the rooms below come in when a job starts.
"""

from __future__ import annotations

import logging
import os
import threading
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from queue import SimpleQueue
from typing import TYPE_CHECKING, Final

# Drawing is done in memory; asking for an accelerated framebuffer costs a copy and time at start.
os.environ.setdefault("SDL_FRAMEBUFFER_ACCELERATION", "0")
os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")

import pygame

from sim.errors import GudgeonError
from sim.units import SECOND, Us
from trainer.language import _
from trainer.window.appearance import Appearance
from trainer.window.fast import Fast
from trainer.window.guidance import Guidance
from trainer.window.kit.glyphs import Glyphs
from trainer.window.kit.root import Root
from trainer.window.preferences import Keeper
from trainer.window.screens.frontdesk import FrontDesk, Ways
from trainer.window.screens.trouble import Trouble
from trainer.window.shipped import assets
from trainer.window.sound.sounding import Sounding

if TYPE_CHECKING:
    from trainer.window.doors import Coach, Desk, DrillShelf, WorkSession
    from trainer.window.screens.work import WorkScreen
    from trainer.window.sound.speaker import Speaker

LEAST: Final = (1280, 800)
FRAMES_PER_S: Final = 60
LONGEST_S: Final = 0.1
"""A frame that came late counts for no more wall time than this [s] (clock law 4)."""

LED_TO_S: Final = 4.0
"""So much of what led to a moment is played again [s]."""

log = logging.getLogger(__name__)


class App:
    """The one window of the process."""

    def __init__(
        self,
        desk: Desk,
        size: tuple[int, int] = LEAST,
        *,
        scale: float | None = None,
        keeper: Keeper | None = None,
        announce: bool = False,
        pictures: Path | None = None,
        warm_up: Callable[[], None] | None = None,
        fast: bool = False,
        speaker: Speaker | None = None,
    ) -> None:
        """`fast` shows the time an act took running fast instead of jumping over it.

        `keeper` holds what the person chose about the window (none: nothing is kept); a `scale` of text goes before.

        `speaker` plays what is heard; without one there are captions alone.

        `warm_up` is called once in the background after the first frame (loading the compiler); `announce`
        prints `ready` when the window has been drawn; F12 writes pictures into `pictures`.
        """
        pygame.display.init()
        pygame.font.init()
        pygame.display.set_caption("Gudgeon · " + _("training model, certifies nothing"))
        self.window = pygame.display.set_mode(size, pygame.RESIZABLE)
        pygame.key.set_repeat(380, 33)
        pygame.key.start_text_input()
        self.desk = desk
        self.shelf: DrillShelf | None = None
        """Where an instructor takes drills from, when there is one."""
        self.coach: Coach | None = None
        """Who says what to practise next, when there is one."""
        keeper = keeper or Keeper()
        if scale is not None:
            keeper.now = replace(keeper.now, text_scale=scale)
        self.root = Root(Glyphs(assets() / "fonts"), self.window.get_size())
        self.appearance = Appearance(self.root, keeper, self._say_all_anew)
        self.root.shortcut = self._shortcut
        self.root.on_let_go = self._let_go
        self.guidance = Guidance(self.root, lambda: self.work)
        self.session: WorkSession | None = None
        self.work: WorkScreen | None = None
        self.running = True
        self.frames = 0
        self.trouble: BaseException | None = None
        self.pictures = pictures or Path.cwd()
        self._announce = announce
        self._warm_up = warm_up
        self._shows_fast = fast
        self._fast: Fast | None = None
        self.sounding = Sounding(speaker)
        self._from_behind: SimpleQueue[tuple[str, bool]] = SimpleQueue()
        """What is to be said from behind, and whether it is bad news; said by the loop."""
        self._debriefed = False
        self.show_desk()

    # -- the loop

    def run(self) -> None:
        """Draw until the window is closed."""
        clock = pygame.time.Clock()
        try:
            while self.running:
                self.frame(clock.tick(FRAMES_PER_S) / 1000.0)
        finally:
            self.leave_session()
            self.appearance.keeper.write()
            pygame.display.quit()

    def frame(self, wall_s: float) -> None:
        """One turn: events, time, one look, one picture."""
        with self._calmly():
            for event in pygame.event.get():
                self._handle(event)
        with self._calmly():
            self._advance(min(wall_s, LONGEST_S))
        with self._calmly():
            self.root.draw(self.window)
        pygame.display.flip()
        self.frames += 1
        if self.frames == 1:
            self._first_frame_done()

    def _first_frame_done(self) -> None:
        if self._announce:
            print("ready", flush=True)
        self.sounding.open_behind()
        if self._warm_up is not None:
            threading.Thread(target=self._warm, args=(self._warm_up,), name="warm-up", daemon=True).start()

    def _warm(self, warm_up: Callable[[], None]) -> None:
        try:
            warm_up()
        except Exception as error:
            # The slower form gives the same results, so that the window goes on; the person is told.
            log.exception("the compiler could not be loaded")
            self._tell(
                _("The compiler could not be loaded ({error}); time may pass slower.").format(error=error), True
            )

    def _advance(self, wall_s: float) -> None:
        while not self._from_behind.empty():
            words, bad = self._from_behind.get()
            self.root.toast(words, bad=bad)
        self.root.advance(wall_s)
        self.appearance.advance(wall_s)
        if self.session is None or self.trouble is not None:
            return
        if self._fast is None or not self._fast.runs:
            self.session.tick(wall_s)
        view = self.session.observe()
        captions = self.sounding.hear(view, self.appearance.now)
        if self._fast is not None and not self.root.calm:
            view = self._fast.shown(view, wall_s)
        if self.work is not None:
            self.work.show(view)
            self.work.captions.hear(captions, self.root.now)
            if view.debrief is not None and not self._debriefed:
                self._debriefed = True
                self.show_debrief()

    @contextmanager
    def _calmly(self) -> Iterator[None]:
        """Whatever goes wrong in here becomes the calm panel; wrong again there, and the window gives up."""
        try:
            yield
        except Exception as error:
            if self.trouble is not None:
                raise
            log.exception("a screen failed")
            self._show_trouble(error)

    # -- screens

    def show_desk(self) -> None:
        """To the front desk; a session that is open is left, to be resumed."""
        self.leave_session()
        self.trouble = None
        ways = Ways(
            start=lambda card, mode, seed: self._open(lambda: self.desk.start(card.name, mode, seed)),
            resume=lambda card: self._open(lambda: self.desk.resume(card.name)),
            yard=lambda *chosen: self._open(lambda: self.desk.start_yard(*chosen)),
            resume_yard=lambda: self._open(self.desk.resume_yard),
            drill=lambda begin: self._open(lambda: begin(lambda words: self.root.toast(_(words)))),
            settings=self.open_settings,
            be=lambda who: self.appearance.prefer(who=who),
        )
        self.root.show(FrontDesk(self.desk, self.appearance.now.who, ways, self.shelf, self.coach))

    def open_settings(self) -> None:
        """The settings of the window, over the screen that is shown."""
        from trainer.window.screens.settings import settings_dialog

        self.root.open_dialog(settings_dialog(self.appearance))

    def _open(self, begin: Callable[[], WorkSession]) -> None:
        try:
            session = begin()
        except GudgeonError as error:
            self.root.toast(_(str(error)), bad=True)
            return
        self.open(session)

    def open(self, session: WorkSession) -> None:
        """Work in a session that was begun elsewhere; look back on one that has ended."""
        self.leave_session()
        self.session = session
        self._debriefed = session.observe().debrief is not None
        self._fast = Fast() if self._shows_fast else None
        (self.show_debrief if self._debriefed else self.show_work)()

    def show_work(self) -> None:
        """The work screen of the open session."""
        # Imported here: numpy and the catalogue of actions are not needed for the first frame.
        from trainer.window.screens.work import WorkScreen

        if self.session is None:
            return
        self.trouble = None
        if self.work is None:
            more = {
                **self.guidance.entries(),
                _("Larger text"): lambda: self.appearance.text_by(0.1),
                _("Smaller text"): lambda: self.appearance.text_by(-0.1),
                _("Settings…"): self.open_settings,
                **self._endings(),
                _("Leave; resume later"): self.show_desk,
            }
            self.work = WorkScreen(self.session, self.root, more, self.show_debrief)
        self.root.show(self.work)
        if self.appearance.keeper.path is not None and not self.appearance.now.toured:
            self.appearance.prefer(toured=True)
            self.guidance.tour()

    def _endings(self) -> dict[str, Callable[[], None]]:
        """How a job ends and what comes then; a free yard has neither."""
        if self.session is None or not self.session.observe().graded:
            return {}
        return {_("Finish as it stands…"): self._ask_to_finish, _("Debrief"): self.show_debrief}

    def _ask_to_finish(self) -> None:
        from trainer.window.screens.finish import ask_to_finish

        ask_to_finish(self.root, self._finish)

    def _finish(self) -> None:
        if self.session is not None:
            self.session.finish()

    def show_debrief(self) -> None:
        """The debrief of the session, when there is one."""
        from trainer.window.screens.debrief import DebriefScreen
        from trainer.window.screens.report import ask_for_report

        session = self.session
        if session is None:
            return
        view = session.observe()
        if view.debrief is None:
            self.root.toast(
                _("There is a debrief when the job has ended: hand over, make safe, or finish as it stands."),
                bad=True,
            )
            return
        kept = view.debrief.report_path
        folder = Path(kept).resolve().parent if kept else self.pictures
        self.root.show(
            DebriefScreen(
                view,
                view.debrief,
                self._watch,
                on_yard=self._see_yard,
                on_report=lambda: ask_for_report(self.root, session.observe(), folder, self._tell),
                on_desk=self.show_desk,
                ask=session.worth,
            )
        )

    def _see_yard(self) -> None:
        """The yard as it was left."""
        self.show_work()
        if self.session is not None:
            self.session.look_at(None)

    def _watch(self, when: Us) -> None:
        """The yard as it was at a moment: what led to it is played; with reduced motion it stands there at once."""
        self.show_work()
        if self.work is not None:
            at_s = when / SECOND
            self.work.time.watch(at_s if self.root.calm else at_s - LED_TO_S, at_s)

    def _tell(self, words: str, bad: bool) -> None:
        """Have something said by the loop; may be called from behind it."""
        self._from_behind.put((words, bad))

    def _show_trouble(self, error: BaseException) -> None:
        self.trouble = error
        details = "".join(traceback.format_exception(error))
        again = self.show_work if self.session is not None else self.show_desk
        self.root.show(Trouble(error, details, self._again(again), self.show_desk))

    def _again(self, show: Callable[[], None]) -> Callable[[], None]:
        def do() -> None:
            self.trouble = None
            self.work = None
            show()

        return do

    def leave_session(self) -> None:
        """Close the open session, if there is one: it lets go of everything and can be resumed."""
        session, self.session, self.work = self.session, None, None
        self.sounding.begin()
        if session is not None:
            session.close()

    def _let_go(self) -> None:
        if self.session is not None:
            self.session.release_all()

    # -- look

    def _say_all_anew(self) -> None:
        """Another language: every screen is made again, and the settings stay open where they were."""
        asked = self.root.layer.kind == "dialog"
        if self.session is None:
            self.show_desk()
        else:
            before, self.work = self.work, None
            self.show_work()
            if before is not None and self.work is not None:
                self.work.stand_as(before)
        if asked:
            self.open_settings()

    def picture(self, path: Path) -> None:
        """Write what the window shows."""
        pygame.image.save(self.window, path)

    # -- events

    def _handle(self, event: pygame.event.Event) -> None:
        if event.type == pygame.QUIT:
            self.running = False
            self.leave_session()
        elif event.type in (pygame.VIDEORESIZE, pygame.WINDOWSIZECHANGED):
            self.window = pygame.display.get_surface() or self.window
            self.appearance.fit(self.window.get_size())
        elif event.type == pygame.KEYDOWN and event.key == pygame.K_F12:
            self._take_picture()
        elif event.type == pygame.KEYDOWN and event.mod & pygame.KMOD_CTRL and event.key in _SIZES:
            self.appearance.text_by(_SIZES[event.key])
        else:
            self.root.handle(event)

    def _take_picture(self) -> None:
        number = 1
        while (path := self.pictures / f"gudgeon-{number:03d}.png").exists():
            number += 1
        self.pictures.mkdir(parents=True, exist_ok=True)
        self.picture(path)
        self.root.toast(_("Picture written: {path}").format(path=path))

    def _shortcut(self, event: pygame.event.Event) -> bool:
        if self.root.layer.kind == "screen" and self.guidance.shortcut(event):
            return True
        on_work = self.work is not None and self.root.layers[0].top is self.work
        if on_work and self.root.layer.kind == "screen" and self.work is not None:
            return self.work.shortcut(event)
        return False


_SIZES: Final = {
    pygame.K_PLUS: 0.1,
    pygame.K_EQUALS: 0.1,
    pygame.K_KP_PLUS: 0.1,
    pygame.K_MINUS: -0.1,
    pygame.K_KP_MINUS: -0.1,
}
