"""Drives: a motor, its train and the place of its two pivots."""

from __future__ import annotations

from typing import Literal

from sim.site.fields import ENGINEERING, PRACTICE, Frozen, choice, part, quantity

SET_A = "a generic small ram motor, " + ENGINEERING
RAM_EXAMPLE = "a worked example, calculated"


class Motor(Frozen):
    """A permanent-magnet direct-current motor at 20 °C."""

    resistance_ohm: float = quantity(1.2, "Ω", 0.05, 20.0, "winding with brushes", SET_A)
    constant_v_s_rad: float = quantity(0.050, "V·s/rad = N·m/A", 0.005, 1.0, "motor constant", SET_A)
    no_load_a: float = quantity(0.7, "A", 0.0, 10.0, "current that only turns the motor itself", SET_A)
    inductance_h: float = quantity(0.001, "H", 0.00005, 0.05, "winding inductance", SET_A)
    rotor_kg_m2: float = quantity(1.5e-5, "kg·m²", 1e-7, 0.01, "rotor inertia", SET_A)


class Drive(Frozen):
    """A linear ram: rear pivot on the post side, front pivot on a bracket of the leaf.

    Rear pivot at (−`post_across_m`, `post_inside_m`) seen from the hinge, front pivot `bracket_along_m` along the
    leaf and `bracket_offset_m` inwards from it. The inactive leaf's drive is its mirror image.
    """

    kind: Literal["linear ram"] = choice("linear ram", "kind of drive: linear ram")
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
    motor: Motor = part("the motor", default=Motor())
    gear_ratio: float = quantity(20.0, "-", 1.0, 500.0, "motor turns to one turn of the screw", SET_A)
    gear_efficiency: float = quantity(0.85, "-", 0.1, 1.0, "efficiency of the gear", SET_A)
    screw_lead_m: float = quantity(0.005, "m", 0.001, 0.05, "travel for one turn of the screw", SET_A)
    screw_efficiency: float = quantity(
        0.35, "-", 0.05, 0.95, "efficiency of the screw; below 0.5 it holds the leaf by itself", SET_A
    )
    stiffness_n_m: float = quantity(
        1_000_000.0, "N/m", 5_000.0, 20_000_000.0, "spring of ram, pivots and brackets along the ram", ENGINEERING
    )
    damping_n_s_m: float = quantity(15_000.0, "N·s/m", 0.0, 200_000.0, "damping beside that spring", ENGINEERING)
    pulses_per_turn: int = quantity(4, "-", 1, 1024, "encoder pulses for one turn of the motor", PRACTICE)


class Drives(Frozen):
    """Both drives."""

    active: Drive = part("the active leaf's drive", default=Drive())
    inactive: Drive = part("the inactive leaf's drive", default=Drive())

    @property
    def pair(self) -> tuple[Drive, Drive]:
        """(active, inactive), in the order every array keeps."""
        return (self.active, self.inactive)
