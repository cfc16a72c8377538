"""What the canned session shows: an invented site with everything a screen can be asked to draw. For tests only."""

from __future__ import annotations

from typing import Final

from sim.controller.ports import GUARD_TERMINALS, InputLine
from sim.mechanics.mounting import Mounting
from sim.units import SECOND, Us
from trainer.session.lookback import MeasuredView, WayRow
from trainer.session.view import Curve, DebriefView, FindingView, GuardView, HazardRow, SettingView
from trainer.session.worth import MadeRow, RepairRow, WorthView

OPENING_M: Final = 4.4
LEAF_M: Final = 2.19
OPEN_DEG: Final = 95.0
RAM: Final = Mounting(post=(-0.15, 0.15), bracket=(0.85, 0.05))
"""The worked example of a ram."""

BRIEF: Final = (
    "The new gate hangs and the drives are on, but nobody has set anything. The carters start on Monday at six. "
    "Please get it running and show my foreman how to let himself out when the power is off."
)
POINTS: Final = (
    "You may open the cabinet and change the sheet.",
    "The power is off at the isolator when you arrive.",
    "The lane outside is public: keep people out of the arc.",
)

WALLS: Final = (
    ("yard wall", -2.9, -0.15, 2.5, 0.3),
    ("yard wall", 4.8, -0.15, 2.6, 0.3),
    ("coach house", -0.95, 0.75, 0.35, 1.9),
)


def settings() -> dict[str, SettingView]:
    """Rows of a sheet, a few of each kind."""
    guard_help = "What this guard does when it trips. Out of the box every guard is declared as fitted."
    acts = ("reopen", "hold", "back off", "halt", "not fitted")
    rows = [
        SettingView("leaves fitted", "leaves", "2", "", "How many leaves hang here.", ("1", "2", "not stated")),
        SettingView("drive kind", "leaves", "linear ram", "", "What moves the leaves.", ("linear ram", "not stated")),
        SettingView(
            "opens first",
            "leaves",
            "not stated",
            "",
            "The leaf that is free to move when the other is shut.",
            ("active", "inactive", "not stated"),
        ),
        _number("leaf delay, opening", "leaves", "2", "s", 0, 8, 0.5, "The second leaf waits this long to open."),
        _number("leaf delay, closing", "leaves", "3.5", "s", 0, 12, 0.5, "The first leaf waits this long to close."),
        *(
            SettingView(name, "guards", _reaction(name), "", guard_help, acts, default=_reaction(name))
            for name in GUARD_TERMINALS
        ),
        SettingView("guard test", "guards", "on", "", "Tests each beam before a start from rest.", ("on", "off")),
        _number("slow zone before stop", "motion", "18", "%", 5, 40, 1, "Part of the travel driven slowly."),
        _number("slow speed", "motion", "35", "%", 20, 60, 5, "Speed in the slow zones, of run speed."),
        _number("run speed", "motion", "80", "%", 40, 100, 5, "Speed between the slow zones."),
        _number("motor effort, opening", "motion", "45", "%", 10, 100, 5, "Limit of the motor's effort, of rated."),
        _number("motor effort, closing", "motion", "35", "%", 10, 100, 5, "Limit of the motor's effort, of rated."),
        SettingView("auto-close", "timing", "off", "", "The gate closes by itself.", ("on", "off")),
        _number("auto-close after", "timing", "30", "s", 5, 240, 5, "How long it stands open before that."),
        _number("warning before moving", "timing", "2", "s", 0, 10, 0.5, "The lamp is on this long before."),
    ]
    return {row.name: row for row in rows}


def _number(
    name: str, group: str, value: str, unit: str, least: float, most: float, step: float, told: str
) -> SettingView:
    return SettingView(name, group, value, unit, told, (), least, most, step, value)


def _reaction(guard: str) -> str:
    if guard.endswith("edge"):
        return "back off"
    return {"outer beam": "reopen", "inner beam": "hold", "stop circuit": "halt"}[guard]


def guards(tripped: frozenset[str], unplugged: frozenset[str], bridged: frozenset[str]) -> tuple[GuardView, ...]:
    """All guards; the inner beam is not fitted on this site."""
    places = {
        "outer beam": ((-0.12, -0.6), (OPENING_M + 0.12, -0.6)),
        "stop circuit": ((OPENING_M + 0.3, 0.3), (OPENING_M + 0.3, 0.3)),
    }
    return tuple(
        GuardView(
            name,
            "beam" if name.endswith("beam") else "edge" if name.endswith("edge") else "stop",
            name != "inner beam",
            name in tripped,
            name not in unplugged,
            name in bridged,
            places.get(name),
            0.5 if name.endswith("beam") else 0.0,
        )
        for name in GUARD_TERMINALS
    )


def input_lines(
    tripped: frozenset[str], unplugged: frozenset[str], declared: dict[str, str]
) -> tuple[InputLine, ...]:
    """Inputs as the controller reads them."""
    lines = []
    for name in GUARD_TERMINALS:
        used = declared[name] != "not fitted"
        open_ = name in tripped or name in unplugged or name == "inner beam"
        if name.endswith("edge"):
            reads = "no line (3.30 V)" if name in unplugged else "pressed (0.02 V)" if open_ else "8.2 kΩ, clear"
        else:
            reads = "open (24.1 V)" if open_ else "closed (0.2 V)"
        stops = used and open_
        lines.append(
            InputLine(name, reads, "keeps the gate still" if stops else "clear" if used else "not used", stops)
        )
    lines += [InputLine(name, "open (24.0 V)", "not pressed", False) for name in ("open button", "close button")]
    return tuple(lines)


def hazards(answers: dict[str, str]) -> tuple[HazardRow, ...]:
    """Lines of a survey."""
    rows = (
        ("meeting edge of the leaves", ("active edge and inactive edge", "outer beam", "low force only", "nothing")),
        ("gap at the hinge", ("finger guard on the post", "inner beam", "nothing")),
        ("lower edge of the leaves", ("gap kept below the leaf", "active edge and inactive edge", "nothing")),
        ("wall behind the open active leaf", ("space of half a metre kept", "inner beam", "nothing")),
        ("people crossing from the lane", ("outer beam", "active edge and inactive edge", "nothing")),
    )
    return tuple(HazardRow(hazard, answers.get(hazard, ""), choices) for hazard, choices in rows)


def curve(index: int, rest: str = "rigid rest") -> Curve:
    """A force reading that rises, falls and rests; each a little different."""
    times = tuple(n / 200 for n in range(0, 1000))
    peak = 268.0 + 17.0 * index

    def force(t: float) -> float:
        if t < 0.05:
            return 0.0
        if t < 0.11:
            return peak * (t - 0.05) / 0.06
        if t < 0.42:
            return peak - (peak - 92.0) * (t - 0.11) / 0.31
        return max(92.0 - 260.0 * max(t - 0.9, 0.0), 6.0)

    forces = tuple(force(t) for t in times)
    above = sum(1 for f in forces if f > 150) / 200
    return Curve("active", 500, 860, rest, times, forces, peak, above, 92.0, 1.19, "within limits")


MEASURED = (
    MeasuredView(
        12, Us(131 * SECOND), "two-pole tester, test dead between board supply, plus and minus", "no lamp lights"
    ),
    MeasuredView(19, Us(204 * SECOND), "multimeter, volts dc, red on board supply, plus, black on minus", "27.3 V"),
    MeasuredView(
        41,
        Us(612 * SECOND),
        "force gauge, active leaf closing, gap 500 mm, 900 mm up, rigid rest",
        "peak 268 N, 0.23 s above 150 N, then 92 N: within limits",
    ),
)

WORTH = WorthView(
    "there",
    made=(
        MadeRow(
            12, Us(131 * SECOND), "two-pole tester, test dead between board supply, plus and minus", 0.06, 0.02, 1.64,
            "multimeter, volts dc, inner beam, signal and inner beam, common",
        ),
        MadeRow(
            13, Us(150 * SECOND), "watching it open from shut", 1.31, 1.12, 1.31, ""
        ),
        MadeRow(
            19, Us(204 * SECOND), "multimeter, volts dc, board supply, plus and board supply, minus",
            0.42, 0.57, 1.18, "inner beam, tripped by hand while the gate rests",
        ),
    ),
    repaired=(
        RepairRow(20, Us(230 * SECOND), "align: inner beam", ("photo beam misaligned",), 62.0),
        RepairRow(22, Us(248 * SECOND), "grease: hinges", (), 0.0),
    ),
)  # fmt: skip
"""What those measurements might have been worth at a gate with a fault."""

WAY = (
    WayRow("both", "isolate", "isolate", 14, Us(140 * SECOND)),
    WayRow("left out", "remove battery link", ""),
    WayRow("both", "swap motor leads: inactive", "swap motor leads: inactive", 17, Us(171 * SECOND)),
    WayRow("at another time", "", "learn travel", 20, Us(230 * SECOND)),
    WayRow("besides", "", "bridge: inner beam", 23, Us(252 * SECOND)),
    WayRow("left out", "set: inner beam, not fitted", ""),
    WayRow("at another time", "learn travel", "", 20, Us(230 * SECOND)),
)


def debrief() -> DebriefView:
    """A graded result with one finding of each outcome."""
    seen = ((41, Us(612 * SECOND), "place force gauge: active leaf, 500 mm, rigid rest"),)
    return DebriefView(
        result="Not yet: one grave finding",
        score=39.0,
        lines=(("Safe?", "no"), ("Right?", "nearly"), ("Systematic?", "yes")),
        parts=(("outcome", 26.0, 30.0), ("safety", 0.0, 20.0), ("verification", 13.0, 20.0), ("record", 8.5, 10.0)),
        findings=(
            FindingView(
                "safety",
                "failed",
                "A guard was left bridged",
                "The inner beam's input was bridged at 4:12 and the gate closed by itself with the link in place.",
                "A bridged guard protects nobody; whoever walks there next relies on it.",
                "Declare the beam as not fitted once the survey says what covers the hazard instead.",
                -20.0,
                True,
                (
                    (23, Us(252 * SECOND), "bridge: inner beam"),
                    (31, Us(388 * SECOND), "the gate closed by itself, inner beam bridged"),
                ),
            ),
            FindingView(
                "verification",
                "marginal",
                "One force reading is not a verdict",
                "The closing force was read once at the point 500 mm.",
                "Readings scatter; the mean of three is judged.",
                "Take three readings at each point, meter on a rigid rest.",
                -4.0,
                False,
                seen,
            ),
            FindingView(
                "outcome",
                "passed",
                "Both leaves turn the right way",
                "The inactive leaf's leads were swapped with both sources off and proved dead.",
                "",
                "",
                6.0,
                False,
                ((17, Us(171 * SECOND), "swap motor leads: inactive leaf"),),
            ),
            FindingView(
                "record",
                "skipped",
                "Monthly checks were not shown",
                "There was no hand-over in this attempt.",
                "The user has to know what to look at between visits.",
                "Show release, stop and the monthly checks, and let the user repeat the release.",
                0.0,
                False,
                (),
            ),
        ),
        report_path="attempts/first-run/debrief.html",
        measured=MEASURED,
        way=WAY,
        practise="A guard was left bridged: declare the beam as not fitted once the survey says what covers it.",
    )
