"""The end of a job, and time that passes."""

from __future__ import annotations

from sim.world.catalogue.entry import kind
from sim.world.kinds import Argument, Kind

ENTRIES: tuple[Kind, ...] = (
    kind(
        "hand over",
        "record",
        "Show the user release, stop and monthly checks, give the papers, both sign.",
        600,
        Argument(
            "shown",
            str,
            "what was shown: any of release, stop, lamp, freeing a person, monthly checks",
            default="",
        ),
    ),
    kind(
        "make safe",
        "record",
        "Isolate, lock off, notice and letter: made safe, not repaired.",
        300,
        Argument("reason", str, "why it can't be handed over"),
    ),
    kind(
        "wait",
        "time",
        "Let time pass.",
        0,
        Argument("seconds", float, "how long [s]", least=0, most=7200),
        effect="start",
    ),
    kind(
        "wait until",
        "time",
        "Let time pass until something changes.",
        0,
        Argument(
            "what",
            str,
            "what to wait for",
            choices=(
                "the gate rests",
                "the gate moves",
                "fully open",
                "fully closed",
                "the message changes",
                "learning ends",
            ),
        ),
        Argument("at_most_s", float, "give up after [s]", least=1, most=3600, default=600.0),
        effect="start",
    ),
)
