"""The pane that a close-up stands in: chosen from a list, drawn to scale, its figures below; Esc closes it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pygame

from trainer.language import _
from trainer.window.closeup.drive import draw_drive
from trainer.window.closeup.elevation import draw_elevation
from trainer.window.closeup.figures import Row, as_line, figures
from trainer.window.closeup.hinge import draw_hinge
from trainer.window.closeup.meeting import draw_meeting
from trainer.window.closeup.subject import MEETING, Subject, subjects, words_of
from trainer.window.kit.boxes import Column
from trainer.window.kit.boxes import Row as Line
from trainer.window.kit.button import Button
from trainer.window.kit.canvas import Canvas
from trainer.window.kit.choice import Dropdown
from trainer.window.kit.label import Paragraph
from trainer.window.kit.scroll import Scroll
from trainer.window.kit.style import INK, SHEET, SMALL

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands
    from trainer.window.kit.pen import Pen
    from trainer.window.kit.style import Style


class Detail(Canvas):
    """The drawing of one close-up."""

    def __init__(self, hands: Hands) -> None:
        super().__init__(_("close-up"))
        self.hands = hands
        self.subject: Subject = MEETING

    def key_of(self) -> object:
        """Drawn anew when a leaf has turned by a tenth of a degree, or anything else on it changed."""
        view = self.hands.view
        return (self.subject, self._leaves(), view.gauge, view.mode, view.strip_carrier, view.strip_face)

    def _leaves(self) -> tuple[object, ...]:
        return tuple(
            (leaf.name, round(leaf.angle_deg, 1), leaf.engaged, leaf.gap.held, round(leaf.gap.force_n), leaf.drive)
            for leaf in self.hands.view.leaves
        )

    def paint(self, pen: Pen) -> None:
        """What is to be seen of it, to scale."""
        view, px = self._seen(), pen.style.px
        picture = pygame.Rect((0, 0), self.rect.size).inflate(-px(16), -px(12))
        leaf = self.subject.of(view)
        if self.subject.kind == "hinge":
            draw_hinge(pen, picture, view, leaf)
        elif self.subject.kind == "drive":
            draw_drive(pen, picture, leaf)
        elif self.subject.kind == "leaf":
            draw_elevation(pen, picture, view, leaf)
        else:
            draw_meeting(pen, picture, view)

    def figures(self) -> tuple[Row, ...]:
        """Its figures at the present angle."""
        return figures(self._seen(), self.subject)

    def _seen(self) -> View:
        """The view with angles to a tenth, as the picture is kept."""
        view = self.hands.view
        leaves = tuple(replace(leaf, angle_deg=round(leaf.angle_deg, 1)) for leaf in view.leaves)
        return replace(view, leaves=leaves)

    def tree(self) -> dict[str, Any]:
        """Its figures are told as children."""
        tree = super().tree()
        tree["children"] = [
            {"role": "figure", "label": what, "value": value, "enabled": True, "rect": tuple(self.rect)}
            for what, value in self.figures()
        ]
        return tree


class CloseUp(Column):
    """Choice of the close-up, a button that closes it, the drawing, and its figures under it."""

    def __init__(self, hands: Hands, on_close: Callable[[], None]) -> None:
        self.hands = hands
        self.on_close = on_close
        self.detail = Detail(hands)
        self.choice = Dropdown(_("close-up of"), [], "", self._choose, grow=1.0)
        bar = Line(self.choice, Button("×", on_close, width=34, help=_("Close the close-up (Esc)")), gap=4)
        self.told = Paragraph(size=SMALL)
        under = Scroll(Column(self.told, pad=(8, 4)), label=_("figures"), grow=0.0)
        super().__init__(
            bar, self.detail, under, gap=0, pad=4, fill=SHEET, edge=INK, line=1.6, role="region", label=_("close-up")
        )
        self.visible = False

    def look(self, subject: Subject) -> None:
        """Show a close-up."""
        view = self.hands.view
        self.detail.subject = subject
        self._tell()
        self.choice.choices = list(subjects(view))
        self.choice.chosen = words_of(view, subject)
        self.visible = True
        self.stale()

    def draw(self, pen: Pen) -> None:
        """The figures follow the leaf as the drawing does."""
        self._tell()
        super().draw(pen)

    def _tell(self) -> None:
        self.told.show("\n".join(as_line(row) for row in self.detail.figures()))

    def _choose(self, words: str) -> None:
        self.look(subjects(self.hands.view)[words])

    def settle(self, style: Style, area: pygame.Rect, outwards: bool, small: bool) -> None:
        """Take a place on the plan [px]: on the side away from its leaf, or all of it where the plan is small."""
        px = style.px
        if small:
            self.place(style, area)
            return
        head, foot = (px(90), px(72)) if outwards else (px(72), px(90))
        high = min(area.height - head - foot, px(380))
        wide = min(px(300 if area.width < px(900) else 380), area.width // 2)
        rect = pygame.Rect(0, area.top + head, wide, high)
        if self.detail.subject.kind != "meeting edge" and self.detail.subject.leaf == "active":
            rect.right = area.right - px(10)
        else:
            rect.left = area.left + px(56)
        self.place(style, rect)

    def key(self, event: pygame.event.Event) -> bool:
        """Esc closes it."""
        if event.key == pygame.K_ESCAPE:
            self.on_close()
            return True
        return False
