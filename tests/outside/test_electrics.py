"""Copper, batteries, fuses, breakers and residual-current devices against published figures.

Beside each figure stands where it comes from: the fact sheet, which names the public text it read, or a standard from
memory.
"""

from __future__ import annotations

import math

import pytest

from sim.devices.battery import charge_at, counted_a, rest_v
from sim.devices.boardio import EDGE_PULL_UP_OHM
from sim.devices.cabinet import Live, build_cabinet
from sim.devices.melting import blade, breaker
from sim.devices.rails import LOGIC_V
from sim.devices.residual import ResidualDevice
from sim.site import Battery, Site, Supply, with_changes
from sim.wiring.conductor import core_ohm, warmed
from sim.wiring.elements import Resistor, VoltageSource
from sim.wiring.solve import solve

# -- copper ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("section", "published"), [(1.0, 44.0), (1.5, 29.0), (2.5, 18.0), (4.0, 11.0), (6.0, 7.3)])
def test_volt_drop_of_two_core_cable(section: float, published: float) -> None:
    """The millivolts per ampere and metre of a single-phase cable at 70 °C in BS 7671 (facts 5.1) are twice the
    resistance of IEC 60228 class 1, warmed; the table is rounded to two figures."""
    ours = 2.0 * core_ohm(1.0, section, "solid", 70.0) * 1000.0
    assert ours == pytest.approx(published, rel=0.025)
    step = 10.0 ** (math.floor(math.log10(published)) - 1)
    assert abs(ours - published) <= step, "more than one unit of its last figure"


@pytest.mark.parametrize(
    ("section", "loop"), [(0.75, 1.300), (1.0, 0.975), (1.5, 0.6650), (2.5, 0.399), (4.0, 0.2475)]
)
def test_loop_of_twenty_five_metres(section: float, loop: float) -> None:
    """25 m there and back, class 5, at 20 °C (facts 5.1: at 5 A 6.50, 4.88, 3.33, 2.00, 1.24 V)."""
    assert 2.0 * core_ohm(25.0, section, "stranded", 20.0) == pytest.approx(loop, rel=0.005)


def test_copper_at_sixty_degrees() -> None:
    """1.157 times (facts 5.1), and the form that IEC 60228 gives, 254.5/(234.5 + θ), within 0.01 %."""
    assert warmed(1.0, 60.0) == pytest.approx(1.157, rel=0.002)
    assert 1.0 / warmed(1.0, 60.0) == pytest.approx(254.5 / (234.5 + 60.0), rel=1e-4)


def test_a_mains_run_by_the_tables_own_figure() -> None:
    """25 m of 1.5 mm² at 5 A: 3.625 V by 29 mV per ampere and metre (facts 5.1); 28.955 mV by class 1 at 70 °C."""
    per_metre = 2.0 * core_ohm(1.0, 1.5, "solid", 70.0) * 1000.0
    assert per_metre == pytest.approx(28.955, rel=0.001)
    assert per_metre * 5.0 * 25.0 / 1000.0 == pytest.approx(3.625, rel=0.01)


def test_five_per_cent_of_the_mains() -> None:
    """11.5 V at 230 V (facts 5.1): a supply lead of the bench loses far less at what its supply takes at most."""
    lead = 2.0 * core_ohm(15.0, 1.5, "solid", 20.0)
    assert lead * 2.0 < 0.05 * 230.0 == pytest.approx(11.5)


# -- in the cabinet --------------------------------------------------------------------------------------------


@pytest.fixture
def site() -> Site:
    """The bench's supply, battery and cables."""
    return Site(name="Larch Bank", supply=Supply(battery=Battery()))


@pytest.mark.parametrize(("section", "drop"), [(1.5, 3.325), (2.5, 1.995), (0.75, 6.50), (1.0, 4.88), (4.0, 1.24)])
def test_volts_lost_between_board_and_motor(site: Site, section: float, drop: float) -> None:
    """5 A through 25 m of class 5, screws, plug and splice and all (facts 5.1, worked drops)."""
    cabinet = build_cabinet(with_changes(site, {"cables.active_motor.section_mm2": section}))
    cabinet.network((1, 0))
    live = Live(duty=(1.0, 0.0), motor_a=(5.0, 0.0))
    ends = [
        cabinet.volts(f"active leaf motor{at}, plus", f"active leaf motor{at}, minus", live) or 0.0
        for at in ("", " at the leaf")
    ]
    assert ends[0] - ends[1] == pytest.approx(drop, rel=0.01 if section < 4.0 else 0.02)


@pytest.mark.parametrize(
    ("ohm", "volts"), [(1e-3, 0.0), (4100.0, 1.10), (8200.0, 1.65), (16400.0, 2.20), (1e12, 3.30)]
)
def test_an_edge_behind_its_pull_up(ohm: float, volts: float) -> None:
    """Short, two in parallel, one, two in series, broken (facts 2.2): the divider of the board's own parts."""
    net = (
        VoltageSource("rail", "rail", "common", LOGIC_V, 0.5),
        Resistor("pull-up", "rail", "line", EDGE_PULL_UP_OHM),
        Resistor("edge", "line", "common", ohm),
    )
    assert solve(net).across("line", "common") == pytest.approx(volts, rel=0.02, abs=0.005)


def test_the_earth_that_thirty_milliamperes_ask_for(site: Site) -> None:
    """50 V over 30 mA are 1667 Ω (facts 5.8): behind less, a live post draws more than trips the device."""
    limit = 50.0 / site.supply.residual_a
    assert limit == pytest.approx(1666.67, rel=0.001)
    cabinet = build_cabinet(site)
    cabinet.mains.add(Resistor("a live post", "isolator outlet.live", "earth bar.earth", complex(limit)))
    residual = cabinet.flow(Live()).residual_a
    assert residual == pytest.approx(230.0 / limit, rel=0.01)
    assert ResidualDevice().trips_in(residual) < 0.3


# -- battery ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("charge", "table_a", "table_b"),
    [(1.0, 25.30, 25.2), (0.75, 24.90, 24.8), (0.5, 24.48, 24.4), (0.25, 24.12, 24.0), (0.0, 23.78, 23.2)],
)
def test_rest_voltage(charge: float, table_a: float, table_b: float) -> None:
    """The pair at rest: the common table, from memory, and a published rule of thumb, within 0.3 V but for the
    empty one, where the two tables differ by 0.6 V (facts 5.2)."""
    assert rest_v(charge) == pytest.approx(table_a, abs=0.005)
    assert rest_v(charge) == pytest.approx(table_b, abs=0.3 if charge > 0.0 else 0.6)
    assert charge_at(rest_v(charge)) == pytest.approx(charge, abs=1e-12)


def test_how_long_a_battery_lasts() -> None:
    """7 Ah, 6 A, exponent 1.2: 20·(7/(6·20))^1.2 h = 39.65 min, in which it gives 3.97 Ah (facts 5.2)."""
    minutes = 60.0 * 7.0 / counted_a(6.0, 7.0, 1.2)
    assert minutes == pytest.approx(39.653, rel=0.001)
    assert 6.0 * minutes / 60.0 == pytest.approx(3.97, abs=0.01)
    assert 60.0 * 7.0 / counted_a(0.35, 7.0, 1.2) == pytest.approx(20.0 * 60.0)


# -- fuses, breakers and residual-current devices ----------------------------------------------------------------


@pytest.mark.parametrize(("share", "least_s", "most_s"), [(1.35, 0.75, 600.0), (2.0, 0.15, 5.0), (3.5, 0.08, 0.5)])
@pytest.mark.parametrize("rated", [3.0, 15.0, 30.0])
def test_blade_fuses_melt_inside_their_windows(rated: float, share: float, least_s: float, most_s: float) -> None:
    """ISO 8820-3, from memory; at 110 % they hold for ever and at 600 % they are gone within 0.1 s."""
    fuse = blade(rated)
    assert least_s <= fuse.lets_go_in(0.0, share * rated) <= most_s
    assert math.isinf(fuse.lets_go_in(0.0, 1.10 * rated))
    assert fuse.lets_go_in(0.0, 6.0 * rated) <= 0.1


def test_breakers_let_go_inside_their_windows() -> None:
    """EN 60898, type B, from memory: 1.13 times for ever, 1.45 within an hour, 2.55 in 1 to 60 s, 5 times at once."""
    ten = breaker(10.0)
    assert math.isinf(ten.lets_go_in(0.0, 11.3))
    assert ten.lets_go_in(0.0, 14.5) <= 3600.0
    assert 1.0 < ten.lets_go_in(0.0, 25.5) <= 60.0
    assert ten.lets_go_in(0.0, 30.0) > 0.1
    assert ten.lets_go_in(0.0, 50.0) == 0.0


def test_warmth_is_the_same_in_one_step_or_in_many() -> None:
    """The formula is a solution of its own equation: steps of any size come to the same, and to its trip time."""
    fuse, warmth = blade(15.0), 0.0
    for _ in range(100):
        warmth = fuse.after(warmth, 32.0, 0.01)
    assert warmth == pytest.approx(fuse.after(0.0, 32.0, 1.0), rel=1e-12)
    assert fuse.after(0.0, 32.0, fuse.lets_go_in(0.0, 32.0)) == pytest.approx(1.0, rel=1e-12)


def test_residual_current_devices_trip_in_time() -> None:
    """At most 300 ms at the rated current and 40 ms at five times, never at half (IEC 61008, from memory)."""
    device = ResidualDevice()
    assert math.isinf(device.trips_in(0.015))
    assert device.trips_in(0.030) <= 0.3
    assert device.trips_in(0.150) <= 0.04
    assert 0.015 < device.ramp_trips_at() <= 0.030
