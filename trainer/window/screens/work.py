"""The work screen: top bar, plan with its controls, folder, time strip."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import pygame

from trainer.window.controls import Controls
from trainer.window.folder.folder import Folder
from trainer.window.hands import Hands
from trainer.window.kit.boxes import Column, Stretched
from trainer.window.kit.choice import RadioRow
from trainer.window.kit.label import Note
from trainer.window.kit.scroll import Scroll
from trainer.window.kit.style import STOP, STOP_WASH, Style
from trainer.window.kit.widget import Widget
from trainer.window.plan.plan import Plan
from trainer.window.screens.palette import open_keys, open_palette
from trainer.window.strip.panel import TimePanel
from trainer.window.topbar import TopBar
from trainer.window.words import _, moment

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.doors import WorkSession
    from trainer.window.kit.root import Root

NARROW = 1060.0
"""Below this many logical px the plan and the folder take turns."""

LOW = 640.0
"""Below this height [logical px] the time strip shares the turns."""

ALARM_STAYS_US = 20_000_000


class WorkScreen(Column):
    """Draws a session and hands on what is done to it."""

    def __init__(self, session: WorkSession, root: Root, more: dict[str, Callable[[], None]]) -> None:
        self.hands = Hands(session, root)
        self.session = session
        acts = {_("All actions…"): lambda: open_palette(self.hands), _("Keys…"): lambda: open_keys(root), **more}
        self.turns = RadioRow(_("shown"), [_("Yard"), _("Folder")], _("Yard"), self._turn)
        self.bar = TopBar(self.hands, acts, lambda: self.open_page("Cabinet"), self.turns)
        self.plan = Plan(self.hands)
        self.controls = Controls(self.hands, self.plan)
        self.alarm = Note("", STOP, STOP_WASH, sign="⚠")
        self.folder = Folder(self.hands)
        self.time = TimePanel(self.hands)
        self.yard = Column(gap=8, grow=1.0, role="region", label=_("yard"))
        self.middle = Stretched(gap=12, grow=1.0)
        self._form: tuple[bool, bool] | None = None
        super().__init__(gap=0, role="screen", label=_("work"))
        self._arrange(False, False)
        self.show(self.hands.view)

    def _arrange(self, narrow: bool, low: bool) -> None:
        if (narrow, low) == self._form:
            return
        self._form = (narrow, low)
        self.bar.arrange(narrow, narrow or low)
        self.turns.choices = [_("Yard"), *([_("Folder")] if narrow else []), *([_("Time")] if low else [])]
        if self.turns.chosen not in self.turns.choices:
            self.turns.chosen = _("Yard")
        if narrow:
            # Controls in a column beside the plan: the plan needs the height.
            side = Scroll(self.controls, label=self.controls.label, grow=0.0)
            side.fixed_width = 246.0
            yard: Widget = Stretched(self.plan, side, gap=10, grow=1.0)
            self.yard.fill_with([self.alarm, yard])
        else:
            self.yard.fill_with([self.alarm, self.plan, self.controls])
        self.middle.fill_with([self.yard, self.folder, *([self.time] if low else [])])
        body = Column(self.middle, *([] if low else [self.time]), gap=8, pad=(14, 10), grow=1.0)
        self.fill_with([self.bar, body])
        self._turn(self.turns.chosen)

    def _turn(self, shown: str) -> None:
        narrow, low = self._form or (False, False)
        self.yard.visible = not (narrow or low) or shown == _("Yard")
        self.folder.visible = shown == _("Folder") if narrow else not low or shown == _("Yard")
        self.time.visible = not low or shown == _("Time")

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """Wide windows show all at once, small ones in turns; the folder takes a third."""
        wide, high = rect.width / style.scale, rect.height / style.scale
        self._arrange(wide < NARROW, high < LOW)
        alone = wide < NARROW
        self.folder.fixed_width = None if alone else max(500.0, min(wide * 0.36, 680.0))
        self.folder.grow = 1.0 if alone else 0.0
        self.yard.grow = 1.0
        self.time.fixed_height = None if high < LOW else max(164.0, min(high * 0.19, 240.0))
        self.time.grow = 1.0 if high < LOW else 0.0
        super().place(style, rect)

    def show(self, view: View) -> None:
        """Take the newest look; called once a frame."""
        self.hands.view = view
        self.bar.show(view)
        self.controls.show(view)
        self.folder.show(view)
        self.time.show(view)
        fresh = [(at, text) for at, text in view.alarms if 0 <= view.now - at < ALARM_STAYS_US]
        self.alarm.visible = bool(fresh)
        if fresh:
            self.alarm.show(f"{moment(fresh[-1][0])}   {fresh[-1][1]}")

    def open_page(self, name: str) -> None:
        """Open a page of the folder, wherever it is now."""
        if _("Folder") in self.turns.choices:
            self.turns.choose(_("Folder"))
        self.folder.open(name)

    def _stop(self) -> None:
        """The stop button in, or out again: while a control is held it must be in reach of the other hand."""
        stop = next(guard for guard in self.hands.view.guards if guard.kind == "stop")
        self.hands.do("release" if stop.tripped else "press", {"control": "stop button"})

    def shortcut(self, event: pygame.event.Event) -> bool:
        """Keys of the whole screen."""
        if event.key == pygame.K_F9 or event.key == pygame.K_p:
            self.bar.toggle_pause()
        elif event.key in (pygame.K_1, pygame.K_2, pygame.K_3, pygame.K_4) and not event.mod & pygame.KMOD_CTRL:
            self.bar.set_pace(event.key - pygame.K_1)
        elif event.mod & pygame.KMOD_CTRL and pygame.K_1 <= event.key <= pygame.K_8:
            self.open_page(list(self.folder.makers)[event.key - pygame.K_1])
        elif event.key == pygame.K_k and event.mod & pygame.KMOD_CTRL:
            open_palette(self.hands)
        elif event.key == pygame.K_F1 or event.unicode == "?":
            open_keys(self.hands.root)
        elif event.key == pygame.K_s and not event.mod & pygame.KMOD_CTRL:
            self._stop()
        elif event.key == pygame.K_ESCAPE:
            self.session.release_all()
        else:
            return False
        return True
