"""Controls and transmitters."""

from __future__ import annotations

from sim.world.catalogue.entry import CONTROL, kind
from sim.world.kinds import Argument, Kind

ENTRIES: tuple[Kind, ...] = (
    kind("press", "controls", "Press a control and hold it.", 0, CONTROL, effect="start"),
    kind("release", "controls", "Let a control go.", 0, CONTROL, effect="start"),
    kind(
        "enrol transmitter",
        "access",
        "Put the controller in enrolling, for a holder and a function.",
        15,
        Argument("holder", str, "who carries it"),
        Argument(
            "function",
            str,
            "what its button does",
            choices=("open", "close", "step", "halt", "pedestrian"),
        ),
    ),
    kind(
        "delete transmitter",
        "access",
        "Delete one holder's transmitter.",
        15,
        Argument("holder", str, "whose"),
    ),
    kind(
        "delete all transmitters",
        "access",
        "Delete every transmitter the controller knows.",
        15,
        caution="Everybody is locked out afterwards. Never without a list of who carries which.",
    ),
    kind(
        "reset loop detector",
        "access",
        "Have the presence loop's detector tuned anew, with nothing standing over the loop.",
        20,
        caution="When presence ends the gate may close by itself. Stand clear.",
    ),
    kind(
        "press transmitter",
        "access",
        "Press a transmitter's button and hold it.",
        0,
        Argument("transmitter", str, "which transmitter, by its tag"),
        Argument("button", int, "which button", least=1, most=4, default=1),
        Argument("distance_m", float, "how far from the receiver [m]", least=0.5, most=300, default=5.0),
        effect="start",
    ),
    kind(
        "release transmitter",
        "access",
        "Let the transmitter's button go.",
        0,
        Argument("transmitter", str, "which transmitter, by its tag"),
        effect="start",
    ),
)
