"""Builds the frozen `View` of a session from its world: looking only, nothing hidden shown."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Final, Literal

from sim.controller import guards
from sim.controller.ports import GUARD_TERMINALS, Panel
from sim.controller.rules import depends_on
from sim.controller.settings import CATALOGUE as SETTINGS
from sim.instruments.measuring_points import measuring_heights
from sim.mechanics.axes import axes_of
from sim.mechanics.hanging import mean_wind
from sim.mechanics.leaf import hinge_gap
from sim.mechanics.mounting import Mounting
from sim.said import said
from sim.units import LEAVES, Us
from sim.world.world import World
from trainer.session.kept import Kept
from trainer.session.needs import needs_of
from trainer.session.past import Past
from trainer.session.sheet_log import Change, SheetLog, in_words
from trainer.session.sight import Handled, Supply, body_views, handled_of, standing_of, supply_of
from trainer.session.tools import offers_of
from trainer.session.view import (
    DriveView,
    GapView,
    GuardView,
    HazardRow,
    LeafView,
    RidgeView,
    SettingView,
    TerminalView,
    View,
)
from trainer.session.yard_view import WeatherView

if TYPE_CHECKING:
    from sim.site import Leaf
    from sim.world.actions import Value
    from trainer.session.session import Session


SEEN_M = 0.01
"""Ground that rises less than this under a leaf is not seen [m]. Ours."""

RELAYS: Final[Mapping[int, Literal["", "opening", "closing"]]] = {1: "opening", -1: "closing", 0: ""}


def leaf_views(world: World) -> tuple[LeafView, ...]:
    """Every leaf as it stands."""
    return tuple(_leaf(world, leaf) for leaf in range(len(world.site.leaves.fitted)))


def past_leaves(world: World, recorded: Mapping[str, float], handled: Handled) -> tuple[LeafView, ...]:
    """Every leaf as it was recorded (channels of the strip: [°], [A]) and handled; forces aren't kept."""
    held = dict(handled.in_gaps)
    return tuple(
        replace(
            seen,
            angle_deg=recorded[f"{seen.name} angle"],
            motor_a=recorded[f"{seen.name} current"],
            engaged=handled.engaged[leaf],
            touching="",
            contact_n=0.0,
            gap=_gap(world, leaf, math.radians(recorded[f"{seen.name} angle"]), held.get(leaf, "")),
            motor_rad_s=0.0,
            relay="",
        )
        for leaf, seen in enumerate(leaf_views(world))
    )


def _leaf(world: World, leaf: int) -> LeafView:
    model, drive, plant = world.site.leaves.pair[leaf], world.site.drives.pair[leaf], world.plant
    angle = plant.angle(leaf)
    return LeafView(
        name=LEAVES[leaf],
        angle_deg=math.degrees(angle),
        open_stop_deg=model.open_stop_deg,
        width_m=model.width_m,
        height_m=model.height_m,
        motor_a=plant.motor_current(leaf),
        engaged=plant.engaged(leaf),
        hinge_xy_m=(axes_of(world.site, leaf).hinge_x_m, 0.0),
        opens_towards=world.site.opens_towards,
        drive=DriveView(drive.kind, Mounting.of(drive, world.site.opens_towards == "inside")),
        touching=plant.touching(leaf),
        contact_n=plant.contact_force(leaf),
        gap=_gap(world, leaf, angle, world.people.hinges.held.get(leaf, ""), world.people.hinges.force_n(leaf)),
        ground=tuple(
            RidgeView(ridge.name, ridge.at_deg, ridge.reach_deg, ridge.height_m, ridge.radius_m)
            for ridge in model.ground
            if ridge.height_m >= SEEN_M
        ),
        motor_rad_s=plant.motor_speed(leaf),
        relay=RELAYS[world.host.drives.signs[leaf]],
        thickness_m=model.thickness_m,
        clearance_m=model.ground_clearance_m,
        gauge_heights_m=_gauge_heights(model),
    )


def _gauge_heights(model: Leaf) -> tuple[float, ...]:
    """Above the ground, as the force gauge is told [m]."""
    clearance_mm = model.ground_clearance_m * 1000.0
    heights = measuring_heights(model.height_m * 1000.0, clearance_mm)
    return tuple(round(height.above_edge_mm + clearance_mm, 6) / 1000.0 for height in heights)


def _gap(world: World, leaf: int, angle: float, held: str, force: float = 0.0) -> GapView:
    gap = world.site.leaves.pair[leaf].hinge_gap
    wide = hinge_gap(gap.post_m, gap.heel_along_m, gap.heel_across_m, angle)
    return GapView(gap.post_m, gap.heel_along_m, gap.heel_across_m, wide, held, force)


def weather_view(world: World) -> WeatherView:
    """The weather of this instant."""
    weather = world.weather
    return WeatherView(
        wind_m_s=world.plant.wind_m_s(),
        mean_m_s=mean_wind(weather),
        from_deg=weather.wind_from_deg,
        gust_intensity=weather.gust_intensity,
        temperature_c=weather.temperature_c,
    )


def guard_views(world: World, past: Past, handled: Handled, at: Us | None) -> tuple[GuardView, ...]:
    """Every guard input's device as one sees it in the yard; tripped or not as at the instant `at`, if given."""
    views = []
    for name in GUARD_TERMINALS:
        device = world.site.guards.device(name)
        tripped = world.people.is_tripped(name) if at is None else past.tripped_at(name, at)
        ends, height = None, 0.0
        if name.endswith("beam") and device is not None:
            ends = ((device.emitter_x_m, device.y_m), (device.receiver_x_m, device.y_m))  # type: ignore[union-attr]
            height = device.height_m  # type: ignore[union-attr]
        elif name == "stop circuit" and device is not None:
            ends = ((device.x_m, device.y_m), (device.x_m, device.y_m))  # type: ignore[union-attr]
        views.append(
            GuardView(
                name=name,
                kind="beam" if name.endswith("beam") else "edge" if name.endswith("edge") else "stop",
                fitted=device is not None,
                tripped=tripped,
                plugged=name not in handled.unplugged,
                bridged=name in handled.bridged,
                ends_xy_m=ends,
                height_m=height,
                by_hand=tripped and name in handled.by_hand,
            )
        )
    return tuple(views)


def loop_view(world: World) -> tuple[float, float, float, float] | None:
    """Where the presence loop lies, None without one."""
    loop = world.site.access.loop
    return None if isinstance(loop, str) else (loop.x_m, loop.y_m, loop.along_x_m, loop.along_y_m)


def setting_views(world: World, log: SheetLog, kept: Kept | None = None) -> tuple[SettingView, ...]:
    """Every row of the sheet, in the catalogue's order; out of `kept`, if given, while no row has changed."""
    panel = world.controller.panel()
    locked = "" if world.host.on else said("the panel is dark: the controller has no power")
    if not locked and panel.sealed:
        locked = said("the sheet is sealed; unseal it with a reason")
    states = guard_states(world) if world.host.on else {}
    made_of = (tuple(panel.settings.items()), locked, states, log.changes)
    return (kept or Kept()).of("settings", made_of, lambda: _rows(panel.settings, log, locked, states))


def _rows(
    held: Mapping[str, Value], log: SheetLog, locked: str, states: Mapping[str, str]
) -> tuple[SettingView, ...]:
    written = {change.setting for change in log.changes}
    return tuple(
        SettingView(
            name=row.name,
            group=row.group,
            value=in_words(held.get(row.name, row.default)),
            unit=row.unit,
            help=row.help,
            choices=row.choices,
            least=row.least,
            most=row.most,
            step=row.step,
            default=in_words(row.default),
            state=states.get(row.name, ""),
            locked=locked,
            depends_on=depends_on(row.name),
            found=log.found.get(row.name, "") if row.name in written else "",
        )
        for row in SETTINGS.values()
    )


def guard_states(world: World) -> Mapping[str, str]:
    """Each guard input as the controller's terminals have it now, in a word."""
    volts = world.cabinet.guard_volts()
    return {name: guards.read(index, volts[index]).value for index, name in enumerate(GUARD_TERMINALS)}


BEFORE_THE_ISOLATOR = "isolator inlet"
"""What no hand at the gate makes dead."""


def terminal_views(world: World, supply: Supply, kept: Kept | None = None) -> tuple[TerminalView, ...]:
    """Every terminal, and whether a real wire there could be live on this supply; the isolator's inlet always could.
    Out of `kept`, if given, while that is the same."""
    mains, low = supply.mains, supply.mains or supply.battery
    terminals = world.cabinet.terminals

    def build() -> tuple[TerminalView, ...]:
        return tuple(
            TerminalView(t.name, t.part, t.pin, t.part == BEFORE_THE_ISOLATOR or (mains if t.net == "mains" else low))
            for t in terminals.values()
        )

    return (kept or Kept()).of("terminals", (tuple(terminals), mains, low), build)


def hazard_rows(world: World) -> tuple[HazardRow, ...]:
    """The survey's lines and what was written beside them."""
    return tuple(
        HazardRow(row.hazard, world.survey.get(row.hazard, ""), tuple(row.choices)) for row in world.site.hazards
    )


def _undo(session: Session) -> Change | None:
    """The change of the sheet that would be put back next, its time counted from arrival."""
    change = session.sheet_log.undoable
    return change and replace(change, at=Us(change.at - session.world.arrived))


def view(session: Session) -> View:
    """Everything a screen needs, frozen. Called every frame: what can't have changed is not built again."""
    world, job = session.world, session.assignment
    zero, shown = world.arrived, session.shown_us
    then = None if shown is None else Us(shown + zero)
    paused, pace, achieved = session.pacing
    judged, records = session.judged(), session.toolbag.records
    panel = world.controller.panel() if world.host.on else Panel(said("no power"), "")
    site, bag, past, kept = world.site, session.toolbag, session.past, session.kept
    supply = supply_of(world) if then is None else past.supply_at(then)
    handled = handled_of(world) if then is None else past.handled_at(then)
    strip = site.cover_strip
    return View(
        now=session.clock_us,
        job=job.title,
        grade=job.grade,
        place=site.name,
        brief=job.brief,
        brief_points=job.points,
        mode=job.mode,
        seed=job.seed,
        paused=paused,
        pace=pace,
        achieved_pace=achieved,
        leaves=leaf_views(world) if shown is None else past_leaves(world, session.strip.at(shown), handled),
        opening_m=site.opening_width_m,
        strip_carrier="" if strip == "not fitted" else strip.carrier,
        strip_face="" if strip == "not fitted" else strip.face,
        guards=guard_views(world, past, handled, then),
        bodies=body_views(standing_of(world), world.now) if then is None else past.bodies_at(then),
        lamp_on=supply.lamp,
        mains_on=supply.mains,
        battery_linked=supply.battery,
        board_on=supply.board,
        cordoned=handled.cordoned,
        weather=weather_view(world) if then is None else past.weather_at(then),
        panel=panel,
        settings=setting_views(world, session.sheet_log, kept),
        undo=_undo(session),
        terminals=terminal_views(world, supply, kept),
        gauge=handled.gauge,
        gauge_direction=handled.gauge_direction,
        curves=session.force_book.curves(records),
        force_plan=session.force_book.plan(world, records, judged.readings),
        survey=hazard_rows(world),
        user_group=world.user_group,
        needs=needs_of(world.user_group),
        notes=world.notebook.lines,
        conclusions=world.notebook.conclusions,
        steps=judged.steps,
        questions=tuple((q, options, past.answer(q)) for q, options in job.questions),
        acceptance=tuple((check.name, check.state) for check in judged.checks),
        checks=judged.checks,
        transmitters=tuple((t.tag, t.buttons) for t in site.transmitters),
        strip=session.strip.view(shown),
        held=tuple(world.held),
        busy="",
        last_reply=session.last_reply,
        alarms=past.alarms(),
        finished=bool(world.ended),
        debrief=session.debrief(),
        cautions=job.cautions,
        walls=tuple((w.name, w.x_m, w.y_m, w.along_x_m, w.along_y_m) for w in site.walls),
        controls=tuple(world.cabinet.controls),
        loop=loop_view(world),
        strip_overlap_m=0.0 if strip == "not fitted" else strip.overlap_m,
        opens_first=site.opens_first,
        wiring=handled.wiring,
        tools=handled.tools,
        offers=offers_of(world, bag),
        graded=job.graded,
    )
