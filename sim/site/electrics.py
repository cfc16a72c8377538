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
    outer_beam: Cable = part("board to the outer beam", default=_signal(12.0))
    inner_beam: Cable = part("board to the inner beam", default=_signal(12.0))
    active_edge: Cable = part("board to the active leaf's edge", default=_signal(10.0))
    inactive_edge: Cable = part("board to the inactive leaf's edge", default=_signal(10.0))
    stop_circuit: Cable = part("board to the stop button", default=_signal(6.0))
    controls: Cable = part("board to the push-buttons", default=_signal(6.0))
    lamp: Cable = part("board to the warning lamp", default=_signal(8.0))


class Battery(Frozen):
    """Two 12 V blocks in series: a second source."""

    open_circuit_v: float = quantity(
        25.3, "V", 18.0, 28.0, "at rest, fully charged", "common table of lead-acid rest voltages, from memory"
    )
    internal_ohm: float = quantity(0.055, "Ω", 0.01, 3.0, "of the pair; healthy 0.05 to 0.06", PRACTICE)


class Supply(Frozen):
    """The low-voltage supply and what feeds it."""

    idle_v: float = quantity(27.3, "V", 20.0, 32.0, "direct voltage with nothing running", PRACTICE)
    source_ohm: float = quantity(0.12, "Ω", 0.005, 5.0, "inner resistance seen from the board", ENGINEERING)
    mains_v: float = quantity(230.0, "V", 80.0, 280.0, "mains, phase to neutral", SURVEY)
    battery: Battery | None = part("the battery, or null when there is none", default=None)
    fuse_a: float = quantity(15.0, "A", 1.0, 63.0, "fuse between supply and board", PRACTICE)
