"""Bodies on the plan, cards before beams, fingers on edges."""

from __future__ import annotations

from typing import Final

from sim.world.catalogue.entry import GUARD, LEAF, kind
from sim.world.kinds import Argument, Kind

BODY: Final = Argument(
    "body", str, "which", choices=("test body", "adult", "child", "pram", "dog", "bicycle", "car", "van")
)
X: Final = Argument("x_m", float, "along the opening from the active hinge [m]", least=-10, most=20)
Y: Final = Argument("y_m", float, "towards the inside [m], negative is outside", least=-20, most=20)

ENTRIES: tuple[Kind, ...] = (
    kind(
        "place body",
        "bodies",
        "Put a body somewhere on the plan.",
        5,
        BODY,
        X,
        Y,
        Argument("lying", bool, "lying flat instead of standing", default=False),
        Argument("turn_deg", float, "turned on the spot [°]; 0 looks inside", least=-360, most=360, default=0.0),
        effect="start",
    ),
    kind("move body", "bodies", "Drag a body somewhere else on the plan.", 0, BODY, X, Y, effect="start"),
    kind(
        "walk body",
        "bodies",
        "Send a body along a path at a steady pace; one that isn't there comes from its first point.",
        0,
        BODY,
        Argument("path", str, "points x,y in metres, apart by spaces, such as '1.0,-3.0 1.0,3.0'"),
        Argument("speed_m_s", float, "how fast [m/s]; people walk 1 to 1.6", least=0.05, most=8, default=1.2),
        effect="start",
    ),
    kind("stop body", "bodies", "Have a body that walks or drives stop where it is.", 0, BODY, effect="start"),
    kind(
        "remove body",
        "bodies",
        "Take a body away.",
        5,
        BODY,
        effect="start",
    ),
    kind(
        "cover beam",
        "bodies",
        "Hold a card in front of a beam's receiver, from outside the arc.",
        3,
        GUARD,
        effect="start",
    ),
    kind("uncover beam", "bodies", "Take the card away.", 3, GUARD, effect="start"),
    kind(
        "press edge",
        "bodies",
        "Press a closing edge by hand, beside the leaf.",
        3,
        GUARD,
        Argument("height_mm", float, "where, above ground [mm]", least=0, most=4500, default=900.0),
        effect="start",
    ),
    kind("release edge", "bodies", "Let the edge go.", 3, GUARD, effect="start"),
    kind(
        "hold in hinge gap",
        "bodies",
        "Hold something in the gap between a leaf's heel and its post, and see how hard it is squeezed.",
        10,
        LEAF,
        Argument("what", str, "what is held there", choices=("stick of 40 mm", "hand dummy of 50 mm")),
        effect="start",
        caution="A stick or a dummy, on a long handle, and never a hand: at its hinge a leaf squeezes many "
        "times as hard as at its edge.",
    ),
    kind(
        "take out of hinge gap",
        "bodies",
        "Take out what is held in the gap at a leaf's hinge.",
        5,
        LEAF,
        effect="start",
    ),
)
