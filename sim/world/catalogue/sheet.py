"""The sheet: the controller's service panel."""

from __future__ import annotations

from sim.world.catalogue.entry import LEAF, kind
from sim.world.kinds import Argument, Kind

ENTRIES: tuple[Kind, ...] = (
    kind(
        "set",
        "sheet",
        "Write one setting of the sheet.",
        10,
        Argument("setting", str, "the setting's name, as the sheet has it"),
        Argument("value", str, "the value, in the unit the sheet shows"),
        caution="",
    ),
    kind(
        "jog press",
        "sheet",
        "Press a jog button and hold it: the leaf moves while it is held.",
        0,
        LEAF,
        Argument("direction", str, "which way", choices=("open", "close")),
        effect="start",
        caution="Nobody in the arc, one hand at the stop button.",
    ),
    kind("jog release", "sheet", "Let the jog button go.", 0, LEAF, effect="start"),
    kind(
        "learn travel",
        "sheet",
        "Start travel learning.",
        5,
        caution="The gate will move by itself, both ways, more than once. Nobody in the arc.",
    ),
    kind("acknowledge", "sheet", "Acknowledge the message on the panel.", 2),
    kind("set clock", "sheet", "Set the board's clock by your watch.", 20),
    kind("reset sheet", "sheet", "Set everything back to defaults: every guard declared as fitted.", 15),
    kind(
        "seal sheet",
        "sheet",
        "Seal the sheet at handover.",
        20,
        Argument("name", str, "who seals it"),
        Argument("reason", str, "why", default="handover"),
    ),
    kind(
        "unseal sheet",
        "sheet",
        "Open a sealed sheet, with a reason.",
        20,
        Argument("name", str, "who opens it"),
        Argument("reason", str, "why"),
    ),
)
