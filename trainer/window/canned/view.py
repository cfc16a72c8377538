"""The `View` of the canned session."""

from __future__ import annotations

import math
from dataclasses import replace
from statistics import fmean
from typing import TYPE_CHECKING, Literal

from sim.controller.ports import Panel, SheetWarning
from sim.mechanics.leaf import hinge_gap
from sim.units import SECOND, Us
from trainer.session.acceptance import CheckView
from trainer.session.force_book import PlanPoint
from trainer.session.needs import needs_of
from trainer.session.tools import ToolsView
from trainer.session.view import DriveView, GapView, LeafView, SettingView, Step, View
from trainer.session.yard_view import WeatherView
from trainer.window.canned import cabinet, yard
from trainer.window.canned.bag import OFFERS, SHELF

if TYPE_CHECKING:
    from trainer.window.canned.session import CannedSession

QUESTION = "The gate is closing and someone walks through the outer beam. What will it do?"
CHECKS = (
    CheckView("stop circuit", "passed", "Pressed while closing, both leaves halted.", Us(95 * SECOND)),
    CheckView("outer beam", "passed", "Cut at three places while closing, the gate reopened.", Us(140 * SECOND)),
    CheckView("active edge", "not yet", "Not pressed while closing so far.", how="Press it on the closing leaf."),
    CheckView("inactive edge", "not yet", "Not pressed while closing so far."),
    CheckView("leaf order", "not yet"),
    CheckView("closing force", "not yet", "0 of 3 readings at one point that count."),
    CheckView("hand-over", "not yet", "The gate is not handed over."),
)


CAUSE = CheckView("cause found", "not yet", "Nothing was concluded.")
"""What a gate that failed is asked besides."""


def _checks(session: CannedSession) -> tuple[CheckView, ...]:
    return (*CHECKS, CAUSE) if session.asks_cause else CHECKS


def view_of(session: CannedSession) -> View:
    """Everything a screen can draw."""
    now = Us(round(session.now * SECOND))
    return View(
        now=now,
        job="First run",
        grade="learner",
        place="Thistle Yard, cart entrance",
        brief=yard.BRIEF,
        brief_points=yard.POINTS,
        mode=session.mode,
        graded=session.graded,
        seed=session.seed,
        paused=session.paused,
        pace=session.pace,
        achieved_pace=min(session.pace, 1.0) if session.held else session.pace,
        leaves=_leaves(session),
        opening_m=yard.OPENING_M,
        strip_carrier="active",
        strip_face="inside",
        guards=tuple(
            replace(guard, by_hand=guard.name in session.by_hand)
            for guard in yard.guards(session.tripped(), frozenset(session.unplugged), frozenset(session.bridged))
        ),
        bodies=tuple(session.bodies.values()),
        lamp_on=_moving(session),
        mains_on=session.mains,
        battery_linked=session.battery,
        board_on=session.powered,
        cordoned=session.cordon,
        weather=WeatherView(wind_m_s=4.0, mean_m_s=4.0, from_deg=20.0),
        panel=_panel(session),
        settings=_settings(session),
        undo=session.sheet_log.undoable,
        terminals=cabinet.terminals(session.mains, session.powered),
        gauge=session.gauge,
        gauge_direction="closing",
        curves=tuple(session.curves),
        survey=yard.hazards(session.survey),
        user_group=session.user_group,
        needs=needs_of(session.user_group),
        notes=session.notebook.lines,
        conclusions=session.notebook.conclusions,
        steps=_steps(session),
        questions=((QUESTION, ("open fully", "stop and wait", "go on closing"), session.answers.get(QUESTION, "")),),
        acceptance=tuple((check.name, check.state) for check in _checks(session)),
        checks=_checks(session),
        force_plan=_force_plan(session),
        transmitters=(("grey, two buttons", 2), ("blue, two buttons", 2)),
        strip=session.strip(),
        held=tuple(session.held),
        busy="",
        last_reply=session.reply,
        alarms=tuple(session.alarms),
        finished=session.finished,
        debrief=yard.debrief() if session.finished else None,
        cautions=("Isolate both sources and prove dead before a hand goes into the cabinet.",),
        walls=yard.WALLS,
        strip_overlap_m=0.05,
        wiring=session.wiring(),
        tools=ToolsView(SHELF, tuple(session.in_place.values()), tuple(session.readings.values())),
        offers=OFFERS,
    )


def _force_plan(session: CannedSession) -> tuple[PlanPoint, ...]:
    points = [
        PlanPoint(leaf, gap, height, place, 400.0)
        for leaf in ("active", "inactive")
        for gap in (50.0, 300.0, 500.0)
        for height, place in ((110.0, "50 mm above the lower edge"), (860.0, "half height"), (1360.0, "high"))
    ]
    count = len(session.curves)
    if count:
        mean = fmean(curve.peak_n for curve in session.curves)
        verdict = "within limits" if count >= 3 else "not judged"
        here = tuple(range(count))
        # Every canned reading is taken at half height with the widest opening.
        points[7] = replace(points[7], readings=here, counting=count, mean_peak_n=mean, verdict=verdict, told=verdict)
    return tuple(points)


def _moving(session: CannedSession) -> bool:
    return any(w is not None and abs(w - a) > 0.05 for w, a in zip(session.wish, session.angles, strict=True))


def _leaves(session: CannedSession) -> tuple[LeafView, LeafView]:
    leaves = []
    for leaf, (name, angle) in enumerate(zip(("active", "inactive"), session.shown_angles(), strict=True)):
        pressed = f"{name} edge" in session.by_hand
        stop = "open stop" if angle > yard.OPEN_DEG - 0.05 else "closed stop" if angle < 0.05 else ""
        leaves.append(
            LeafView(
                name=name,
                angle_deg=angle,
                open_stop_deg=yard.OPEN_DEG,
                width_m=yard.LEAF_M,
                height_m=1.6,
                motor_a=2.1 if _moving(session) else 0.0,
                engaged=session.engaged[leaf],
                hinge_xy_m=(0.0 if leaf == 0 else yard.OPENING_M, 0.0),
                opens_towards="inside",
                drive=DriveView("linear ram", yard.RAM),
                gap=GapView(0.07, 0.06, 0.05, hinge_gap(0.07, 0.06, 0.05, math.radians(angle)), session.in_gap[leaf]),
                touching="adult" if pressed else stop,
                contact_n=138.0 if pressed else 0.0,
                motor_rad_s=380.0 if _moving(session) else 0.0,
                relay=_relay(session.wish[leaf], angle),
                gauge_heights_m=(0.11, 0.86, 1.36),
            )
        )
    return leaves[0], leaves[1]


def _relay(wish: float | None, angle: float) -> Literal["", "opening", "closing"]:
    """The relay that drives a leaf towards where it is wanted."""
    if wish is None or abs(wish - angle) <= 0.05:
        return ""
    return "opening" if wish > angle else "closing"


def _panel(session: CannedSession) -> Panel:
    blocked = session.blocked()
    if not session.powered:
        return Panel("dark", "The panel is dark: the controller has no power.")
    moving = _moving(session)
    if blocked:
        state, message = "standing", f"Standing still: the {blocked[0]} reads open and is declared as fitted."
    elif moving:
        opens = (session.wish[0] or 0.0) > session.angles[0] or (session.wish[1] or 0.0) > session.angles[1]
        state, message = ("opening", "Opening.") if opens else ("closing", "Closing.")
    else:
        state, message = "ready", "Ready. Travel learned." if session.learned else "Ready. Learning not finished."
    events = [(at, text) for at, kind, text in session.marks if kind == "event"]
    waits = tuple(f"the {name} to read clear, or to be declared as not fitted" for name in blocked)
    lines = yard.input_lines(session.tripped(), frozenset(session.unplugged), session.declared())
    return Panel(
        state,
        message,
        waits or ("a command",),
        lines,
        {row.name: row.value for row in session.settings.values()},
        (1843, 1851) if session.learned else (None, None),
        tuple(session.enrolled),
        log=((Us(0), "Power on. Position not known."), *events),
        sealed=session.sealed,
        warnings=(UNTESTED,) if _is_untested(session) else (),
    )


UNTESTED = SheetWarning(
    ("guard test", "auto-close"), "the gate closes by itself and never asks whether its beams still see."
)


def _is_untested(session: CannedSession) -> bool:
    return session.settings["guard test"].value == "off" and session.settings["auto-close"].value == "on"


def _settings(session: CannedSession) -> tuple[SettingView, ...]:
    locked = "the sheet is sealed; unseal it with a reason" if session.sealed else ""
    if not session.powered:
        locked = "the panel is dark: the controller has no power"
    blocked, tripped = set(session.blocked()), session.tripped()
    written = {change.setting for change in session.sheet_log.changes}
    rows = []
    for row in session.settings.values():
        state = ""
        if row.group == "guards" and row.name != "guard test" and row.value != "not fitted":
            state = "tripped" if row.name in tripped else "broken" if row.name in blocked else "clear"
        found = session.sheet_log.found[row.name] if row.name in written else ""
        rows.append(replace(row, locked=locked, state=state, found=found))
    return tuple(rows)


def _steps(session: CannedSession) -> tuple[Step, ...]:
    kinds = {kind for kind, _ in session.done}
    return (
        Step("Walk the survey: who uses the gate, where it can hurt, what protects there.", bool(session.survey)),
        Step("With the drives released, swing both leaves by hand from stop to stop.", "push leaf" in kinds),
        Step("Restore the supply and find out why the gate keeps still.", session.mains and "restore" in kinds),
        Step("Tell the sheet what is there, and which leaf opens first.", "set" in kinds),
        Step("Jog each leaf and see which way it turns.", "jog press" in kinds),
        Step("Prove each guard, then let the controller learn the travel.", session.learned),
    )
