"""Every tool that a technician of this trade measures or looks with is on the shelf, and does what it is for.

The list is the one of the practice sheet's fault rows (common practice, no source): tool, and the quantity that one
takes it in hand for.
"""

from __future__ import annotations

from typing import Final

import pytest

from sim.instruments.shelf import SHELF

TOOLS: Final[dict[str, tuple[str, str]]] = {
    "two-pole voltage tester": ("two-pole tester", "V"),
    "direct volts": ("multimeter", "V"),
    "alternating volts": ("multimeter", "V"),
    "ohms and continuity": ("multimeter", "Ω"),
    "current in series": ("multimeter", "A"),
    "current by clamp": ("clamp meter", "A"),
    "insulation at 250 and 500 V": ("insulation tester", "Ω"),
    "low ohms": ("low-ohm tester", "Ω"),
    "capacitance": ("capacitance meter", "F"),
    "battery under load": ("load tester", "V"),
    "an encoder's line": ("oscilloscope", "V"),
    "pulses of an encoder": ("pulse counter", ""),
    "trip time of a residual-current device": ("residual-current tester", "s"),
    "loop impedance and protective conductor": ("earth tester", "Ω"),
    "leakage": ("leakage clamp", "A"),
    "closing force": ("force gauge", "N"),
    "force by hand": ("spring scale", "N"),
    "times": ("stopwatch", "s"),
    "lengths, gaps and diagonals": ("tape", "mm"),
    "plumb": ("level", "mm/m"),
    "play": ("dial gauge", "mm"),
    "narrow gaps": ("feeler gauge", "mm"),
    "bow of a rod": ("straight edge", "mm/m"),
    "torque of a screw": ("torque wrench", "N·m"),
    "wind": ("anemometer", "m/s"),
    "light": ("light meter", "lx"),
    "temperature by contact": ("thermometer", "°C"),
    "warm places": ("thermal view", "°C"),
    "margin of a photo beam": ("signal margin reader", "×"),
    "a loop's inductance and frequency": ("loop tester", "µH"),
    "radio level and range": ("radio level reader", "dBm"),
    "what the controller lists": ("service panel", "words"),
    "what is seen": ("look", ""),
}
MADE: Final = {made.name: made for made in (new() for new in SHELF)}


@pytest.mark.parametrize("purpose", TOOLS)
def test_the_tool_is_there_and_measures_it(purpose: str) -> None:
    """It lies on the shelf, and one of its functions gives the quantity in its unit."""
    name, unit = TOOLS[purpose]
    assert name in MADE
    assert unit in {function.unit for function in MADE[name].functions}


def test_nothing_lies_on_the_shelf_that_no_purpose_asks_for() -> None:
    """Beside these: a meter of the wrong category, and a lead that joins."""
    assert set(MADE) - {name for name, _ in TOOLS.values()} == {"pocket meter", "shorting lead"}
