"""What every widget is: a box with a role, a label, a value, and whether it is enabled; and its place in the tree."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Any

import pygame

from trainer.window.kit.style import Style

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen
    from trainer.window.kit.root import Root

Size = tuple[int, int]
Value = str | int | float | bool | None


class Widget:
    """Base of all widgets. Measures given to it are logical px; `rect` is in screen px after a layout pass."""

    role = "group"
    takes_focus = False
    takes_repeats = False
    """Whether a key that is held repeats here (typing, moving a mark)."""
    takes_middle = False
    """Whether the middle button does something here; nobody else hears of it."""

    def __init__(
        self,
        label: str = "",
        *,
        width: float | None = None,
        height: float | None = None,
        grow: float = 0.0,
        help: str = "",
        acts: Iterable[str] = (),
    ) -> None:
        self.label = label
        self.fixed_width = width
        self.fixed_height = height
        self.grow = grow
        self.help = help
        """Shown on hover and on keyboard focus."""
        self.keys_help = ""
        """Shown while it has the keyboard's focus, where there is no other help: what the keys do on a drawing."""
        self.acts = tuple(acts)
        """Kinds of the action catalogue that this widget can do."""
        self.rect = pygame.Rect(0, 0, 0, 0)
        self.parent: Widget | None = None
        self.children: list[Widget] = []
        self.root: Root | None = None
        """Set on the top of each layer; `top` finds it."""
        self.needs_layout = True
        self._visible = True
        self._enabled = True
        self._wished: tuple[int, int, Size] = (-1, -1, (0, 0))

    # what it says of itself

    @property
    def value(self) -> Value:
        """What it holds; None for a widget that holds nothing."""
        return None

    @property
    def enabled(self) -> bool:
        """Whether it can be used now."""
        return self._enabled

    @enabled.setter
    def enabled(self, enabled: bool) -> None:
        if enabled != self._enabled:
            self._enabled = enabled
            top = self.top()
            if not enabled and top.root is not None:
                top.root.forget(self)

    @property
    def visible(self) -> bool:
        """Whether it is shown; a hidden widget takes no room."""
        return self._visible

    @visible.setter
    def visible(self, visible: bool) -> None:
        if visible != self._visible:
            self._visible = visible
            self.stale()
            top = self.top()
            if not visible and top.root is not None:
                top.root.forget(self)

    def tree(self) -> dict[str, Any]:
        """This widget and all below it as plain data: for tests, captions and assistive output."""
        told: dict[str, Any] = {
            "role": self.role,
            "label": self.label,
            "value": self.value,
            "enabled": self.enabled,
            "rect": tuple(self.rect),
        }
        if self.acts:
            told["acts"] = self.acts
        below = [child.tree() for child in self.children if child.visible]
        if below:
            told["children"] = below
        return told

    def options(self, names: Sequence[str], chosen: str, cells: Sequence[pygame.Rect]) -> list[dict[str, Any]]:
        """Options drawn inside this widget as children of its dump."""
        return [
            {"role": "option", "label": name, "value": name == chosen, "enabled": self.enabled, "rect": tuple(cell)}
            for name, cell in zip(names, cells, strict=False)
        ]

    # its place among others

    def top(self) -> Widget:
        """The widget at the top of this tree."""
        widget = self
        while widget.parent is not None:
            widget = widget.parent
        return widget

    def stale(self) -> None:
        """Ask for a layout pass: a size or the list of children changed."""
        self.top().needs_layout = True

    def fill_with(self, children: Iterable[Widget]) -> None:
        """Replace all children."""
        top = self.top()
        if top.root is not None:
            for old in self.children:
                top.root.forget(old)
        for old in self.children:
            if old.parent is self:  # it may have moved into another box already
                old.parent = None
        self.children = list(children)
        for child in self.children:
            child.parent = self
        self.stale()

    def shown(self) -> list[Widget]:
        """Children that are visible."""
        return [child for child in self.children if child.visible]

    def walk(self) -> Iterator[Widget]:
        """This widget and all visible ones below it, in reading order."""
        yield self
        for child in self.shown():
            yield from child.walk()

    def holds(self, other: Widget | None) -> bool:
        """Whether `other` is this widget or below it."""
        while other is not None:
            if other is self:
                return True
            other = other.parent
        return False

    def usable(self) -> bool:
        """Whether it and everything above it is visible and enabled."""
        widget: Widget | None = self
        while widget is not None:
            if not widget.visible or not widget.enabled:
                return False
            widget = widget.parent
        return True

    # layout: one pass, top down, in screen px

    def measure(self, style: Style, width: int) -> Size:
        """The size it would like at a given width [px]; kept for one layout pass."""
        passed, at, size = self._wished
        if passed != style.passes or at != width:
            if self.fixed_width is None:
                size = self.wish(style, width)
            else:
                fixed = style.px(self.fixed_width)
                size = (fixed, self.wish(style, fixed)[1])
            if self.fixed_height is not None:
                size = (size[0], style.px(self.fixed_height))
            self._wished = (style.passes, width, size)
        return size

    def wish(self, style: Style, width: int) -> Size:
        """The size it would like when `width` [px] is there; called by `measure` once per pass."""
        return 0, 0

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """Take a place and give places to children; called by the parent once per pass."""
        self.rect = pygame.Rect(rect)

    def help_rect(self) -> pygame.Rect:
        """What the help is about: a drawing points at a part of itself."""
        return self.rect

    # time, drawing and hitting

    def pass_time(self, wall_s: float) -> None:
        """Wall time passes [s]; called once a frame on the top of each layer, which hands it on to who needs it.
        Drawing changes nothing: what goes on by itself goes on here."""

    def draw(self, pen: Pen) -> None:
        """Draw itself and its children; called once a frame."""
        clip = pen.surface.get_clip()
        for child in self.children:
            if child.visible and child.rect.colliderect(clip):
                child.draw(pen)

    def at(self, point: tuple[int, int]) -> Widget | None:
        """The deepest visible widget under a point."""
        if not self.visible or not self.rect.collidepoint(point):
            return None
        for child in reversed(self.children):
            found = child.at(point)
            if found is not None:
                return found
        return self

    def reveal(self, rect: pygame.Rect) -> None:
        """Bring a rectangle below this widget into sight; scroll areas do, others ask their parent."""
        if self.parent is not None:
            self.parent.reveal(rect)

    # events; each answers whether it was used

    def press(self, point: tuple[int, int], button: int) -> bool:
        """The mouse went down on it: 1 left, 3 right, 2 the middle one where `takes_middle`."""
        return False

    def drag(self, point: tuple[int, int]) -> None:
        """The mouse moved while it was down here."""

    def drop(self, point: tuple[int, int]) -> None:
        """The mouse button that went down here went up."""

    def hover(self, point: tuple[int, int]) -> None:
        """The mouse moved over it."""

    def leave(self) -> None:
        """The mouse moved away."""

    def wheel(self, turns: float, point: tuple[int, int]) -> bool:
        """The wheel turned over it."""
        return False

    def key(self, event: pygame.event.Event) -> bool:
        """A key went down while it, or something below it, had focus."""
        return False

    def key_up(self, event: pygame.event.Event) -> None:
        """A key went up while it had focus."""

    def type(self, text: str) -> bool:
        """Text was typed while it had focus."""
        return False

    def focused(self) -> None:
        """It got the focus."""

    def blurred(self) -> None:
        """It lost the focus, or the window did; whatever is held must be let go."""
