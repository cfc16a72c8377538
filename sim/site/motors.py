"""Motors: on direct current behind the board's bridge, or on the mains; how they warm, and what ails them."""

from __future__ import annotations

from typing import Annotated, Any, Final, Literal, TypeAlias

from pydantic import Discriminator, Tag

from sim.site.fields import ENGINEERING, PRACTICE, TOLD_BY_KIND, Frozen, choice, optional_quantity, part, quantity

SET_A = "a generic small ram motor, " + ENGINEERING
MAINS_SET = "a generic small mains gearmotor, " + ENGINEERING


class Warmth(Frozen):
    """How a motor warms: winding and case as two nodes, and the cut-out in the winding."""

    winding_j_k: float = quantity(60.0, "J/K", 5.0, 1e9, "heat capacity of the winding", ENGINEERING)
    case_j_k: float = quantity(500.0, "J/K", 20.0, 1e9, "heat capacity of rotor, case and ram", ENGINEERING)
    winding_to_case_w_k: float = quantity(0.5, "W/K", 0.02, 50.0, "conductance, winding to case", ENGINEERING)
    case_to_air_w_k: float = quantity(0.125, "W/K", 0.01, 50.0, "conductance, case to air", ENGINEERING)
    cut_out_opens_c: float = quantity(
        130.0, "°C", 60.0, 250.0, "winding temperature at which the cut-out opens; usual 120 to 150", PRACTICE
    )
    cut_out_closes_c: float = quantity(
        90.0, "°C", 30.0, 240.0, "at which it closes again; usual after 10 to 20 minutes", PRACTICE
    )
    duty_share: float = quantity(
        0.25, "-", 0.05, 1.0, "share of any ten minutes that it may run, its duty; 1 is always", PRACTICE
    )


class Motor(Frozen):
    """A permanent-magnet direct-current motor at 20 °C."""

    kind: Literal["direct current"] = choice("direct current", "kind of motor: direct current or mains induction")
    resistance_ohm: float = quantity(1.2, "Ω", 0.05, 20.0, "winding with sound brushes", SET_A)
    constant_v_s_rad: float = quantity(0.050, "V·s/rad = N·m/A", 0.005, 1.0, "motor constant", SET_A)
    no_load_a: float = quantity(0.7, "A", 0.0, 10.0, "current that only turns the motor itself", SET_A)
    inductance_h: float = quantity(0.001, "H", 0.00005, 0.05, "winding inductance", SET_A)
    rotor_kg_m2: float = quantity(1.5e-5, "kg·m²", 1e-7, 0.01, "rotor inertia", SET_A)
    warmth: Warmth = part("how it warms", default=Warmth())
    brush_ohm: float = quantity(0.0, "Ω", 0.0, 10_000.0, "what worn brushes add to the winding", PRACTICE)
    shorted_share: float = quantity(0.0, "-", 0.0, 0.9, "share of the turns that are shorted", PRACTICE)
    winding_open: bool = choice(False, "whether the winding is broken: true or false")

    @property
    def terminal_ohm(self) -> float:
        """What an ohmmeter sees of it at 20 °C [Ω]; a broken winding apart."""
        return self.resistance_ohm * (1.0 - self.shorted_share) + self.brush_ohm

    @property
    def emf_v_s_rad(self) -> float:
        """Motor constant with the turns that are left [V·s/rad]."""
        return self.constant_v_s_rad * (1.0 - self.shorted_share)


class InductionMotor(Frozen):
    """A mains motor with a run capacitor: one speed, switched one way or the other."""

    model_config = TOLD_BY_KIND

    kind: Literal["mains induction"] = choice("mains induction", "kind of motor: direct current or mains induction")
    rated_v: float = quantity(230.0, "V", 100.0, 260.0, "effective value", MAINS_SET)
    synchronous_rad_s: float = quantity(
        157.08, "rad/s", 50.0, 400.0, "speed of its field; 157.08 is four poles at 50 Hz", MAINS_SET
    )
    pull_out_n_m: float = quantity(1.4, "N·m", 0.1, 20.0, "greatest torque, with the right capacitor", MAINS_SET)
    pull_out_slip: float = quantity(0.25, "-", 0.03, 1.0, "slip at the greatest torque", MAINS_SET)
    idle_a: float = quantity(1.2, "A", 0.05, 10.0, "effective current without load", MAINS_SET)
    stall_a: float = quantity(3.6, "A", 0.1, 40.0, "effective current while held", MAINS_SET)
    capacitor_uf: float = quantity(12.5, "µF", 1.0, 60.0, "capacitor it should have", PRACTICE)
    fitted_uf: float | None = optional_quantity("µF", 0.0, 60.0, "capacitor it has now", "the right one", PRACTICE)
    drag_n_m: float = quantity(0.05, "N·m", 0.0, 2.0, "dry friction of the motor itself", MAINS_SET)
    resistance_ohm: float = quantity(18.0, "Ω", 0.5, 200.0, "winding, for an ohmmeter and for its heat", MAINS_SET)
    rotor_kg_m2: float = quantity(4e-4, "kg·m²", 1e-6, 0.05, "rotor inertia", MAINS_SET)
    warmth: Warmth = part(
        "how it warms",
        default=Warmth(winding_j_k=250.0, case_j_k=1500.0, winding_to_case_w_k=1.5, case_to_air_w_k=0.8),
    )
    winding_open: bool = choice(False, "whether the winding is broken: true or false")

    @property
    def terminal_ohm(self) -> float:
        """What an ohmmeter sees of it at 20 °C [Ω]; a broken winding apart."""
        return self.resistance_ohm

    @property
    def emf_v_s_rad(self) -> float:
        """It makes no voltage of its own at a meter when it is not fed [V·s/rad]."""
        return 0.0


def _kind(value: Any) -> str | None:
    """Which kind of motor was written down; direct current where nothing is said; None where it is no text."""
    kind = value.get("kind", MOTOR_KINDS[0]) if isinstance(value, dict) else getattr(value, "kind", MOTOR_KINDS[0])
    return kind if isinstance(kind, str) else None


MOTOR_KINDS: Final = ("direct current", "mains induction")

AnyMotor: TypeAlias = Annotated[
    Annotated[Motor, Tag("direct current")] | Annotated[InductionMotor, Tag("mains induction")],
    Discriminator(_kind),
]
"""Any motor; one whose kind is not stated runs on direct current."""
