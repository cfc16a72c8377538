"""What instruments do to a circuit, against closed formulas and published requirements.

Where a value comes from stands beside it. Standards are quoted from memory unless a source is named.
"""

from __future__ import annotations

import numpy as np
import pytest

from sim.devices.cabinet import build_cabinet
from sim.instruments import insulation_tester, low_ohm_tester, multimeter, residual_tester, series, two_pole_tester
from sim.instruments.display import Display, Range
from sim.instruments.toolbag import Toolbag
from sim.site import Battery, Site, Supply
from sim.wiring.elements import Resistor, VoltageSource
from sim.world.actions import checked
from sim.world.world import World

IDEAL = multimeter.MultimeterSpec(gain_error=0.0, noise_steps=0.0)


def divider(upper_ohm: float, lower_ohm: float, volts: float = 20.0):  # type: ignore[no-untyped-def]
    """A cabinet whose spare yard light terminals carry a divider of two resistors on a stiff source."""
    cabinet = build_cabinet(Site(name="Larch Bank", supply=Supply(battery=Battery())))
    cabinet.netlist.add(
        VoltageSource("stiff source", "bench.top", "yard light.minus", volts, 1e-6),
        Resistor("upper", "bench.top", "yard light.plus", upper_ohm),
        Resistor("lower", "yard light.plus", "yard light.minus", lower_ohm),
    )
    return cabinet


@pytest.mark.parametrize("ohm", [1e3, 100e3, 1e6, 4.7e6])
def test_a_meter_loads_a_divider(ohm: float) -> None:
    """V = V₀·(R₂∥Rᵢ)/(R₁ + R₂∥Rᵢ) with Rᵢ = 10 MΩ, the usual input of a digital meter (common practice)."""
    cabinet = divider(ohm, ohm)
    probes = multimeter.Probes("volts dc", "yard light, plus", "yard light, minus")
    undo = multimeter.place(cabinet, probes)
    shown = multimeter.read(cabinet, probes, seed=1, index=1, spec=IDEAL)
    undo()
    beside = ohm * 10e6 / (ohm + 10e6)
    assert shown.value == pytest.approx(20.0 * beside / (ohm + beside), abs=0.011), "one step of its range"


@pytest.mark.parametrize("ohm", [1e3, 47e3, 330e3])
def test_a_two_pole_tester_loads_far_more(ohm: float) -> None:
    """The same with 200 kΩ: what a wire can't carry lights no lamp (EN 61243-3 asks for a load; the figure is common
    practice)."""
    cabinet = divider(ohm, 1e9)
    undo = two_pole_tester.place(cabinet, two_pole_tester.Tips("yard light, plus", "yard light, minus"))
    left = cabinet.volts("yard light, plus", "yard light, minus")
    undo()
    assert left == pytest.approx(20.0 * 200e3 / (200e3 + ohm), rel=1e-3)


@pytest.mark.parametrize(("load_ohm", "socket"), [(2.0, "amps"), (10.0, "amps"), (82.0, "milliamps")])
def test_a_meter_in_series_takes_its_share(load_ohm: float, socket: str) -> None:
    """I = V/(R + burden): 0.03 Ω in the 10 A socket, 1.8 Ω in that of 400 mA (common practice); meters of 0.5 %."""
    world = World(Site(name="Larch Bank", supply=Supply(battery=Battery())), seed=4, bag=Toolbag)
    world.cabinet.netlist.add(
        VoltageSource("stiff source", "bench.top", "yard light.minus", 12.0, 1e-6),
        Resistor("load", "bench.top", "yard light.plus", load_ohm),
    )
    world.rewired()
    given = {"instrument": "multimeter", "function": socket, "at": "yard light, plus", "against": "yard light, minus"}
    world.do(checked("measure", given))
    shown = next(e for e in reversed(world.events) if e.kind == "reading").data["value"]
    burden = series.SOCKETS[socket].burden_ohm
    assert burden == {"amps": 0.03, "milliamps": 1.8}[socket]
    assert shown == pytest.approx(12.0 / (load_ohm + burden), rel=0.012)


@pytest.mark.parametrize("rated", [250.0, 500.0])
def test_an_insulation_tester_gives_what_its_standard_asks(rated: float) -> None:
    """EN 61557-2: at least the rated voltage while it drives 1 mA; at most 1.5 times it without load; a short circuit
    draws at most 15 mA."""
    use = insulation_tester.Use(f"{rated:.0f} volts")
    source = insulation_tester._source(use)
    load = rated / 0.001
    assert source.volts * load / (load + source.ohm) == pytest.approx(rated)
    assert source.volts <= 1.5 * rated
    assert source.volts / source.ohm <= 0.015


def test_a_low_ohm_tester_gives_what_its_standard_asks() -> None:
    """EN 61557-4: 4 to 24 V without load, at least 0.2 A into a short."""
    source = low_ohm_tester.SOURCE
    assert 4.0 <= source.volts <= 24.0
    assert source.volts / source.ohm >= 0.2


def test_a_residual_tester_asks_what_its_standard_asks() -> None:
    """EN 61557-6: half, once and five times the rated current; it leaves each on for as long as the device may take
    (IEC 61008: 0.3 s and 0.04 s; facts 5.8)."""
    assert residual_tester.TIMES == {"half of rated": 0.5, "rated": 1.0, "five times rated": 5.0}
    assert residual_tester.HOLDS_S["rated"] >= 0.3
    assert residual_tester.HOLDS_S["five times rated"] >= 0.04
    assert residual_tester.RAMP_HOLD >= 300_000


def test_noise_and_scale_of_a_display_are_what_they_are_said_to_be() -> None:
    """Over 4 000 readings: mean of the truth, deviation of the noise and the rounding, 1/√12 of a step (closed
    formula)."""
    display = Display("meter", "volts", "V", (Range(40.0, 0.01),), gain_error=0.0, noise_steps=1.5)
    values = np.array([display.show(12.3456, 7, index).value for index in range(4000)], dtype=np.float64)
    assert values.mean() == pytest.approx(12.3456, abs=4 * 0.015 / np.sqrt(4000))
    assert values.std() == pytest.approx(0.01 * np.sqrt(1.5**2 + 1 / 12), rel=0.05)
    scales = np.array(
        [
            Display("meter", "volts", "V", (Range(40.0, 1e-6),), gain_error=0.002).show(10.0, seed, None).value
            for seed in range(2000)
        ],
        dtype=np.float64,
    )
    assert scales.std() == pytest.approx(0.02, rel=0.06)
