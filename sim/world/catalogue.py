"""Every kind of action there is. Panels, command line and drills are made from these entries."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal

from sim.units import DIRECTIONS, SECOND, Us
from sim.world.kinds import Argument, Group, Kind

_LEAF = Argument("leaf", str, "which leaf", choices=("active", "inactive"))
_GUARD = Argument(
    "guard",
    str,
    "which guard",
    choices=("outer beam", "inner beam", "active edge", "inactive edge", "stop circuit"),
)
_CONTROL = Argument(
    "control",
    str,
    "which control",
    choices=("open button", "close button", "step button", "key switch", "stop button"),
)
_PROBE_HELP = "a terminal, as the cabinet drawing names it"


def _kind(
    name: str,
    group: Group,
    help: str,
    seconds: float,
    *arguments: Argument,
    effect: Literal["start", "end"] = "end",
    caution: str = "",
) -> tuple[str, Kind]:
    return name, Kind(name, group, help, Us(round(seconds * SECOND)), effect, arguments, caution)


CATALOGUE: Final[Mapping[str, Kind]] = MappingProxyType(
    dict(
        [
            # survey and record
            _kind(
                "state user group",
                "survey",
                "Write down who uses the gate.",
                20,
                Argument("group", str, "who uses it", choices=("instructed", "instructed with public", "anyone")),
            ),
            _kind(
                "survey hazard",
                "survey",
                "Write down a hazard and what protects people from it.",
                40,
                Argument("hazard", str, "where people can be hurt"),
                Argument("protection", str, "what protects there: a guard, a gap, a fixed guard, or 'nothing'"),
            ),
            _kind(
                "note",
                "record",
                "Write in the notebook.",
                15,
                Argument("text", str, "what you saw, suspect, ruled out"),
            ),
            _kind(
                "predict",
                "record",
                "Say what you expect before you look.",
                5,
                Argument("question", str, "which question"),
                Argument("answer", str, "what you expect"),
            ),
            _kind("cordon", "survey", "Put up barriers and signs round the arc.", 120),
            _kind("remove cordon", "survey", "Take the barriers away.", 60),
            # isolation
            _kind("isolate", "isolation", "Open the mains isolator, lock it and hang a tag.", 30),
            _kind(
                "restore",
                "isolation",
                "Take the lock off and close the mains isolator.",
                20,
                caution="Nobody in the arc, nobody with hands in the cabinet: a gate that has power may move.",
            ),
            _kind(
                "remove battery link",
                "isolation",
                "Pull the battery link: the battery is a second source.",
                20,
            ),
            _kind("fit battery link", "isolation", "Fit the battery link.", 20),
            # mechanics
            _kind(
                "release drive",
                "mechanics",
                "Unlock the manual release: the leaf swings free.",
                20,
                _LEAF,
                caution="A released leaf swings by itself on a slope or in wind. Hold it.",
            ),
            _kind("engage drive", "mechanics", "Lock the manual release.", 20, _LEAF),
            _kind(
                "push leaf",
                "mechanics",
                "Push a leaf by hand at its tip to an angle, with the spring scale.",
                15,
                _LEAF,
                Argument("to_deg", float, "angle to push it to [°], 0 shut", least=-5, most=130),
                effect="start",
            ),
            # sheet: the controller's service panel
            _kind(
                "set",
                "sheet",
                "Write one setting of the sheet.",
                10,
                Argument("setting", str, "the setting's name, as the sheet has it"),
                Argument("value", str, "the value, in the unit the sheet shows"),
                caution="",
            ),
            _kind(
                "jog press",
                "sheet",
                "Press a jog button and hold it: the leaf moves while it is held.",
                0,
                _LEAF,
                Argument("direction", str, "which way", choices=("open", "close")),
                effect="start",
                caution="Nobody in the arc, one hand at the stop button.",
            ),
            _kind("jog release", "sheet", "Let the jog button go.", 0, _LEAF, effect="start"),
            _kind(
                "learn travel",
                "sheet",
                "Start travel learning.",
                5,
                caution="The gate will move by itself, both ways, more than once. Nobody in the arc.",
            ),
            _kind("acknowledge", "sheet", "Acknowledge the message on the panel.", 2),
            _kind("reset sheet", "sheet", "Set everything back to defaults: every guard declared as fitted.", 15),
            _kind(
                "seal sheet",
                "sheet",
                "Seal the sheet at handover.",
                20,
                Argument("name", str, "who seals it"),
            ),
            _kind(
                "unseal sheet",
                "sheet",
                "Open a sealed sheet, with a reason.",
                20,
                Argument("name", str, "who opens it"),
                Argument("reason", str, "why"),
            ),
            # controls
            _kind("press", "controls", "Press a control and hold it.", 0, _CONTROL, effect="start"),
            _kind("release", "controls", "Let a control go.", 0, _CONTROL, effect="start"),
            # access
            _kind(
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
            _kind(
                "delete transmitter",
                "access",
                "Delete one holder's transmitter.",
                15,
                Argument("holder", str, "whose"),
            ),
            _kind(
                "press transmitter",
                "access",
                "Press a transmitter's button and hold it.",
                0,
                Argument("transmitter", str, "which transmitter, by its tag"),
                Argument("button", int, "which button", least=1, most=4, default=1),
                effect="start",
            ),
            _kind(
                "release transmitter",
                "access",
                "Let the transmitter's button go.",
                0,
                Argument("transmitter", str, "which transmitter, by its tag"),
                effect="start",
            ),
            # wiring
            _kind(
                "swap motor leads",
                "wiring",
                "Exchange the two motor cores of one leaf at the board.",
                120,
                _LEAF,
                caution="Isolate both sources and prove dead first.",
            ),
            _kind("unplug", "wiring", "Pull a guard's plug off the board.", 10, _GUARD),
            _kind("plug in", "wiring", "Push a guard's plug back.", 10, _GUARD),
            _kind(
                "bridge",
                "wiring",
                "Fit a wire link across a guard's input.",
                30,
                _GUARD,
                caution="A bridged guard protects nobody. Someone will be hurt by a gate you left like this.",
            ),
            _kind("remove bridge", "wiring", "Take the wire link off a guard's input.", 20, _GUARD),
            # bodies
            _kind(
                "place body",
                "bodies",
                "Put a body somewhere on the plan.",
                5,
                Argument("body", str, "which", choices=("test body", "adult", "child", "car")),
                Argument("x_m", float, "along the opening from the active hinge [m]", least=-10, most=20),
                Argument("y_m", float, "towards the inside [m], negative is outside", least=-20, most=20),
                Argument("lying", bool, "lying flat instead of standing", default=False),
                effect="start",
            ),
            _kind(
                "remove body",
                "bodies",
                "Take a body away.",
                5,
                Argument("body", str, "which", choices=("test body", "adult", "child", "car")),
                effect="start",
            ),
            _kind(
                "cover beam",
                "bodies",
                "Hold a card in front of a beam's receiver, from outside the arc.",
                3,
                _GUARD,
                effect="start",
            ),
            _kind("uncover beam", "bodies", "Take the card away.", 3, _GUARD, effect="start"),
            _kind(
                "press edge",
                "bodies",
                "Press a closing edge by hand, beside the leaf.",
                3,
                _GUARD,
                effect="start",
            ),
            _kind("release edge", "bodies", "Let the edge go.", 3, _GUARD, effect="start"),
            _kind(
                "hold in hinge gap",
                "bodies",
                "Hold something in the gap between a leaf's heel and its post, and see how hard it is squeezed.",
                10,
                _LEAF,
                Argument("what", str, "what is held there", choices=("stick of 40 mm", "hand dummy of 50 mm")),
                effect="start",
                caution="A stick or a dummy, on a long handle, and never a hand: at its hinge a leaf squeezes many "
                "times as hard as at its edge.",
            ),
            _kind(
                "take out of hinge gap",
                "bodies",
                "Take out what is held in the gap at a leaf's hinge.",
                5,
                _LEAF,
                effect="start",
            ),
            # instruments
            _kind("prove tester", "instruments", "Try the two-pole tester on a known source.", 10),
            _kind(
                "test dead",
                "instruments",
                "Two-pole tester between two terminals.",
                10,
                Argument("red", str, _PROBE_HELP),
                Argument("black", str, _PROBE_HELP),
            ),
            _kind(
                "place probes",
                "instruments",
                "Put the multimeter's probes on two terminals.",
                15,
                Argument(
                    "function",
                    str,
                    "what it measures",
                    choices=("volts dc", "volts ac", "ohms", "continuity"),
                ),
                Argument("red", str, _PROBE_HELP),
                Argument("black", str, _PROBE_HELP),
            ),
            _kind("read meter", "instruments", "Wait until the meter has settled and read it.", 3),
            _kind("lift probes", "instruments", "Take the probes off.", 3),
            _kind(
                "place force gauge",
                "instruments",
                "Set the force gauge before a leaf's edge, on the side it closes or opens to.",
                90,
                _LEAF,
                Argument("direction", str, "movement to be measured", choices=DIRECTIONS, default="closing"),
                Argument(
                    "gap_mm",
                    float,
                    "opening left at contact: to the other edge, or to its own open place [mm]",
                    least=30,
                    most=700,
                ),
                Argument("height_mm", float, "height above ground [mm]", least=50, most=2500),
                Argument("rest", str, "what carries it", choices=("rigid rest", "by hand")),
            ),
            _kind("read force gauge", "instruments", "Store the last force-time curve as a reading.", 10),
            _kind("remove force gauge", "instruments", "Take the gauge away.", 30),
            # record
            _kind(
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
            _kind(
                "make safe",
                "record",
                "Isolate, lock off, notice and letter: made safe, not repaired.",
                300,
                Argument("reason", str, "why it can't be handed over"),
            ),
            # time
            _kind(
                "wait",
                "time",
                "Let time pass.",
                0,
                Argument("seconds", float, "how long [s]", least=0, most=7200),
                effect="start",
            ),
            _kind(
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
        ]
    )
)
"""Every kind of action there is."""
