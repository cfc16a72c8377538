"""The drawing with its few buttons, as it stands in the place of the yard or over the whole of the middle."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from trainer.language import _
from trainer.window.folder.bench import Bench
from trainer.window.kit.boxes import Column, Flow
from trainer.window.kit.button import Button
from trainer.window.wiring.drawing import WiringDrawing

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands


class WiringPane(Column):
    """A row of buttons, and the drawing."""

    def __init__(
        self,
        hands: Hands,
        bench: Bench,
        *,
        on_tool: Callable[[], None],
        on_yard: Callable[[], None],
        on_enlarge: Callable[[], None],
    ) -> None:
        self.drawing = WiringDrawing(hands, bench, on_tool)
        self.larger = Button(_("Enlarge"), on_enlarge, help=_("Over the whole window, or back"))
        bar = Flow(
            Button("−", lambda: self._zoom(0.8), help=_("Smaller"), width=34),
            Button("+", lambda: self._zoom(1.25), help=_("Larger"), width=34),
            Button(_("Whole sheet"), self.drawing.eye.fit_all, help=_("All of the drawing at once")),
            self.larger,
            Button(_("Yard"), on_yard, help=_("Back to the plan of the yard (F7)")),
            gap=6,
        )
        super().__init__(bar, self.drawing, gap=6, grow=1.0, role="region", label=_("wiring"))
        self.drawing.grow = 1.0

    def _zoom(self, times: float) -> None:
        eye = self.drawing.eye
        eye.zoom_at(eye.area.center, times)

    def enlarged(self, on: bool) -> None:
        """The button says the other way."""
        self.larger.relabel(_("Back to the side") if on else _("Enlarge"))

    def show(self, view: View) -> None:
        """Take the newest look."""
        self.drawing.show()
