"""A body on the way to its place on the plan: it follows the mouse or the arrows until it is put down."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trainer.window.plan.bodies import GHOST_M, draw_ghost

if TYPE_CHECKING:
    from trainer.window.hands import Hands
    from trainer.window.kit.pen import Pen
    from trainer.window.plan.viewport import Viewport


class Carrying:
    """Nothing while `body` is None."""

    def __init__(self, hands: Hands) -> None:
        self.hands = hands
        self.body: str | None = None
        self.lying = False
        self.at_m = (0.0, 0.0)
        """Where the mark is, also for the way of a body that is sent."""

    def begin(self, body: str, lying: bool, at_m: tuple[float, float]) -> None:
        """Take a body in hand at a place on the plan [m]."""
        self.body, self.lying, self.at_m = body, lying, at_m

    def give_up(self) -> None:
        """It stays where it was."""
        self.body = None

    def put_down(self) -> None:
        """Place what is carried where the mark is."""
        if self.body is None:
            return
        x, y = round(self.at_m[0], 2), round(self.at_m[1], 2)
        body, self.body = self.body, None
        stands = next((b for b in self.hands.view.bodies if b.name == body), None)
        if stands is not None and stands.lying == self.lying:
            self.hands.do("move body", {"body": body, "x_m": x, "y_m": y})
        else:
            self.hands.do("place body", {"body": body, "x_m": x, "y_m": y, "lying": self.lying})

    def draw(self, pen: Pen, port: Viewport) -> None:
        """Its outline at the mark."""
        if self.body is not None:
            size = GHOST_M[self.body][1 if self.lying else 0]
            draw_ghost(pen, port, self.body, self.at_m, size)
