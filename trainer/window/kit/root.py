"""The root: layers of widgets, the one focus, the one mouse grab; turns the window's events into widget calls."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final, Literal

import pygame

from trainer.window.kit.dialog import Dialog
from trainer.window.kit.glyphs import Glyphs
from trainer.window.kit.pen import Cut, Pen, Sprites
from trainer.window.kit.style import PAPER, Look, Style
from trainer.window.kit.telling import Told, told_at, told_of
from trainer.window.kit.toast import Bubble, Toasts
from trainer.window.kit.widget import Widget

HOVER_WAIT_S: Final = 0.6
"""How long the mouse rests, or the focus stays, before help is shown [s]. CP."""

TWIN_MS: Final = 30
"""Some touch screens send a press twice; a repeat at one place within this time is dropped [ms] (practice 3.2)."""


@dataclass
class Layer:
    """One layer: the screen, a dialog over it, or a list that was opened."""

    top: Widget
    kind: Literal["screen", "dialog", "popup"]
    owner: Widget | None = None
    anchor: pygame.Rect | None = None
    back_to: Widget | None = None


class Root:
    """All widgets of a window. `handle` takes events, `advance` time, `draw` draws, `tree` tells."""

    def __init__(self, glyphs: Glyphs, size: tuple[int, int], scale: float = 1.0) -> None:
        self.style = Style(glyphs, scale)
        self.screen = pygame.Rect((0, 0), size)
        self.sprites = Sprites()
        self.layers: list[Layer] = []
        self.focus: Widget | None = None
        self.focus_shows = False
        self.calm = False
        self.now = 0.0
        self.toasts = Toasts()
        self.bubble = Bubble()
        self.on_let_go: Callable[[], None] = lambda: None
        """Called when the window loses the focus or the pointer: whatever is held must be released."""
        self.shortcut: Callable[[pygame.event.Event], bool] = lambda _: False
        """Asked for keys that no widget used, while the screen itself is on top."""
        self._cuts: list[Cut] = []
        """What the top layer had no room for when it was drawn last."""
        self._grab: Widget | None = None
        self._hover: Widget | None = None
        self._pointer = (-1, -1)
        self._still_since = 0.0
        self._down: set[int] = set()
        self._mute_text = False
        self._last_press: tuple[tuple[int, int], bool, int] = ((-1, -1), False, -1000)

    # layers

    @property
    def layer(self) -> Layer:
        """The layer on top."""
        return self.layers[-1]

    @property
    def pointed(self) -> Widget | None:
        """What the pointer is on."""
        return self._hover

    def show(self, screen: Widget) -> None:
        """Replace everything by one screen."""
        self.let_go()
        for layer in self.layers:
            layer.top.root = None
        self.layers = []
        self._push(Layer(screen, "screen"))

    def open_dialog(self, dialog: Dialog, first: Widget | None = None) -> None:
        """Open a dialog; focus starts at `first`, else at its last answer, the harmless one."""
        self.let_go()
        self._close_popups()
        self._push(Layer(dialog, "dialog", back_to=self.focus))
        self.set_focus(first or dialog.answers[-1], shows=self.focus_shows)

    def open_popup(self, popup: Widget, owner: Widget, anchor: pygame.Rect | None = None) -> None:
        """Open a list at its owner, or at `anchor`, a part of it."""
        self._close_popups()
        self._push(Layer(popup, "popup", owner=owner, anchor=anchor, back_to=owner))
        self.set_focus(popup, shows=False)

    def _push(self, layer: Layer) -> None:
        layer.top.root = self
        layer.top.needs_layout = True
        self.layers.append(layer)
        if layer.kind != "popup":
            self.set_focus(None)
        self._hover = None

    def close_layer(self, top: Widget | None = None) -> None:
        """Close the top layer, or the one of `top` and all above it; the screen itself stays."""
        while len(self.layers) > 1:
            layer = self.layers.pop()
            layer.top.root = None
            back = layer.back_to
            alive = back is not None and back.usable() and self.layer.top.holds(back)
            self.set_focus(back if alive else None, shows=self.focus_shows)
            if top is None or layer.top is top:
                return

    def _close_popups(self) -> None:
        while self.layers and self.layer.kind == "popup":
            self.close_layer()

    # layout and drawing

    def resize(self, size: tuple[int, int], scale: float | None = None) -> None:
        """A new window size or scale."""
        self.screen = pygame.Rect((0, 0), size)
        if scale is not None and scale != self.style.scale:
            self.style = Style(self.style.glyphs, scale, self.style.look)
        for layer in self.layers:
            layer.top.needs_layout = True

    def dress(self, look: Look) -> None:
        """Draw in another look from now on."""
        if look.name != self.style.look.name:
            self.style = Style(self.style.glyphs, self.style.scale, look)
            self.sprites = Sprites()
            self.resize(self.screen.size)

    def lay_out(self) -> None:
        """Give every widget of stale layers its place."""
        for layer in self.layers:
            rounds = 0
            while layer.top.needs_layout and rounds < 3:
                rounds += 1
                layer.top.needs_layout = False
                self.style.passes += 1
                if isinstance(layer.top, Dialog):
                    layer.top.fit(self.style, self.screen)
                elif layer.kind == "popup":
                    self._place_popup(layer)
                else:
                    layer.top.place(self.style, self.screen)

    def _place_popup(self, layer: Layer) -> None:
        anchor = (layer.anchor or (layer.owner.rect if layer.owner is not None else self.screen)).clamp(self.screen)
        width, height = layer.top.measure(self.style, self.screen.width - 16)
        width = max(width, anchor.width)
        below, above = self.screen.bottom - anchor.bottom - 8, anchor.top - 8
        down = height <= below or below >= above
        height = min(height, below if down else above)
        rect = pygame.Rect(anchor.left, anchor.bottom + 2 if down else anchor.top - height - 2, width, height)
        rect.right = min(rect.right, self.screen.right - 8)
        rect.left = max(rect.left, 8)
        layer.top.place(self.style, rect)

    def draw(self, surface: pygame.Surface) -> None:
        """Draw all layers, then what floats above them."""
        self.lay_out()
        pen = Pen(surface, self.style, self.sprites)
        pen.now, pen.calm, pen.ring = self.now, self.calm, self.focus_shows
        pen.hover, pen.focus = self._hover, self.focus
        surface.fill(self.style.seen(PAPER))
        for layer in self.layers:
            pen.cuts = []
            layer.top.draw(pen)
        self._cuts = pen.cuts
        self.toasts.draw(pen, self.screen)
        self.bubble.draw(pen, self.screen)

    def advance(self, wall_s: float) -> None:
        """Let wall time pass: toasts fade, help comes up."""
        self.now += wall_s
        self.toasts.advance(wall_s)
        for layer in self.layers:
            layer.top.pass_time(wall_s)
        rests = self.now - self._still_since >= HOVER_WAIT_S
        told = self._told() if rests and self._grab is None else None
        if told is None:
            self.bubble.hide()
        else:
            self.bubble.show(*told)

    def _told(self) -> Told | None:
        """Of what the pointer is on, else of what has the focus while that is seen."""
        told = told_at(self._hover, self._pointer, self._cuts, keys=self._hover is self.focus)
        if told is None and self.focus is not None and self.focus_shows:
            told = told_of(self.focus, self._cuts)
        return told

    def tree(self) -> dict[str, Any]:
        """Everything on the screen as plain data."""
        self.lay_out()
        told = [layer.top.tree() for layer in self.layers]
        return {
            "role": "window",
            "label": "",
            "value": None,
            "enabled": True,
            "rect": tuple(self.screen),
            "focus": (self.focus.role, self.focus.label) if self.focus is not None else None,
            "children": [*told, *self.toasts.tree(), *self.bubble.tree()],
        }

    def toast(self, text: str, bad: bool = False) -> None:
        """Say something for a few seconds."""
        self.toasts.say(text, bad)

    # focus

    def stops(self) -> list[Widget]:
        """Where Tab stops in the top layer, in reading order."""
        return [w for w in self.layer.top.walk() if w.takes_focus and w.usable()]

    def set_focus(self, widget: Widget | None, shows: bool = False, reveals: bool = True) -> None:
        """Move the focus; the one that loses it lets go of what it holds, the one that gets it is brought into sight.

        What is pressed with the mouse is in sight: `reveals` is False then, or it would move away under the press.
        """
        self.focus_shows = shows
        if widget is self.focus:
            return
        before, self.focus = self.focus, widget
        self._still_since = self.now
        if before is not None:
            before.blurred()
        if widget is not None:
            widget.focused()
            if widget.parent is not None and reveals:
                self.lay_out()
                widget.parent.reveal(widget.rect)

    def forget(self, gone: Widget) -> None:
        """A widget was hidden, disabled or removed: it can't keep focus, mouse or help."""
        if gone.holds(self.focus):
            held, self.focus = self.focus, None
            if held is not None:
                held.blurred()
        if gone.holds(self._grab):
            held, self._grab = self._grab, None
            if held is not None:
                held.blurred()
        if gone.holds(self._hover):
            self._hover = None

    def step_focus(self, way: int) -> None:
        """Tab and Shift-Tab: they go round inside the top layer."""
        self.lay_out()
        stops = self.stops()
        if not stops:
            return
        if self.focus in stops:
            at = (stops.index(self.focus) + way) % len(stops)
        else:
            at = 0 if way > 0 else -1
        self.set_focus(stops[at], shows=True)

    def step_region(self, way: int) -> None:
        """To the first stop of the next part of the screen (widgets with the role `region`)."""
        stops = self.stops()
        regions = [w for w in self.layer.top.walk() if w.role == "region" and any(w.holds(s) for s in stops)]
        if not regions:
            return
        # The innermost one that holds the focus: a region may lie inside another.
        inside = [n for n, region in enumerate(regions) if region.holds(self.focus)]
        now = max(inside) if inside else (-1 if way > 0 else 0)
        region = regions[(now + way) % len(regions)]
        self.set_focus(next(s for s in stops if region.holds(s)), shows=True)

    def let_go(self) -> None:
        """The window lost pointer or focus: nothing stays held."""
        held, self._grab = self._grab, None
        if held is not None:
            held.blurred()
        if self.focus is not None:
            self.focus.blurred()
        self._down.clear()
        self.on_let_go()

    # events

    def handle(self, event: pygame.event.Event) -> None:
        """One event of the window."""
        if event.type == pygame.MOUSEMOTION:
            self._moved(event.pos)
        elif event.type == pygame.MOUSEBUTTONDOWN and event.button in (1, 2, 3):
            self._pressed(event)
        elif event.type == pygame.MOUSEBUTTONUP and event.button in (1, 2, 3):
            self._dropped(event.pos)
        elif event.type == pygame.MOUSEWHEEL:
            self._wheeled(event)
        elif event.type == pygame.KEYDOWN:
            self._key(event)
        elif event.type == pygame.KEYUP:
            self._down.discard(event.key)
            if self.focus is not None:
                self.focus.key_up(event)
        elif event.type == pygame.TEXTINPUT:
            if self.focus is not None and not self._mute_text:
                self.focus.type(event.text)
        elif event.type in (pygame.WINDOWFOCUSLOST, pygame.WINDOWMINIMIZED, pygame.WINDOWLEAVE):
            self.let_go()
            self._over(None)

    def _over(self, widget: Widget | None) -> None:
        if widget is not self._hover:
            if self._hover is not None:
                self._hover.leave()
            self._hover = widget
        self._still_since = self.now

    def _moved(self, point: tuple[int, int]) -> None:
        self.lay_out()
        self._pointer = point
        if self._grab is not None:
            self._grab.drag(point)
            return
        under = self.layer.top.at(point)
        self._over(under)
        if under is not None:
            under.hover(point)

    def _pressed(self, event: pygame.event.Event) -> None:
        self.lay_out()
        point, touch, now = event.pos, bool(getattr(event, "touch", False)), pygame.time.get_ticks()
        last_point, last_touch, last_ms = self._last_press
        self._last_press = (point, touch, now)
        if point == last_point and touch != last_touch and now - last_ms < TWIN_MS:
            return
        self.bubble.hide()
        if self.layer.kind == "popup" and not self.layer.top.rect.collidepoint(point):
            self.close_layer()
            return
        widget = self.layer.top.at(point)
        while widget is not None:
            if widget.usable() and (event.button != 2 or widget.takes_middle):
                if widget.takes_focus:
                    self.set_focus(widget, shows=False, reveals=False)
                if widget.press(point, event.button):
                    # What was pressed may have opened a dialog, which let go of everything.
                    self._grab = widget if self.layer.top.holds(widget) or self.layer.owner is widget else None
                    return
            widget = widget.parent
        if event.button != 2:
            self.set_focus(None)

    def _dropped(self, point: tuple[int, int]) -> None:
        held, self._grab = self._grab, None
        if held is not None:
            held.drop(point)
        elif self.layer.kind == "popup" and self.layer.top.rect.collidepoint(point):
            self.layer.top.drop(point)

    def _wheeled(self, event: pygame.event.Event) -> None:
        widget = self.layer.top.at(self._pointer)
        turns = getattr(event, "precise_y", float(event.y))
        while widget is not None and not widget.wheel(turns, self._pointer):
            widget = widget.parent

    def _key(self, event: pygame.event.Event) -> None:
        self.lay_out()
        repeats = event.key in self._down
        self._down.add(event.key)
        self.bubble.hide()
        before = self.focus
        if repeats and not (event.key == pygame.K_TAB or (before is not None and before.takes_repeats)):
            return
        self._route_key(event)
        # The letter of a key that moved the focus belongs to nobody.
        self._mute_text = self.focus is not before

    def _route_key(self, event: pygame.event.Event) -> None:
        if event.key == pygame.K_TAB and not event.mod & pygame.KMOD_CTRL:
            if self.layer.kind == "popup":
                self.close_layer()
            self.step_focus(-1 if event.mod & pygame.KMOD_SHIFT else 1)
            return
        widget = self.focus
        while widget is not None:
            if widget.key(event):
                return
            widget = widget.parent
        if event.key == pygame.K_ESCAPE and self.layer.kind != "screen":
            top = self.layer.top
            self.close_layer()
            if isinstance(top, Dialog):
                top.escape()
            return
        if event.key == pygame.K_F6:
            self.step_region(-1 if event.mod & pygame.KMOD_SHIFT else 1)
            return
        self.shortcut(event)
