"""What the bubble tells about a widget: the whole of what had no room on it, and its help."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

import pygame

if TYPE_CHECKING:
    from trainer.window.kit.pen import Cut
    from trainer.window.kit.widget import Widget

Told = tuple[str, pygame.Rect]
"""What is told, and the place it is about [px]."""


def told_at(widget: Widget | None, point: tuple[int, int], cuts: Iterable[Cut], keys: bool) -> Told | None:
    """What is told where the pointer rests; `keys` when the keyboard is there too."""
    return _told(widget, [cut for cut in cuts if cut[0].collidepoint(point)], keys)


def told_of(widget: Widget, cuts: Iterable[Cut]) -> Told | None:
    """What is told of the widget that has the keyboard: of a table, of its marked row."""
    about = widget.help_rect()
    return _told(widget, [cut for cut in cuts if about.contains(cut[0])], keys=True)


def _told(widget: Widget | None, cuts: list[Cut], keys: bool) -> Told | None:
    help = _help_of(widget, keys)
    whole = [text for _at, text in cuts if text not in help]
    if not help and not whole:
        return None
    at = widget.help_rect() if widget is not None and help else cuts[0][0]
    return "\n".join([*whole, *([help] if help else [])]), at


def _help_of(widget: Widget | None, keys: bool) -> str:
    """Its help, else that of the nearest thing around it."""
    while widget is not None:
        if told := widget.help or (widget.keys_help if keys else ""):
            return told
        widget = widget.parent
    return ""
