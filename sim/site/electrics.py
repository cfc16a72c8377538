"""Cables, supply and battery."""

from __future__ import annotations

from typing import Final, Literal

from pydantic import field_validator

from sim.site.fields import ENGINEERING, PRACTICE, SURVEY, Frozen, choice, part, quantity

SECTIONS_MM2: Final = (0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0)
"""Conductor sections that IEC 60228 tabulates and the wiring room knows [mm²]."""


class Cable(Frozen):
    """One run of cable, both cores of the same section."""

    length_m: float = quantity(25.0, "m", 0.1, 500.0, "one way", SURVEY)
    section_mm2: float = quantity(1.5, "mm²", 0.5, 6.0, "copper section of a core, as IEC 60228 lists them", SURVEY)
    conductor: Literal["solid", "stranded"] = choice("stranded", "solid (class 1) or stranded (class 5)")
    temperature_c: float = quantity(20.0, "°C", -40.0, 90.0, "temperature of the copper", SURVEY)

    @field_validator("section_mm2")
    @classmethod
    def _listed(cls, value: float) -> float:
        if value not in SECTIONS_MM2:
            nearest = min(SECTIONS_MM2, key=lambda section: abs(section - value))
            listed = ", ".join(f"{section:g}" for section in SECTIONS_MM2)
            raise ValueError(f"no such section is made; allowed: {listed}; did you mean {nearest:g}?")
        return value


def _signal(length_m: float) -> Cable:
    return Cable(length_m=length_m, section_mm2=0.5)


class Cables(Frozen):
    """Every run between the board and a part in the yard."""

    active_motor: Cable = part("board to the active leaf's motor", default=Cable())
    inactive_motor: Cable = part("board to the inactive leaf's motor", default=Cable())
    active_encoder: Cable = part("board to the active leaf's encoder", default=_signal(25.0))
    inactive_encoder: Cable = part("board to the inactive leaf's encoder", default=_signal(25.0))
    encoders_beside_mains: bool = choice(
        False, "whether both encoders' cables lie in one conduit with 230 V and motor cables: true or false"
    )
    outer_beam: Cable = part("board to the outer beam", default=_signal(12.0))
    inner_beam: Cable = part("board to the inner beam", default=_signal(12.0))
    active_edge: Cable = part("board to the active leaf's edge", default=_signal(10.0))
    inactive_edge: Cable = part("board to the inactive leaf's edge", default=_signal(10.0))
    stop_circuit: Cable = part("board to the stop button", default=_signal(6.0))
    controls: Cable = part("board to the push-buttons", default=_signal(6.0))
    lamp: Cable = part("board to the warning lamp", default=_signal(8.0))
    lock: Cable = part("board to the electric lock", default=_signal(6.0))
    yard_light: Cable = part("board to the yard light", default=_signal(12.0))
    supply_lead: Cable = part(
        "isolator to the power supply", default=Cable(length_m=15.0, section_mm2=1.5, conductor="solid")
    )


class Battery(Frozen):
    """Two 12 V blocks in series: a second source."""

    open_circuit_v: float = quantity(
        25.3, "V", 18.0, 28.0, "at rest, fully charged", "common table of lead-acid rest voltages, from memory"
    )
    internal_ohm: float = quantity(0.055, "Ω", 0.01, 3.0, "of the pair; healthy 0.05 to 0.06", PRACTICE)
    capacity_ah: float = quantity(7.0, "Ah", 1.0, 200.0, "what it gives in twenty hours", PRACTICE)
    peukert: float = quantity(1.2, "-", 1.0, 1.6, "exponent of Peukert; usual 1.15 to 1.25", PRACTICE)
    charge: float = quantity(1.0, "-", 0.0, 1.0, "how full it is found, as a share", SURVEY)


class Supply(Frozen):
    """The low-voltage supply and what feeds it."""

    idle_v: float = quantity(27.3, "V", 20.0, 32.0, "direct voltage with nothing running", PRACTICE)
    source_ohm: float = quantity(0.12, "Ω", 0.005, 5.0, "inner resistance seen from the board", ENGINEERING)
    mains_v: float = quantity(230.0, "V", 80.0, 280.0, "mains, phase to neutral", SURVEY)
    battery: Battery | None = part("the battery, or null when there is none", default=None)
    fuse_a: float = quantity(15.0, "A", 1.0, 63.0, "fuse between supply and board", PRACTICE)
    charger_fuse_a: float = quantity(3.0, "A", 0.5, 20.0, "fuse of the battery's charger", PRACTICE)
    accessory_a: float = quantity(
        1.0, "A", 0.2, 5.0, "where the accessory rail's limit sets in; above it the rail folds back", PRACTICE
    )
    breaker_a: float = quantity(10.0, "A", 2.0, 32.0, "breaker of the final circuit, type B; usual 6 to 10", PRACTICE)
    line_fuse_a: float = quantity(5.0, "A", 0.5, 16.0, "fuse in the isolator's live pole", PRACTICE)
    residual_a: float = quantity(0.03, "A", 0.01, 0.5, "rating of the residual-current device", PRACTICE)
    residual_trips_a: float = quantity(
        0.022, "A", 0.005, 2.0, "where it really trips; half of its rating to all of it when sound", PRACTICE
    )


class Lock(Frozen):
    """An electric lock with a bolt that drops behind a leaf when it is shut."""

    leaf: Literal["active", "inactive"] = choice("active", "which leaf its bolt holds: active or inactive")
    coil_ohm: float = quantity(9.6, "Ω", 1.0, 100.0, "coil, cold; 12 V 15 W", PRACTICE)
    coil_w_k: float = quantity(0.25, "W/K", 0.02, 10.0, "conductance, coil to air", ENGINEERING)
    coil_j_k: float = quantity(120.0, "J/K", 5.0, 5000.0, "heat capacity of coil and core", ENGINEERING)
    pull_in_v: float = quantity(9.0, "V", 3.0, 30.0, "least volts at the coil that lift the bolt", PRACTICE)
    pull_n: float = quantity(60.0, "N", 5.0, 500.0, "what its coil lifts the bolt with", PRACTICE)
    friction: float = quantity(0.3, "-", 0.05, 1.0, "dry friction of the bolt in its keep", PRACTICE)
    pressed_n: float = quantity(
        20.0, "N", 0.0, 2000.0, "what seal and leaf press on the bolt with while the leaf is shut", SURVEY
    )
    stuck: bool = choice(False, "whether the bolt is jammed in its keep, coil or not: true or false")


class YardLight(Frozen):
    """A light over the yard, on the board's output."""

    ohm: float = quantity(57.6, "Ω", 5.0, 1000.0, "as a load; 24 V 10 W", PRACTICE)
