"""The control box: what warms it, and how it gets rid of that."""

from __future__ import annotations

from sim.site.fields import ENGINEERING, PRACTICE, SURVEY, Frozen, quantity


class Enclosure(Frozen):
    """The box with the board in it."""

    sunlit_w: float = quantity(60.0, "W", 0.0, 500.0, "what a clear sun warms it with; 0 in the shade", SURVEY)
    vent_w_k: float = quantity(
        2.5, "W/K", 0.1, 50.0, "conductance, board to air; vented 2 to 4, sealed 0.8 to 1.2", ENGINEERING
    )
    heat_j_k: float = quantity(3000.0, "J/K", 100.0, 1e5, "heat capacity of board and box", ENGINEERING)
    loss_w: float = quantity(8.0, "W", 0.0, 200.0, "what board and supply lose while nothing runs", PRACTICE)
    running_w: float = quantity(10.0, "W", 0.0, 500.0, "what they lose more for each leaf that is driven", PRACTICE)
    opens_c: float = quantity(
        80.0, "°C", 40.0, 150.0, "board temperature at which the power stages protect themselves", PRACTICE
    )
    closes_c: float = quantity(65.0, "°C", 30.0, 140.0, "at which they work again", PRACTICE)
