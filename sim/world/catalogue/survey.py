"""Survey and record: what is written down, and barriers round the arc."""

from __future__ import annotations

from sim.world.catalogue.entry import kind
from sim.world.kinds import Argument, Kind
from sim.world.notebook import WRITTEN

TEXT = Argument("text", str, "what you saw, suspect, ruled out")
CAUSE = Argument("cause", str, "which fault, by its name in the catalogue of faults, or 'no fault'")
NUMBER = Argument("number", int, "which note, counted from the first", least=1, most=9999)

HINT = "ask for a hint"
"""The act that has somebody who knows say something; the words come from outside and stand in the journal."""

ENTRIES: tuple[Kind, ...] = (
    kind(
        "state user group",
        "survey",
        "Write down who uses the gate.",
        20,
        Argument("group", str, "who uses it", choices=("instructed", "instructed with public", "anyone")),
    ),
    kind(
        "survey hazard",
        "survey",
        "Write down a hazard and what protects people from it.",
        40,
        Argument("hazard", str, "where people can be hurt"),
        Argument("protection", str, "what protects there: a guard, a gap, a fixed guard, or 'nothing'"),
    ),
    kind(
        "note",
        "record",
        "Write in the notebook.",
        15,
        TEXT,
        Argument("entry", str, "what it is", choices=WRITTEN, default="seen"),
    ),
    kind(
        "change note",
        "record",
        "Put a note right, with other words or as another kind; one that was struck out counts again.",
        15,
        NUMBER,
        TEXT,
        Argument("entry", str, "what it is", choices=WRITTEN),
    ),
    kind("strike note", "record", "Strike a note out; it stays readable.", 5, NUMBER),
    kind(
        "conclude",
        "record",
        "Say what the cause is, beside other causes already named; or that nothing is wrong.",
        20,
        CAUSE,
        Argument("sure", int, "how sure you are, in percent", least=1, most=100, default=80),
    ),
    kind("take back conclusion", "record", "Hold it no longer to be the cause.", 5, CAUSE),
    kind(
        HINT,
        "record",
        "Ask somebody who knows for a hint. Each is stronger than the one before, and each costs points.",
        10,
        Argument("words", str, "what is answered; whoever answers fills it in", default=""),
    ),
    kind(
        "predict",
        "record",
        "Say what you expect before you look.",
        5,
        Argument("question", str, "which question"),
        Argument("answer", str, "what you expect"),
    ),
    kind("cordon", "survey", "Put up barriers and signs round the arc.", 120),
    kind("remove cordon", "survey", "Take the barriers away.", 60),
)
