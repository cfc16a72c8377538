"""The work screen: top bar, plan with its controls, folder, time strip."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import pygame

from trainer.language import _
from trainer.window.controls import Controls
from trainer.window.folder.folder import Folder
from trainer.window.glossary.dialog import explain
from trainer.window.glossary.place import terms_under
from trainer.window.hands import Hands
from trainer.window.kit.boxes import Column, Stretched
from trainer.window.kit.choice import RadioRow
from trainer.window.kit.label import Note
from trainer.window.kit.over import Over
from trainer.window.kit.scroll import Scroll
from trainer.window.kit.style import STOP, STOP_WASH, Style
from trainer.window.kit.widget import Widget
from trainer.window.plan.plan import Plan
from trainer.window.screens.palette import open_palette
from trainer.window.sound.captions import CaptionStrip
from trainer.window.strip.panel import TimePanel
from trainer.window.topbar import TopBar
from trainer.window.wiring.pane import WiringPane
from trainer.window.words import moment

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.doors import WorkSession
    from trainer.window.kit.root import Root
    from trainer.window.tour.stops import TourStop

NARROW = 1060.0
"""Below this many logical px the plan and the folder take turns."""

LOW = 640.0
"""Below this height [logical px] the time strip shares the turns."""

ALARM_STAYS_US = 20_000_000


class WorkScreen(Column):
    """Draws a session and hands on what is done to it."""

    def __init__(
        self, session: WorkSession, root: Root, more: dict[str, Callable[[], None]], on_debrief: Callable[[], None]
    ) -> None:
        """`more` are entries of its menu, `on_debrief` leads to the debrief of a job that has ended."""
        self.hands = Hands(session, root)
        self.session = session
        acts = {_("All actions…"): lambda: open_palette(self.hands), **more}
        self.turns = RadioRow(
            _("shown"), [_("Yard"), _("Folder")], _("Yard"), self._turn, help=_("Which part of the screen is shown")
        )
        self.wired = False
        """The wiring drawing stands in the place of the plan."""
        self.large = False
        """It lies over the whole of the middle."""
        self.bar: TopBar = TopBar(self.hands, acts, lambda: self.open_page("Cabinet"), self.turns)
        self.plan: Plan = Plan(self.hands)
        self.controls: Controls = Controls(self.hands, self.plan)
        self.alarm = Note("", STOP, STOP_WASH, sign="⚠")
        self.folder: Folder = Folder(self.hands, self._page_opened)
        self.wiring = WiringPane(
            self.hands,
            self.folder.bench,
            on_tool=lambda: self.open_page("Instruments"),
            on_yard=lambda: self.show_wiring(False),
            on_enlarge=lambda: self._enlarge(not self.large),
        )
        self.hero = Column(self.plan, self.wiring, gap=0, grow=1.0)
        self.captions = CaptionStrip()
        self.time: TimePanel = TimePanel(self.hands, on_debrief)
        self.yard = Column(gap=8, grow=1.0, role="region", label=_("yard"))
        self.middle = Stretched(gap=12, grow=1.0)
        self._form: tuple[bool, bool] | None = None
        self.over = Over()
        super().__init__(self.over, gap=0, role="screen", label=_("work"))
        self._arrange(False, False)
        self.show(self.hands.view)

    def _arrange(self, narrow: bool, low: bool) -> None:
        if (narrow, low) == self._form:
            return
        self._form = (narrow, low)
        self.bar.arrange(narrow, narrow or low)
        turns = [_("Yard"), _("Wiring"), *([_("Folder")] if narrow else []), *([_("Time")] if low else [])]
        self.turns.choices = turns
        if self.turns.chosen not in self.turns.choices:
            self.turns.chosen = _("Yard")
        self.side: Widget = self.controls
        if narrow:
            # Controls in a column beside the plan: the plan needs the height.
            self.side = Scroll(self.controls, label=self.controls.label, grow=0.0)
            self.side.fixed_width = 246.0
            yard: Widget = Stretched(self.hero, self.side, gap=10, grow=1.0)
            self.yard.fill_with([self.alarm, yard])
        else:
            self.yard.fill_with([self.alarm, self.hero, self.controls])
        self.middle.fill_with([self.yard, self.folder, *([self.time] if low else [])])
        self.time.take(None if low else self.captions)
        self.captions.grow = 0.0 if low else 1.0  # in the strip's row it grows along, at the foot it would grow up
        foot = self.captions if low else self.time
        body = Column(self.middle, foot, gap=2 if low else 8, pad=(14, 3 if low else 10), grow=1.0)
        self.over.lay(Column(self.bar, body, gap=0), self.over.floating)
        self._turn(self.turns.chosen)

    def _turn(self, shown: str) -> None:
        """Show one part where they take turns; where they don't, the plan or the wiring drawing."""
        narrow, low = self._form or (False, False)
        if shown in (_("Yard"), _("Wiring")):
            self.wired = shown == _("Wiring")
            self.large = self.large and self.wired
        left = shown in (_("Yard"), _("Wiring"))
        whole = self.large and self.wired and left
        self.plan.visible, self.wiring.visible = not self.wired, self.wired
        self.yard.visible = not (narrow or low) or left
        self.folder.visible = not whole and (shown == _("Folder") if narrow else not low or left)
        self.time.visible = not whole and (not low or shown == _("Time"))
        self.side.visible = not whole
        self.wiring.enlarged(whole)

    def show_wiring(self, on: bool) -> None:
        """The wiring drawing in the place of the plan, or the plan again."""
        self.turns.chosen = _("Wiring") if on else _("Yard")
        self._turn(self.turns.chosen)

    def _enlarge(self, on: bool) -> None:
        self.large = on
        self._turn(self.turns.chosen)

    def _page_opened(self, name: str) -> None:
        """Who opens the cabinet sees its drawing beside the page; the yard comes back with the other pages."""
        if _("Folder") in self.turns.choices and self.turns.chosen == _("Folder"):
            return
        if name == "Cabinet" or (self.wired and name not in ("Instruments", "Repair")):
            self.show_wiring(name == "Cabinet")

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
        if self.wiring.visible:
            self.wiring.show(view)
        fresh = [(at, text) for at, text in view.alarms if 0 <= view.now - at < ALARM_STAYS_US]
        self.alarm.visible = bool(fresh)
        if fresh:
            self.alarm.show(f"{moment(fresh[-1][0])}   {_(fresh[-1][1])}")

    def open_page(self, name: str) -> None:
        """Open a page of the folder, wherever it is now."""
        if self.large:
            self._enlarge(False)
        if _("Folder") in self.turns.choices:
            self.turns.choose(_("Folder"))
        self.folder.open(name)

    def stand_as(self, other: WorkScreen) -> None:
        """Stand as another screen of the same session stood: its page, what is in hand, how the plan was moved, what
        stood in the plan's place, and how much time was in sight."""
        self.folder.bench.take_all(other.folder.bench)
        self.folder.open(other.folder.opened)
        self.plan.port.zoom, self.plan.port.shift_m = other.plan.port.zoom, other.plan.port.shift_m
        self.time.spans.choose(other.time.spans.chosen)
        self.show_wiring(other.wired)
        self._enlarge(other.large)

    # -- the tour

    def begin_tour(self) -> None:
        """Begin the tour anew; the focus goes to it, and back to the screen when it ends."""
        # Imported here: most sessions begin without it.
        from trainer.window.tour.callout import Callout

        self.end_tour()
        if self.large:
            self._enlarge(False)
        tour = Callout(
            self._show_stop,
            lambda stop: self.folder.tabs.cell(_(stop.tab)) if stop.tab else stop.at(self).rect,
            lambda: [self.controls.held["stop button"].rect] if self.controls.held["stop button"].usable() else [],
            self.end_tour,
        )
        self.over.lay(self.over.base, tour)
        self.hands.root.set_focus(tour.next, shows=True)

    def _show_stop(self, stop: TourStop) -> None:
        """Bring what the tour points at into sight."""
        self.turn_to(_(stop.shown))
        self.hands.root.lay_out()
        widget = stop.at(self)
        widget.reveal(widget.rect)

    def end_tour(self) -> None:
        """Take the callout away."""
        if self.over.floating is not None:
            self.over.lay(self.over.base, None)
            self.turn_to(_("Yard"))

    def turn_to(self, shown: str) -> None:
        """Show a part of the screen where parts take turns; elsewhere the yard is shown with all others."""
        self.turns.chosen = shown if shown in self.turns.choices else _("Yard")
        self._turn(self.turns.chosen)

    def _stop(self) -> None:
        """The stop button in, or out again: while a control is held it must be in reach of the other hand."""
        stop = next(guard for guard in self.hands.view.guards if guard.kind == "stop")
        self.hands.do("release" if stop.tripped else "press", {"control": "stop button"})

    def press(self, point: tuple[int, int], button: int) -> bool:
        """The right button on a text that nothing else is done with opens the words of the trade in it."""
        return button == 3 and explain(self.hands.root, terms_under(self.at(point)))

    def shortcut(self, event: pygame.event.Event) -> bool:
        """Keys of the whole screen."""
        if event.key == pygame.K_F9 or event.key == pygame.K_p:
            self.bar.toggle_pause()
        elif event.key in (pygame.K_1, pygame.K_2, pygame.K_3, pygame.K_4) and not event.mod & pygame.KMOD_CTRL:
            self.bar.set_pace(event.key - pygame.K_1)
        elif event.mod & pygame.KMOD_CTRL and pygame.K_1 <= event.key <= pygame.K_9:
            self.open_page(list(self.folder.makers)[event.key - pygame.K_1])
        elif event.key == pygame.K_F7:
            self.show_wiring(not self.wired)
        elif event.key == pygame.K_k and event.mod & pygame.KMOD_CTRL:
            open_palette(self.hands)
        elif event.key == pygame.K_z and event.mod & pygame.KMOD_CTRL:
            return self.folder.visible and self.folder.page.undo()
        elif event.key == pygame.K_s and not event.mod & pygame.KMOD_CTRL:
            self._stop()
        elif event.key in (pygame.K_j, pygame.K_l):
            self.time.strip.step(-1.0 if event.key == pygame.K_j else 1.0, event.mod)
        elif event.key == pygame.K_k:
            self.time.toggle_play()
        elif event.key == pygame.K_ESCAPE:
            if self.hands.view.strip.shown_s is not None:
                self.session.look_at(None)
            self.session.release_all()
        else:
            return False
        return True
