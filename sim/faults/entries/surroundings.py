"""Faults that weather and ground bring."""

from __future__ import annotations

from typing import Final

from sim.faults.edit import Fact
from sim.faults.entries.moves import FORCE_UP, MARGIN_UP, measured, placed, pressed, reading, roped_work
from sim.faults.entries.steps import DEAD
from sim.faults.entry import Band, Fault, Reference, WrongRepair, step

SOURCE: Final = "common practice, no source"

_CORE: Final = "active leaf motor, plus core"


def _ridge(name: str, at_deg: float, reach_deg: float, height_m: float, radius_m: float) -> list[dict[str, object]]:
    return [
        {"name": name, "at_deg": at_deg, "reach_deg": reach_deg, "height_m": height_m, "radius_m": radius_m},
    ]


HEAVE: Final = Fault(
    name="ground heaved by frost",
    family="mechanics",
    customer="In winter it stops at the same place.",
    seen="The leaf rubs on the ground at one place.",
    fact="the ground under the active leaf",
    edits=(Fact("leaves.active.ground", _ridge("heaved ground", 35.0, 12.0, 0.068, 1.9)),),
    reference=Reference(
        (*DEAD, measured("tape", "least gap under the leaf")),
        Band(least=50.0, unit="mm"),
        Band(most=5.0, unit="mm"),
    ),
    repair=(*DEAD, step("clear away", what="ground under the active leaf")),
    wrong=(WrongRepair((FORCE_UP, MARGIN_UP), "it scrapes on over the hump, and over a foot"),),
    verification="no contact over all of the travel",
    trap="where the ground was trimmed, a gap for feet may be left: look at it",
    source=SOURCE,
)

STONE: Final = Fault(
    name="stone under the leaf",
    family="mechanics",
    customer="It reverses at one place.",
    seen="Gravel has been carried in, and a stone lies in the arc.",
    fact="a stone lies in the active leaf's way",
    edits=(Fact("leaves.active.ground", _ridge("a stone", 50.0, 1.5, 0.075, 1.4)),),
    reference=Reference(
        (
            placed("clamp meter", "amps dc", _CORE),
            *pressed("open button"),
            step("wait", seconds=10.0),
            reading("clamp meter"),
        ),
        Band(most=4.2, unit="A"),
        Band(least=4.5, unit="A"),
        figure="most",
        note="the sheet's effort of 60 % limits the motor to 4.8 A: that, not the power stage's 8 A, is what "
        "it takes against the stone; a sound leaf takes 3.8 A while it starts",
    ),
    repair=(*DEAD, step("clear away", what="ground under the active leaf")),
    wrong=(WrongRepair((MARGIN_UP,), "it grinds over the stone, and over a hand"),),
    verification="no peak in five cycles",
    trap="nobody kneels in the arc with power on",
    source=SOURCE,
)

GUST: Final = Fault(
    name="wind on a solid leaf",
    family="surroundings",
    customer="It stops on windy days.",
    seen="The boarded leaf stands still against the wind.",
    fact="the wind of the day",
    edits=(Fact("weather.wind_m_s", 11.0, 13.0),),
    reference=Reference(
        (measured("anemometer", "mean wind", at=""),), Band(most=8.0, unit="m/s"), Band(least=9.5, unit="m/s")
    ),
    repair=(step("come back on a calm day"),),
    wrong=(WrongRepair((FORCE_UP, MARGIN_UP), "it beats the wind, and crushes what it meets on a calm day"),),
    verification="runs below 10 m/s, pauses above",
    trap="a leaf in the wind slams: hold it before it is released",
    source=SOURCE,
    variant={"leaves.active.solidity": 1.0, "leaves.inactive.solidity": 1.0},
)

COLD: Final = Fault(
    name="cold grease",
    family="surroundings",
    customer="In frost it is slow.",
    seen="The motor takes half as much again as in summer.",
    fact="how much the grease in the active leaf's gear stiffens in the cold",
    edits=(Fact("drives.active.grease_per_k", 0.018, 0.022),),
    reference=Reference(
        (
            placed("clamp meter", "amps dc", _CORE),
            *pressed("open button"),
            step("wait", seconds=7.0),
            reading("clamp meter"),
        ),
        Band(2.0, 2.7, unit="A"),
        Band(2.9, 5.0, unit="A"),
        note="grease that stiffens by 2.2 % for each kelvin makes 1.9 times the drag at -10 °C, 3.3 A; 4 A and more "
        "would be taken for an obstacle by a sheet with a margin of 25 %, and the gate would stop at its start",
    ),
    repair=roped_work(step("grease", what="gear of the active leaf")),
    wrong=(WrongRepair((MARGIN_UP,), "in summer, with soft grease, all of that margin crushes"),),
    verification="it runs well at -5 °C",
    trap="the closing force drifts with the temperature: test it cold and warm",
    source=SOURCE,
    variant={
        "weather.temperature_c": -10.0,
        "drives.active.grease_per_k": 0.008,
        "drives.inactive.grease_per_k": 0.008,
    },
)

ICE: Final = Fault(
    name="ice under the leaf",
    family="surroundings",
    customer="In the morning it stops at one place.",
    seen="A ridge of ice where water runs across the drive.",
    fact="a ridge of ice under the active leaf",
    edits=(Fact("leaves.active.ground", _ridge("a ridge of ice", 2.0, 12.0, 0.075, 1.95)),),
    reference=Reference(
        (*DEAD, measured("feeler gauge", "gap under the leaf")),
        Band(least=30.0, unit="mm"),
        Band(most=2.0, unit="mm"),
    ),
    repair=(*DEAD, step("clear away", what="ground under the active leaf")),
    wrong=(
        WrongRepair((FORCE_UP, MARGIN_UP), "it breaks free with a jerk, and keeps its effort when the ice melts"),
    ),
    verification="a free run and a gap of 30 mm at least",
    trap="people slip and fall near a moving leaf",
    source=SOURCE,
)

GROWN: Final = Fault(
    name="leaves grow in the sun",
    family="surroundings",
    customer="At noon it stops short.",
    seen="The gap between dark leaves closes by some 3 mm at noon, and there was little to begin with.",
    fact="the meeting gap is narrower than the leaves grow",
    edits=(Fact("opening_width_m", 4.0045, 4.0025),),
    reference=Reference(
        (*DEAD, measured("feeler gauge", "meeting gap", at="")),
        Band(least=15.0, unit="mm"),
        Band(most=3.0, unit="mm"),
        note="4 m of steel, dark, at 35 °C in full sun is 55 K warmer than as built and grows by 2.6 mm: not "
        "by the 17 mm that lie between a gap of 20 mm cold and one of 3 mm hot. The fault is a gap that was built "
        "narrow; the sun only shows it",
    ),
    repair=(*DEAD, step("adjust", what="meeting gap")),
    wrong=(WrongRepair((FORCE_UP,), "the leaves are pressed into each other, and bend"),),
    verification="at noon both leaves shut, with the gap still there",
    trap="the gap at the meeting edges changes over the day: fingers are caught in it",
    source=SOURCE + "; expansion of steel 12e-6 per kelvin, textbook",
    variant={
        "weather.temperature_c": 35.0,
        "weather.sunshine": 1.0,
        "leaves.active.sun_gain_c": 40.0,
        "leaves.inactive.sun_gain_c": 40.0,
    },
)

SURROUNDINGS: Final = (HEAVE, STONE, GUST, COLD, ICE, GROWN)
