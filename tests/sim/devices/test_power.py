"""Supply, battery, lamp, motors and their cables: the healthy and the faulty readings of facts 8.1."""

from __future__ import annotations

import pytest

from sim.devices.cabinet import Cabinet, Live, build_cabinet
from sim.site import Site, with_changes
from sim.wiring.elements import CurrentSource

AT_BOARD = ("active leaf motor, plus", "active leaf motor, minus")
AT_LEAF = ("active leaf motor at the leaf, plus", "active leaf motor at the leaf, minus")


def test_mains_at_the_isolator(cabinet: Cabinet) -> None:
    """230 V ± 10 % live to neutral and to earth (facts 8.1, no mains); isolated: nothing, and it floats."""
    assert cabinet.mains_volts("isolator outlet, live", "isolator outlet, neutral") == pytest.approx(230.0, rel=0.1)
    assert cabinet.mains_volts("isolator outlet, live", "earth bar, earth") == pytest.approx(230.0, rel=0.1)
    cabinet.isolate()
    assert cabinet.mains_volts("isolator outlet, live", "isolator outlet, neutral") == pytest.approx(0.0, abs=1e-9)
    assert cabinet.mains_volts("isolator outlet, live", "earth bar, earth") is None
    assert cabinet.mains_volts("isolator inlet, live", "isolator inlet, neutral") == pytest.approx(230.0, rel=0.1)


def test_the_low_voltage_side_floats_against_the_mains_side(cabinet: Cabinet) -> None:
    """Safety separation (facts 5.8): no voltage between the two nets, of either kind."""
    assert cabinet.volts("board supply, plus", "earth bar, earth") is None
    assert cabinet.mains_volts("board supply, plus", "earth bar, earth") is None


def test_supply_at_rest_and_with_both_leaves_starting(cabinet: Cabinet) -> None:
    """27.3 V idle; at least 24.0 V while both leaves start at their 8 A limit (facts 8, reference bench)."""
    assert cabinet.board_v() == pytest.approx(27.3, abs=0.3)
    cabinet.network((1, 1))
    assert 24.0 <= cabinet.board_v(motor_a=(8.0, 8.0), duty=(1.0, 1.0)) < 26.0


def test_two_sources(cabinet: Cabinet) -> None:
    """Isolated, the battery still feeds the board (facts 8.1, the trap); with its link out all is dead."""
    cabinet.isolate()
    assert cabinet.board_v() == pytest.approx(25.3, abs=0.1)
    assert cabinet.is_live("board supply, plus")
    cabinet.remove_battery_link()
    assert cabinet.board_v() == pytest.approx(0.0, abs=1e-9)
    live = [name for name in cabinet.terminals if cabinet.is_live(name)]
    assert live == ["isolator inlet, live", "battery, plus"]


def test_battery_on_charge_and_at_rest(cabinet: Cabinet) -> None:
    """27.0 to 27.6 V at its posts with the mains on; 24.5 to 25.3 V by itself (facts 8.1, charging, sulphated)."""
    posts = ("battery, plus", "battery, minus")
    assert 27.0 <= (cabinet.volts(*posts) or 0.0) <= 27.6
    cabinet.remove_battery_link()
    assert cabinet.volts(*posts) == pytest.approx(25.3, abs=0.05)


def test_the_battery_hangs_on_its_charger_while_the_mains_is_there(cabinet: Cabinet) -> None:
    """A trickle of (27.13 − 25.3)/(1 + 60) A ≈ 30 mA, by hand; it takes over when the mains goes."""
    across = ("board supply, plus", "board battery, plus")
    bus = cabinet.volts("board supply, plus", "board supply, minus") or 0.0
    assert cabinet.volts(*across) == pytest.approx((bus - 25.3) / 61.0, rel=0.01)
    cabinet.isolate()
    assert -0.005 < (cabinet.volts(*across) or 0.0) < 0.0


@pytest.mark.parametrize(("rest_v", "inner_ohm", "loaded"), [(25.3, 0.055, 24.75), (24.48, 0.3, 21.48)])
def test_battery_under_ten_amperes(site: Site, rest_v: float, inner_ohm: float, loaded: float) -> None:
    """A healthy pair stays above 23.5 V; an aged one (0.3 Ω, half full) falls to 21.5 V (facts 5.2)."""
    cabinet = build_cabinet(
        with_changes(site, {"supply.battery.open_circuit_v": rest_v, "supply.battery.internal_ohm": inner_ohm})
    )
    cabinet.remove_battery_link()
    cabinet.isolate()
    cabinet.netlist.add(CurrentSource("load", "battery.minus", "battery.plus", 10.0))
    assert cabinet.volts("battery, plus", "battery, minus") == pytest.approx(loaded, abs=0.05)


def test_accessory_rail_with_everything_on(cabinet: Cabinet) -> None:
    """24 V ± 10 %, at least 21.6 V with the lamp on (facts 8.1, accessory rail)."""
    cabinet.set_lamp(True)
    assert 21.6 <= (cabinet.volts("accessory supply, plus", "accessory supply, minus") or 0.0) <= 26.4


def test_the_lamp_takes_its_current(cabinet: Cabinet) -> None:
    """A 24 V 25 W lamp takes 1.04 A at 24 V (facts 8.4): on a 27 V bus its 23 Ω take 27/23; off, nothing."""
    lamp = ("warning lamp at the post, plus", "warning lamp at the post, minus")
    assert cabinet.volts(*lamp) == pytest.approx(0.0, abs=1e-9)
    cabinet.set_lamp(True)
    volts = cabinet.volts(*lamp) or 0.0
    assert 24.0 < volts < 27.3
    current = cabinet.netlist.solution().current("warning lamp, filament").real
    assert current == pytest.approx(1.04 * volts / 24.0, rel=0.01)


def test_volts_over_a_sound_terminal(cabinet: Cabinet) -> None:
    """Below 50 mV over a supply terminal at 8 A (facts 8.1, loose terminal)."""
    cabinet.network((1, 0))
    live = Live(duty=(1.0, 0.0), motor_a=(8.0, 0.0))
    assert 0.0 < (cabinet.volts("power supply, plus", "board supply, plus", live) or 0.0) < 0.050


@pytest.mark.parametrize(("section", "drop"), [(1.5, 3.325), (2.5, 1.995), (0.75, 6.50)])
def test_volts_lost_on_the_motor_cable(site: Site, section: float, drop: float) -> None:
    """5 A through 25 m of class 5: 3.325 V (facts C39), 1.995 V (C40), 6.50 V (8.1, undersized cable)."""
    cabinet = build_cabinet(with_changes(site, {"cables.active_motor.section_mm2": section}))
    cabinet.network((1, 0))
    live = Live(duty=(1.0, 0.0), motor_a=(5.0, 0.0))
    lost = (cabinet.volts(*AT_BOARD, live) or 0.0) - (cabinet.volts(*AT_LEAF, live) or 0.0)
    assert lost == pytest.approx(drop, rel=0.01)


def test_cable_temperature_counts(site: Site) -> None:
    """A cable at 60 °C has 1.157 times its resistance (facts C41)."""
    warm = build_cabinet(with_changes(site, {"cables.active_motor.temperature_c": 60.0})).network((1, 1))
    assert (warm.rth[0] - 0.010) / (warm.rth[1] - 0.010) == pytest.approx(1.157, rel=0.002)


def test_stall_behind_the_cable(cabinet: Cabinet) -> None:
    """24 V at the bridge, 1.2 Ω winding behind 0.665 Ω of cable: 12.869 A (facts C51); the legs add 10 mΩ."""
    drive = cabinet.network((1, 0))
    stall = drive.alpha[0] * 24.0 / (1.2 + drive.rth[0])
    assert drive.rth[0] - 0.010 == pytest.approx(0.6650, rel=0.005)  # facts C38
    assert stall == pytest.approx(12.869, rel=0.01)


@pytest.mark.parametrize("sign", [1, -1])
def test_polarity_at_the_motor(cabinet: Cabinet, sign: int) -> None:
    """While it opens a motor has plus 24 V, with its leads exchanged minus 24 V (facts 8.1, polarity); closing the
    other way round. The other leaf stays as it was."""
    cabinet.network((sign, 0))
    live = Live(duty=(float(sign), 0.0), motor_a=(0.5 * sign, 0.0))
    healthy = cabinet.volts(*AT_LEAF, live) or 0.0
    assert healthy == pytest.approx(sign * 26.5, abs=1.0)
    cabinet.swap_motor_leads("active")
    assert cabinet.network((sign, 1)).alpha == pytest.approx((-1.0, 1.0), abs=1e-9)
    cabinet.network((sign, 0))
    swapped = cabinet.volts(*AT_LEAF, Live(duty=(float(sign), 0.0), motor_a=(-0.5 * sign, 0.0))) or 0.0
    assert swapped == pytest.approx(-healthy, abs=1e-6)


@pytest.mark.parametrize("core", ["plus core", "minus core"])
def test_an_open_core_leaves_the_leaf_dead(cabinet: Cabinet, core: str) -> None:
    """The bridge puts out its volts, the motor has none but what creeps through insulation (facts 8.1, splice)."""
    cabinet.netlist.remove(f"active leaf motor, {core}")
    drive = cabinet.network((1, 1))
    assert (drive.alpha[0], drive.closed) == (0.0, (False, True))
    live = Live(duty=(1.0, 0.0))
    assert cabinet.volts(*AT_BOARD, live) == pytest.approx(27.27, abs=0.1)
    assert cabinet.volts(*AT_LEAF, live) == pytest.approx(0.0, abs=1e-7)


def test_half_duty_is_half_the_volts(cabinet: Cabinet) -> None:
    """Averaged over a switching period a bridge at duty one half puts out half its input (facts 5.3, PWM)."""
    cabinet.network((1, 0))
    volts = cabinet.volts(*AT_BOARD, Live(duty=(0.5, 0.0))) or 0.0
    assert volts == pytest.approx(0.5 * cabinet.board_v(), rel=1e-3)


def test_one_leaf_starting_slows_the_other(cabinet: Cabinet) -> None:
    """The second leaf's bridge sees the first one's current through the shared supply."""
    cabinet.network((1, 1))
    quiet = cabinet.node_volts("inactive leaf motor, plus", (0.0, 0.0), (0.0, 1.0)) or 0.0
    loaded = cabinet.node_volts("inactive leaf motor, plus", (8.0, 0.0), (1.0, 1.0)) or 0.0
    assert quiet - loaded == pytest.approx(8.0 * cabinet.network((1, 1)).z[1][0], rel=1e-6)


def test_an_idle_motor_floats_and_shows_its_back_emf(cabinet: Cabinet) -> None:
    """Bridge off: only what the turning motor makes stands across its terminals; against common it floats."""
    cabinet.network((0, 0))
    assert cabinet.volts(*AT_BOARD, Live(emf_v=(6.0, 0.0))) == pytest.approx(6.0, rel=1e-9)
    assert cabinet.node_volts(AT_BOARD[0], (0.0, 0.0), (0.0, 0.0)) is None


def test_a_blown_fuse_kills_the_board_but_not_its_supply_terminals(cabinet: Cabinet) -> None:
    """Behind an open fuse there is nothing, ahead of it all (facts 8.1, fuse)."""
    cabinet.netlist.switch("board fuse", False)
    assert cabinet.board_v() == pytest.approx(0.0, abs=1e-9)
    assert cabinet.volts("board supply, plus", "board supply, minus") == pytest.approx(27.3, abs=0.1)


def test_a_healthy_fuse(cabinet: Cabinet) -> None:
    """Below 0.2 Ω across it (facts 8.1, fuse)."""
    assert abs(cabinet.netlist["board fuse"].siemens) > 1 / 0.2
