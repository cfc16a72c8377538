"""Drives: a motor, its train, what is between train and leaf, and how the position is sensed."""

from __future__ import annotations

from typing import Annotated, Any, Final, Literal, TypeAlias

from pydantic import Discriminator, Tag

from sim.site.access import NotFitted
from sim.site.fields import (
    ENGINEERING,
    PRACTICE,
    SURVEY,
    TOLD_BY_KIND,
    Frozen,
    choice,
    optional_quantity,
    part,
    quantity,
)
from sim.site.motors import SET_A, AnyMotor, Motor

RAM_EXAMPLE = "a worked example, calculated"
ARM_SET = "a generic arm gearmotor, " + ENGINEERING
HYDRAULIC_SET = "a generic hydraulic ram, " + ENGINEERING
PIN_SET = "a generic underground gearmotor, " + ENGINEERING


class Sensing(Frozen):
    """How the board learns where the leaf is."""

    kind: Literal["encoder", "limit switches", "none"] = choice(
        "encoder", "what senses the position: encoder, limit switches or none (by time only)"
    )
    encoder_slip: float = quantity(
        0.0, "-", 0.0, 1.0, "share of the turning that the encoder misses; 1 is dead", PRACTICE
    )
    encoder_wander: float = quantity(
        0.0, "-", 0.0, 0.5, "by what share noise makes its counting wander; 0.1 gives some 50 counts", ENGINEERING
    )
    limit_open_deg: float = quantity(90.0, "°", -10.0, 130.0, "where the open limit switch works", SURVEY)
    limit_closed_deg: float = quantity(1.0, "°", -10.0, 130.0, "where the closed limit switch works", SURVEY)
    channels: Literal["one", "two"] = choice(
        "one", "lines of the encoder: one, and the board takes the way it drives; or two, which tell the way it turns"
    )
    limits_in_motor_lead: bool = choice(
        False, "whether limit switches sit in the motor's own lead, each with a diode across it: true or false"
    )
    limit_contact: Literal["normally closed", "normally open"] = choice(
        "normally closed", "contact of the limit switches: normally closed or normally open"
    )


class Train(Frozen):
    """What every drive has: motor, gear, release, the sensing of its position."""

    motor: AnyMotor = part("the motor", default=Motor())
    drag_n_m: float = quantity(
        0.065,
        "N·m",
        0.0,
        5.0,
        "dry friction of gear and seals whatever the load, at the motor; makes a sound leaf draw some 2 A",
        ENGINEERING,
    )
    key: Literal["whole", "sheared"] = choice(
        "whole", "key of the gear: whole, or sheared, and then the motor turns for nothing"
    )
    grease_per_k: float = quantity(
        0.0,
        "1/K",
        0.0,
        0.1,
        "by what share that friction grows for each kelvin below 20 °C; low-temperature grease 0.008, summer grease "
        "0.03",
        ENGINEERING,
    )
    release_key: Literal["in its place", "missing"] = choice(
        "in its place", "key of the manual release: in its place or missing"
    )
    height_m: float = quantity(0.6, "m", 0.0, 3.0, "where it holds the leaf, above ground", SURVEY)
    pulses_per_turn: int = quantity(4, "-", 1, 1024, "encoder pulses for one turn of the motor", PRACTICE)
    sensing: Sensing = part("how the position is sensed", default=Sensing())


class RamMounting(Frozen):
    """Where a ram is held.

    Rear pivot at (−`post_across_m`, `post_inside_m`) seen from the hinge, front pivot `bracket_along_m` along the
    leaf and `bracket_offset_m` inwards from it. The inactive leaf's drive is its mirror image. Rams stand inside,
    whichever way the leaves open.
    """

    post_across_m: float = quantity(
        0.15, "m", 0.02, 1.0, "rear pivot, from the hinge away from the opening", RAM_EXAMPLE
    )
    post_inside_m: float = quantity(
        0.15, "m", 0.02, 1.0, "rear pivot, from the hinge towards the inside", RAM_EXAMPLE
    )
    bracket_along_m: float = quantity(0.85, "m", 0.2, 3.0, "front pivot, along the leaf", RAM_EXAMPLE)
    bracket_offset_m: float = quantity(
        0.05, "m", 0.0, 0.4, "front pivot, off the leaf towards the inside", RAM_EXAMPLE
    )
    retracted_m: float = quantity(0.66, "m", 0.2, 3.0, "pivot to pivot, run in to its end", ENGINEERING)
    stroke_m: float = quantity(0.40, "m", 0.05, 1.5, "how far the ram can run out", ENGINEERING)
    stiffness_n_m: float = quantity(
        1_000_000.0, "N/m", 5_000.0, 20_000_000.0, "spring of ram, pivots and brackets along the ram", ENGINEERING
    )
    damping_n_s_m: float = quantity(15_000.0, "N·s/m", 0.0, 200_000.0, "damping beside that spring", ENGINEERING)
    rod_bow: float = quantity(
        0.0, "-", 0.0, 0.05, "metres its rod is bowed for each metre of its length; straight up to 0.001", PRACTICE
    )
    bracket_play_m: float = quantity(
        0.0, "m", 0.0, 0.02, "play of the bracket on the leaf: a cracked weld; sound up to 0.0002", PRACTICE
    )


class Drive(RamMounting, Train):
    """A linear ram: motor, gear and screw."""

    kind: Literal["linear ram"] = choice(
        "linear ram", "kind of drive: linear ram, hydraulic ram, articulated arm or underground"
    )
    gear_ratio: float = quantity(20.0, "-", 1.0, 500.0, "motor turns to one turn of the screw", SET_A)
    gear_efficiency: float = quantity(0.85, "-", 0.1, 1.0, "efficiency of the gear", SET_A)
    screw_lead_m: float = quantity(0.005, "m", 0.001, 0.05, "travel for one turn of the screw", SET_A)
    screw_efficiency: float = quantity(
        0.35, "-", 0.05, 0.95, "efficiency of the screw; below 0.5 it holds the leaf by itself", SET_A
    )
    play_m: float = quantity(0.0, "m", 0.0, 0.05, "backlash of the nut; sound up to 0.001", PRACTICE)
    slip_n: float | None = optional_quantity(
        "N", 50.0, 50_000.0, "force at which its limiter slips", "no limiter", ENGINEERING
    )


class HydraulicRam(RamMounting, Train):
    """A ram driven by oil: motor and pump in the place of gear and screw."""

    model_config = TOLD_BY_KIND

    kind: Literal["hydraulic ram"] = choice(
        "hydraulic ram", "kind of drive: linear ram, hydraulic ram, articulated arm or underground"
    )
    damping_n_s_m: float = quantity(
        60_000.0, "N·s/m", 0.0, 200_000.0, "damping beside that spring: oil through its throttles", HYDRAULIC_SET
    )
    pump_cm3_per_turn: float = quantity(1.2, "cm³", 0.05, 20.0, "what the pump gives for one turn", HYDRAULIC_SET)
    pump_efficiency: float = quantity(0.45, "-", 0.05, 0.95, "efficiency of pump and ram", HYDRAULIC_SET)
    bore_cm2: float = quantity(12.0, "cm²", 1.0, 100.0, "area of the piston", HYDRAULIC_SET)
    relief_bar: float = quantity(25.0, "bar", 1.0, 250.0, "pressure at which the bypass opens", HYDRAULIC_SET)
    leak_cm3_s_bar: float = quantity(
        0.002, "cm³/(s·bar)", 0.0, 10.0, "past the locking valve at 20 °C; sound up to 0.005", HYDRAULIC_SET
    )
    air_share: float = quantity(
        0.0, "-", 0.0, 0.5, "share of air in the oil, from a low level or no bleeding", HYDRAULIC_SET
    )


class GearedTrain(Train):
    """A gearmotor that turns a crank or a pin."""

    gear_ratio: float = quantity(2280.0, "-", 1.0, 10_000.0, "motor turns to one turn of the output", ARM_SET)
    gear_efficiency: float = quantity(
        0.30, "-", 0.05, 1.0, "of all gears; below 0.5 they hold the leaf by themselves", ARM_SET
    )
    stiffness_n_m_rad: float = quantity(
        60_000.0, "N·m/rad", 500.0, 5_000_000.0, "spring of gear, output and what it turns", ENGINEERING
    )
    damping_n_m_s_rad: float = quantity(600.0, "N·m·s/rad", 0.0, 50_000.0, "damping beside it", ENGINEERING)
    play_deg: float = quantity(0.0, "°", 0.0, 15.0, "backlash at the output; sound up to 0.5", PRACTICE)
    slip_n_m: float | None = optional_quantity(
        "N·m", 5.0, 20_000.0, "torque of the output at which its limiter slips", "no limiter", ENGINEERING
    )


class ArticulatedArm(GearedTrain):
    """A gearmotor on the post with a crank, and a link to the leaf.

    Crank axis at (−`axis_across_m`, `axis_inside_m`) seen from the hinge; the link takes the leaf `bracket_along_m`
    along it, `bracket_offset_m` inwards from it. It stands inside, whichever way the leaves open.
    """

    model_config = TOLD_BY_KIND

    kind: Literal["articulated arm"] = choice(
        "articulated arm", "kind of drive: linear ram, hydraulic ram, articulated arm or underground"
    )
    axis_across_m: float = quantity(
        0.10, "m", -0.5, 1.0, "crank axis, from the hinge away from the opening", RAM_EXAMPLE
    )
    axis_inside_m: float = quantity(0.20, "m", 0.02, 1.0, "crank axis, from the hinge to the inside", RAM_EXAMPLE)
    crank_m: float = quantity(0.30, "m", 0.05, 1.5, "length of the crank", RAM_EXAMPLE)
    link_m: float = quantity(0.45, "m", 0.05, 2.0, "length of the link", RAM_EXAMPLE)
    bracket_along_m: float = quantity(0.60, "m", 0.1, 3.0, "where the link takes the leaf, along it", RAM_EXAMPLE)
    bracket_offset_m: float = quantity(0.0, "m", 0.0, 0.4, "the same, off the leaf to the inside", RAM_EXAMPLE)


class Underground(GearedTrain):
    """A gearmotor in the ground under the hinge, which turns the hinge pin itself."""

    model_config = TOLD_BY_KIND

    kind: Literal["underground"] = choice(
        "underground", "kind of drive: linear ram, hydraulic ram, articulated arm or underground"
    )
    gear_ratio: float = quantity(3600.0, "-", 1.0, 10_000.0, "motor turns to one turn of the pin", PIN_SET)
    stiffness_n_m_rad: float = quantity(
        40_000.0, "N·m/rad", 500.0, 5_000_000.0, "spring of gear and pin", ENGINEERING
    )


DRIVE_KINDS: Final = ("linear ram", "hydraulic ram", "articulated arm", "underground")


def _kind(value: Any) -> str | None:
    """Which kind of drive was written down; a linear ram where nothing is said; None where it is no text."""
    kind = value.get("kind", DRIVE_KINDS[0]) if isinstance(value, dict) else getattr(value, "kind", DRIVE_KINDS[0])
    return kind if isinstance(kind, str) else None


AnyDrive: TypeAlias = Annotated[
    Annotated[Drive, Tag("linear ram")]
    | Annotated[HydraulicRam, Tag("hydraulic ram")]
    | Annotated[ArticulatedArm, Tag("articulated arm")]
    | Annotated[Underground, Tag("underground")],
    Discriminator(_kind),
]
"""Any drive; one whose kind is not stated is a linear ram."""


NO_DRIVE: Final = Drive(sensing=Sensing(kind="none"))
"""What fills the second place of an array where there is no inactive drive. It stands for nothing."""


class Drives(Frozen):
    """The drive of every leaf."""

    active: AnyDrive = part("the active leaf's drive", default=Drive())
    inactive: AnyDrive | NotFitted = part(
        "the inactive leaf's drive, or not fitted where there is no such leaf", default=Drive()
    )

    @property
    def fitted(self) -> tuple[AnyDrive, ...]:
        """The drives that are there, in the order every array keeps."""
        return self.pair[:1] if self.inactive == "not fitted" else self.pair

    @property
    def pair(self) -> tuple[AnyDrive, AnyDrive]:
        """(active, inactive), in the order every array keeps; without an inactive drive, something in its place."""
        return (self.active, NO_DRIVE if self.inactive == "not fitted" else self.inactive)
