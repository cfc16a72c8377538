"""Why a leaf didn't do as it was told: seen from outside while a trial runs, told in words.

The truth of the site is open to whoever runs a trial, so the words name causes and not only symptoms.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from sim.mechanics import oil
from sim.mechanics.linkage import Linkage
from sim.mechanics.loads import loads_on
from sim.site import AnyDrive, Drive, HydraulicRam, InductionMotor
from sim.units import LEAVES, Us, to_seconds
from sim.wiring.conductor import core_ohm

if TYPE_CHECKING:
    from sim.world.world import World

STILL_RAD: Final = math.radians(0.2)
"""A leaf that gets on by less than this stands still [rad]. Engineering value."""

SHAKEN_RAD: Final = math.radians(1.5)
"""Gusts shake a leaf about its play by up to this when it has not left its place yet [rad]. Engineering value."""

LET_GO_S: Final = 0.2
"""A leaf that was let go when it had stood for less than this may have been about to get on [s]. Engineering value:
a board that meets what it takes for a stop lets go after a quarter of a second."""

LONG_S: Final = 3.0
"""Standing this long is worth telling though the leaf went on in the end, or stood at its stop [s]. Engineering
value: sound gates start within a second, and their board lets go within two at a stop."""

TURNS_RAD_S: Final = 5.0
"""A motor that is faster than this turns [rad/s]. Engineering value."""

GIVES_WAY: Final = 0.9
"""Above this share of its limit a torque limiter or relief valve gives way [-]. Engineering value."""

LEAST_N_M: Final = 0.5
"""A torque below this is not worth telling [N·m]."""


@dataclass(slots=True)
class Stand:
    """One stretch in which a leaf was driven and didn't get on."""

    way: int
    """+1 driven to open, −1 to close."""
    at_stop: bool
    """Against the stop that it was driven to."""
    since: Us
    until: Us
    angle: float
    """[rad]"""
    room: float
    """Beyond this from there the leaf gets on [rad]."""
    most_a: float = 0.0
    most_turning: float = 0.0
    """Of the motor [rad/s]."""
    most_push: float = 0.0
    """What the drive gave [N of a ram, N·m of a crank or pin]."""
    most_ground_n: float = 0.0
    cut_out_open: bool = False
    engaged: bool = True
    touching: str = ""

    @property
    def lasted_s(self) -> float:
        """How long it was seen [s]."""
        return to_seconds(Us(self.until - self.since))

    def note(self, world: World, leaf: int, touching: str) -> None:
        """See how it stands now."""
        plant = world.plant
        self.until = world.now
        self.most_a = max(self.most_a, abs(plant.motor_current(leaf)))
        self.most_turning = max(self.most_turning, abs(plant.motor_speed(leaf)))
        self.most_push = max(self.most_push, abs(plant.ram_force(leaf)))
        self.most_ground_n = max(self.most_ground_n, plant.ground_force(leaf))
        self.cut_out_open = self.cut_out_open or plant.cut_out_open(leaf)
        self.engaged = self.engaged and plant.engaged(leaf)
        self.touching = touching or self.touching


@dataclass(slots=True)
class LeafEvidence:
    """What was seen of one leaf."""

    limit_a: float = 0.0
    """Most that the board allowed its motor while it drove it; of a mains motor what it takes while held [A]."""
    most_winding_c: float = -math.inf
    cut_outs: list[tuple[Us, bool]] = field(default_factory=list)
    """When the motor's cut-out was first seen open, and closed again."""
    _told: Stand | None = None
    """The longest stretch so far that is worth telling."""
    _now: Stand | None = None
    """The stretch of this instant."""

    def look(self, world: World, leaf: int) -> None:
        """See how one leaf stands now."""
        plant, asked = world.plant, (world.host.outputs.active, world.host.outputs.inactive)[leaf]
        self.most_winding_c = max(self.most_winding_c, plant.winding_c(leaf))
        is_open = plant.cut_out_open(leaf)
        if is_open != (bool(self.cut_outs) and self.cut_outs[-1][1]):
            self.cut_outs.append((world.now, is_open))
        way = (asked.duty > 0.0) - (asked.duty < 0.0)
        if way:
            motor = world.site.drives.pair[leaf].motor
            self.limit_a = max(self.limit_a, motor.stall_a if isinstance(motor, InductionMotor) else asked.limit_a)
        self._follow(world, leaf, way, plant.touching(leaf))

    def _follow(self, world: World, leaf: int, way: int, touching: str) -> None:
        """Go on with the stretch of this instant, or end it and begin another."""
        angle, stand = world.plant.angle(leaf), self._now
        at_stop = touching == ("open stop" if way > 0 else "closed stop")
        room = SHAKEN_RAD if stand is None or stand.way != way else STILL_RAD
        got_on = stand.way * (angle - stand.angle) if stand is not None else 0.0
        if stand is not None and stand.way != way:
            self._end(stand, let_go=got_on <= STILL_RAD)
            stand = None
        elif stand is not None and (stand.at_stop != at_stop or got_on > stand.room):
            self._end(stand, let_go=False)
            stand = None
        if stand is None and way:
            stand = Stand(way, at_stop, world.now, world.now, angle, room)
        if stand is not None:
            stand.note(world, leaf, touching)
        self._now = stand

    def _end(self, stand: Stand, *, let_go: bool) -> None:
        """Keep a stretch that is worth telling, if it is the longest."""
        least = LET_GO_S if let_go and not stand.at_stop else LONG_S
        if stand.lasted_s >= least and (self._told is None or stand.lasted_s > self._told.lasted_s):
            self._told = stand

    def worst(self) -> Stand | None:
        """The longest stretch that is worth telling, that of this instant among them."""
        if self._now is not None:
            self._end(self._now, let_go=False)
        return self._told


class Evidence:
    """What was seen of every leaf; `look` is called several times a simulated second."""

    def __init__(self, world: World) -> None:
        self.world = world
        self.leaves = tuple(LeafEvidence() for _ in world.site.leaves.fitted)

    def look(self) -> None:
        """See how every leaf stands now. Changes nothing in the world."""
        for leaf, seen in enumerate(self.leaves):
            seen.look(self.world, leaf)

    def why(self, leaf: int, sensed_by: str) -> tuple[str, ...]:
        """Why a leaf didn't do as it was told, each with the leaf left out in front; empty where it did.

        `sensed_by`: what the sheet of a controller that looks for stops says the position is sensed by; empty for any
        other controller.
        """
        site, seen = self.world.site, self.leaves[leaf]
        if seen.limit_a == 0.0:
            return ()
        worst = seen.worst()
        told = [self._stood(leaf, worst)] if worst is not None else []
        model, sensing = site.leaves.pair[leaf], site.drives.pair[leaf].sensing
        if not sensed_by:
            return tuple(told)
        for fitted, stop in ((model.open_stop_fitted, "open"), (model.closed_stop_fitted, "closed")):
            if not fitted:
                told.append(f"has no {stop} stop")
        if sensed_by != "encoder":
            return tuple(told)
        if sensing.kind != "encoder":
            by = "nothing" if sensing.kind == "none" else sensing.kind
            told.append(f"is sensed by {by}; the sheet says that an encoder counts, and so it counts nothing")
        elif sensing.encoder_slip > 0.0:
            told.append(f"has an encoder that misses {sensing.encoder_slip * 100:.0f} % of the turning")
        return tuple(told)

    def _stood(self, leaf: int, stand: Stand) -> str:
        to, time = "open" if stand.way > 0 else "close", f"for {stand.lasted_s:.1f} s"
        because = self._because(leaf, stand)
        if stand.at_stop:
            return f"was driven against its {to.replace('close', 'closed')} stop {time}: {because}"
        return f"stood at {math.degrees(stand.angle):.1f}° {time} while it was driven to {to}: {because}"

    def _because(self, leaf: int, stand: Stand) -> str:
        drive = self.world.site.drives.pair[leaf]
        if drive.motor.winding_open:
            return "no current flows, the winding of its motor is broken"
        if stand.cut_out_open:
            return (
                f"no current flows, its motor's cut-out is open (from {drive.motor.warmth.cut_out_opens_c:g} °C on)"
            )
        if stand.most_a == 0.0:
            return "no current flows"
        if drive.key == "sheared":
            return "its motor turns for nothing, the key of its gear is sheared"
        if not stand.engaged:
            return "its motor turns for nothing, the drive is released"
        did = f"{_motor(drive, stand, self.leaves[leaf].limit_a)}{self._ills(leaf)}"
        return did if stand.at_stop else f"{did}; {self._against(leaf, stand)}"

    def _ills(self, leaf: int) -> str:
        """What ails a motor that still draws current, in brackets."""
        motor = self.world.site.drives.pair[leaf].motor
        if isinstance(motor, InductionMotor):
            fitted = motor.capacitor_uf if motor.fitted_uf is None else motor.fitted_uf
            whole = fitted == motor.capacitor_uf
            return "" if whole else f" (its capacitor has {fitted:g} µF of {motor.capacitor_uf:g} µF)"
        ills = [f"its brushes add {motor.brush_ohm:g} Ω"] if motor.brush_ohm > 0.0 else []
        if motor.shorted_share > 0.0:
            ills.append(f"{motor.shorted_share * 100:.0f} % of its turns are shorted")
        cable = getattr(self.world.site.cables, f"{LEAVES[leaf]}_motor")
        there_and_back = 2.0 * core_ohm(cable.length_m, cable.section_mm2, cable.conductor, cable.temperature_c)
        if there_and_back > motor.resistance_ohm:
            ills.append(f"its cable has {there_and_back:.1f} Ω, more than its winding")
        return f" ({', '.join(ills)})" if ills else ""

    def _against(self, leaf: int, stand: Stand) -> str:
        site = self.world.site
        push = stand.most_push * abs(Linkage(site, leaf).lever(stand.angle))
        loads = loads_on(site, leaf, stand.angle)
        parts = [("slope", loads.slope), ("rising hinges", loads.rise), ("mean wind", loads.wind)]
        against = [f"{name} {abs(torque):.0f} N·m" for name, torque in parts if -torque * stand.way > LEAST_N_M]
        against.append(f"hinges {loads.hinges:.0f} N·m")
        if stand.most_ground_n > 0.0:
            against.append(f"the ground, pressed with {stand.most_ground_n:.0f} N")
        if stand.touching not in ("", "open stop", "closed stop"):
            against.append(f"the {stand.touching}")
        return f"about the hinge its drive gave at most {push:.0f} N·m, against it stood {', '.join(against)}"


def _motor(drive: AnyDrive, stand: Stand, limit_a: float) -> str:
    """What the motor did while the leaf stood."""
    if stand.most_turning > TURNS_RAD_S:
        limit, gave_way = _limit(drive)
        if limit is not None and stand.most_push >= GIVES_WAY * limit:
            return f"its motor turns, and {gave_way}"
        return "its motor turns, and the leaf does not follow"
    if isinstance(drive.motor, InductionMotor):
        return f"its motor is held and draws {stand.most_a:.1f} A"
    return f"its motor is held and draws {stand.most_a:.1f} A of the {limit_a:.1f} A that the board allows"


def _limit(drive: AnyDrive) -> tuple[float | None, str]:
    """What a drive gives out at most [N of a ram, N·m of a crank or pin], and in words what happens there."""
    if isinstance(drive, HydraulicRam):
        return oil.relief_force(drive), f"the oil goes through the relief valve, set to {drive.relief_bar:g} bar"
    limit, unit = (drive.slip_n, "N") if isinstance(drive, Drive) else (drive.slip_n_m, "N·m")
    return limit, f"the torque limiter gives way at {limit or 0.0:g} {unit}"
