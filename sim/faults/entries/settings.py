"""Faults of the sheet: what somebody set wrong, or what was learned on a gate that changed since."""

from __future__ import annotations

from typing import Final

from sim.faults.edit import Fact, Setting
from sim.faults.entries.moves import CLOSED, FORCE_UP, MARGIN_UP, OPENED, measured, placed, pressed, reading
from sim.faults.entries.steps import DEAD, RESTORED
from sim.faults.entry import Band, Fault, Reference, WrongRepair, step

SOURCE: Final = "common practice, no source"

WITHOUT_EDGES: Final = {"guards.active_edge": "not fitted", "guards.inactive_edge": "not fitted", "hazards": []}
"""A gate that knows of a contact only by the effort of its motors."""

TOO_STRONG: Final = Fault(
    name="motor effort too high",
    family="settings",
    customer="Nobody complains, until somebody is hurt.",
    seen="In use nothing is to be seen.",
    fact="the effort with which the motors may close",
    edits=(Setting("motor effort, closing", 100.0),),
    reference=Reference(
        (
            *OPENED,
            placed("force gauge", "closing force, gap 300 mm", "inactive"),
            *pressed("close button"),
            step("wait", seconds=45.0),
            reading("force gauge"),
        ),
        Band(200.0, 400.0, unit="N"),
        Band(least=403.0, unit="N"),
        note="368 N with 60 %, 422 N with 100 %: the leaf comes slowly, and what it brings along makes most "
        "of the peak. The 900 N of the trade take a leaf that comes fast as well (see: slow zone too short, 1020 N)",
    ),
    repair=(step("set", setting="motor effort, closing", value="60"),),
    wrong=(
        WrongRepair(
            (step("set", setting="obstacle margin", value="10"),),
            "it notices a person sooner, and the first blow is as hard as before",
        ),
    ),
    verification="all points measured three times, each mean within 400 N",
    trap="take it out of service if it can't be mended now: whoever leaves it so is liable",
    source=SOURCE,
    variant=WITHOUT_EDGES,
    shows=(
        *OPENED,
        placed("force gauge", "closing force, gap 300 mm", "inactive"),
        *pressed("close button"),
        step("wait", seconds=45.0),
    ),
)

TOO_WEAK: Final = Fault(
    name="motor effort too low",
    family="settings",
    customer="It reverses for no reason.",
    seen="The controller speaks of an obstacle where there is none.",
    fact="the effort with which the motors may open",
    edits=(Setting("motor effort, opening", 25.0, 20.0),),
    reference=Reference(
        (
            placed("clamp meter", "amps dc", "active leaf motor, plus core"),
            *pressed("open button"),
            step("wait", seconds=6.0),
            reading("clamp meter"),
        ),
        Band(least=3.4, unit="A"),
        Band(most=2.4, unit="A"),
        figure="most",
        note="starting takes 3.8 A for a moment and running 2.1 A; with 20 % of 8 A the motor gets 1.6 A",
    ),
    repair=(step("set", setting="motor effort, opening", value="60"),),
    wrong=(
        WrongRepair(
            (step("set", setting="motor effort, opening", value="100"),),
            "it pushes with all it has at whoever stands before it, and notices them later",
        ),
    ),
    verification="no false stop in twenty cycles, and the closing force within 400 N",
    trap="the user will ask to have the safety switched off",
    source=SOURCE,
)

WRONG_ORDER: Final = Fault(
    name="wrong leaf order",
    family="settings",
    customer="The strip jams.",
    seen="The covered leaf tries to open first.",
    fact="which leaf the sheet lets open first",
    edits=(Setting("opens first", "inactive"),),
    reference=Reference(
        (measured("service panel", "leaf order", at=""),),
        Band(words=("opens first: active",)),
        Band(words=("opens first: inactive",)),
        note="a stopwatch on both leaves would have them press on each other: the panel tells without a movement",
    ),
    repair=(step("set", setting="opens first", value="active"), step("learn travel"), step("wait", seconds=240.0)),
    wrong=(WrongRepair((FORCE_UP,), "the covered leaf bends the strip"),),
    verification="five cycles in which the strip seats",
    trap="fingers at the strip",
    source=SOURCE,
)

NO_DELAY: Final = Fault(
    name="leaf delay missing",
    family="settings",
    customer="Both leaves come at once.",
    seen="On closing, both leaves start together, and one must wait half way for the other.",
    fact="how long the leaf that closes last waits",
    edits=(Setting("leaf delay, closing", 0.0),),
    reference=Reference(
        (*OPENED, placed("stopwatch", "start after the other leaf"), *CLOSED, reading("stopwatch")),
        Band(2.4, 8.0, unit="s"),
        Band(most=0.6, unit="s"),
        note="this controller holds one leaf before the lap until the other is home: without a delay they "
        "don't clash, they close side by side",
    ),
    repair=(step("set", setting="leaf delay, closing", value="3"),),
    wrong=(
        WrongRepair(
            (step("set", setting="run speed", value="60"),), "both are slower, and come together all the same"
        ),
    ),
    verification="five cycles in which the strip seats",
    trap="both edges close on whoever stands between them",
    source=SOURCE,
)

MOVED_STOP: Final = Fault(
    name="travel learned with a stop loose",
    family="settings",
    customer="It bangs at the end.",
    seen="The leaf is still fast when it meets its stop.",
    fact="the open stop of the active leaf stands elsewhere than when the travel was learned",
    edits=(Fact("leaves.active.open_stop_deg", 74.0, 70.0),),
    reference=Reference(
        (placed("tape", "slow way before the stop"), *OPENED, reading("tape")),
        Band(least=250.0, unit="mm"),
        Band(most=60.0, unit="mm"),
        note="a slow zone of 20 % is 610 mm on 90° of a 2 m leaf; a stop 20° too soon is met at full speed, "
        "and the controller takes it for an obstacle",
    ),
    repair=(*DEAD, step("adjust", what="open stop of the active leaf"), *RESTORED, step("wait", seconds=5.0)),
    wrong=(WrongRepair((MARGIN_UP,), "the blow is no longer noticed, and hits every time"),),
    verification="tip at 0.1 m/s at most when it meets the stop, travel learned again",
    trap="a leaf that bounces hits whoever follows",
    source=SOURCE,
)

SHORT_ZONE: Final = Fault(
    name="slow zone too short",
    family="settings",
    customer="It slams shut.",
    seen="It is fast in the last half metre.",
    fact="share of the travel that is run slowly",
    edits=(Setting("slow zone before stop", 7.0, 5.0),),
    reference=Reference(
        (*OPENED, placed("stopwatch", "last half metre"), *CLOSED, reading("stopwatch")),
        Band(least=4.6, unit="s"),
        Band(most=3.7, unit="s"),
        note="half a metre at 0.1 m/s takes 5 s; at 0.25 m/s 2 s, to which the last 150 mm of slow zone add 1 s",
    ),
    repair=(step("set", setting="slow zone before stop", value="20"),),
    wrong=(
        WrongRepair(
            (step("set", setting="motor effort, closing", value="30"),), "weaker, it is as fast, and as heavy"
        ),
    ),
    verification="closing force at 300 mm within 400 N",
    trap="it fails at 300 mm and not at 500: measure there",
    source=SOURCE,
)

SHORT_PAUSE: Final = Fault(
    name="pause too short",
    family="settings",
    customer="It closes on a slow walker.",
    seen="The gate that closes by itself waits five seconds.",
    fact="how long the open gate waits",
    edits=(Setting("auto-close after", 10.0, 5.0),),
    reference=Reference(
        (
            step("set", setting="auto-close", value="on"),
            placed("stopwatch", "standing open", at=""),
            *OPENED,
            step("wait", seconds=60.0),
            reading("stopwatch"),
        ),
        Band(20.0, 45.0, unit="s"),
        Band(most=15.0, unit="s"),
        note="the warning before it moves adds some 3 s to what the sheet says",
    ),
    repair=(step("set", setting="auto-close after", value="30"),),
    wrong=(
        WrongRepair(
            (step("set", setting="auto-close after a passage", value="3"),), "it now closes on the second of two"
        ),
    ),
    verification="a slow walk through, with the beam holding it open",
    trap="old people and children don't walk that fast",
    source=SOURCE,
    shows=(step("set", setting="auto-close", value="on"), *OPENED, step("wait", seconds=20.0)),
)

SETTINGS: Final = (TOO_STRONG, TOO_WEAK, WRONG_ORDER, NO_DELAY, MOVED_STOP, SHORT_ZONE, SHORT_PAUSE)
