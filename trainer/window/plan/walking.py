"""A way that is being drawn for a body on the plan: corner by corner, then it is sent along it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from trainer.window.kit.style import WIRE
from trainer.window.plan.bodies import draw_way, place_words
from trainer.window.plan.leaves import slip_text

if TYPE_CHECKING:
    from trainer.window.hands import Hands
    from trainer.window.kit.pen import Pen
    from trainer.window.plan.viewport import Viewport

PACE_M_S: Final = {"child": 1.0, "pram": 1.1, "dog": 1.8, "bicycle": 3.0, "car": 2.0, "van": 1.5}
"""How fast each is sent [m/s]; all others walk at 1.2. CP, no source."""

WALK_M_S: Final = 1.2


class Walking:
    """Nothing while `body` is empty."""

    def __init__(self, hands: Hands) -> None:
        self.hands = hands
        self.body = ""
        self.way: list[tuple[float, float]] = []

    def begin(self, body: str) -> None:
        """A way for this body, from where it stands."""
        self.body, self.way = body, []

    def give_up(self) -> None:
        """It stays where it is."""
        self.body, self.way = "", []

    def corner(self, at_m: tuple[float, float], last: bool) -> None:
        """A corner of the way; after the last one the body sets out."""
        self.way.append((round(at_m[0], 2), round(at_m[1], 2)))
        if last:
            path = " ".join(f"{x:g},{y:g}" for x, y in self.way)
            body = self.body
            self.give_up()
            self.hands.do("walk body", {"body": body, "path": path, "speed_m_s": PACE_M_S.get(body, WALK_M_S)})

    def draw(self, pen: Pen, port: Viewport, at_m: tuple[float, float]) -> None:
        """The way so far, to where the mark is."""
        stands = next((b for b in self.hands.view.bodies if b.name == self.body), None)
        if stands is None:
            return
        draw_way(pen, port, [(stands.x_m, stands.y_m), *self.way, at_m])
        x, y = port.to_screen(*at_m)
        slip_text(pen, place_words(at_m), (x, y + pen.style.px(14)), WIRE, "centre", must=True)
