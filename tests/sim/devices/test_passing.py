"""What passes with time: one formula for every instant, whatever instants are looked at."""

from __future__ import annotations

import math
import pickle
from itertools import pairwise

import pytest

from sim.devices.battery import BatterySet, exhausted_ohm
from sim.devices.boardio import BOARD_FUSE
from sim.devices.cabinet import Cabinet, Live
from sim.devices.passing import RESIDUAL, Flow, Passing, passing_of
from sim.site import Battery, Supply
from sim.units import SECOND
from sim.wiring.elements import Resistor


def passing(flow: Flow, charge: float = 1.0) -> Passing:
    """A cold start with this flowing."""
    found = passing_of(Supply(), BatterySet(Battery(charge=charge)))
    found.flow = flow
    return found


def test_looking_often_changes_nothing_but_the_last_bits() -> None:
    """A thousand looks or one: the same warmth, count and charge."""
    flow = Flow(((BOARD_FUSE, 32.0),), 0.02, 1.5)
    often, once = passing(flow), passing(flow)
    for step in range(1, 501):
        often.pass_to(step * SECOND // 1000)
    once.pass_to(SECOND // 2)
    assert often.warmth[BOARD_FUSE] == pytest.approx(once.warmth[BOARD_FUSE], rel=1e-9)
    assert often.charge == pytest.approx(once.charge, rel=1e-12)


def test_a_fuse_lets_go_when_it_said() -> None:
    """Just before its instant it holds, at it it is gone."""
    found = passing(Flow(((BOARD_FUSE, 32.0),)))
    due = found.due_in()
    assert 0.1 < due < 5.0
    found.pass_to(int((due - 0.001) * SECOND))
    assert found.gone() == ()
    found.pass_to(math.ceil((due + 0.001) * SECOND))
    assert found.gone() == (BOARD_FUSE,)
    found.renewed(BOARD_FUSE)
    found.flow = Flow()
    assert found.gone() == ()
    assert math.isinf(found.due_in())


def test_a_fuse_that_was_warm_lets_go_sooner() -> None:
    """An overload soon after another."""
    cold, warm = passing(Flow(((BOARD_FUSE, 32.0),))), passing(Flow(((BOARD_FUSE, 18.0),)))
    warm.pass_to(60 * SECOND)
    warm.flow = cold.flow
    assert warm.due_in() < 0.5 * cold.due_in()


def test_residual_current_is_counted_and_forgotten() -> None:
    """Half of its time at 30 mA, then nothing: the next time it starts anew. Long enough: it trips."""
    found = passing(Flow(residual_a=0.030))
    found.pass_to(int(found.due_in() / 2 * SECOND))
    assert found.gone() == ()
    found.flow = Flow()
    found.pass_to(found.at + SECOND)
    assert found.counted == 0.0
    found.flow = Flow(residual_a=0.030)
    found.pass_to(found.at + int((found.due_in() + 0.001) * SECOND))
    assert found.gone() == (RESIDUAL,)


def test_a_battery_runs_down_by_steps_and_fills_again() -> None:
    """At 6 A it is empty after 39.65 min (facts 5.2); each due instant moves its voltage by a step of 10 mV."""
    found, volts, instants = passing(Flow(battery_a=6.0)), [], 0
    assert found.battery is not None
    while not math.isinf(due := found.due_in()):
        found.pass_to(found.at + math.ceil(due * SECOND))
        volts.append(found.battery.at_rest_v(found.charge))
        instants += 1
    assert found.at / SECOND / 60.0 == pytest.approx(39.65, abs=0.6)
    assert found.charge == pytest.approx(0.0, abs=0.02)
    assert 140 <= instants <= 160
    assert max(abs(b - a) for a, b in pairwise(volts)) <= 0.0201
    found.flow = Flow(battery_a=-0.7)
    found.pass_to(found.at + 3600 * SECOND)
    assert found.charge == pytest.approx(0.9 * 0.7 / 7.0, rel=0.25)


def test_an_empty_battery_gives_no_strength() -> None:
    """Under its twenty-hour current an empty pair ends at 21.0 V, which its capacity is counted to (facts 5.2); above
    a tenth of its charge nothing of that is felt."""
    assert 2.0 * 11.89 - 7.0 / 20.0 * exhausted_ohm(0.0, 7.0) == pytest.approx(21.0, abs=0.01)
    assert exhausted_ohm(0.1, 7.0) == exhausted_ohm(1.0, 7.0) == 0.0
    ohms = [exhausted_ohm(step / 100.0, 7.0) for step in range(11)]
    assert ohms == sorted(ohms, reverse=True)


def test_a_trickle_keeps_a_full_battery_full() -> None:
    """It never holds more than all of it, and nothing is due."""
    found = passing(Flow(battery_a=-0.03))
    found.pass_to(3600 * SECOND)
    assert found.charge == 1.0
    assert math.isinf(found.due_in())


def test_the_cabinet_follows_the_charge_and_keeps_it(cabinet: Cabinet) -> None:
    """Half empty it rests at 24.48 V (facts 5.2) and takes more from the charger; a keyframe holds it."""
    cabinet.passing.charge = 0.5
    assert cabinet.set_charge()
    cabinet.remove_battery_link()
    assert cabinet.volts("battery, plus", "battery, minus") == pytest.approx(24.48, abs=0.02)
    cabinet.fit_battery_link()
    posts = cabinet.volts("battery, plus", "battery, minus") or 0.0
    assert 0.3 < -cabinet.flow(Live()).battery_a < 1.2
    assert 25.0 < posts < 27.0
    state = pickle.loads(pickle.dumps(cabinet.state()))
    cabinet.passing.charge = 0.1
    cabinet.set_charge()
    cabinet.restore_state(state)
    assert cabinet.passing.charge == 0.5
    assert cabinet.state() == state


def test_a_current_out_of_the_cells_meets_no_surface_charge(cabinet: Cabinet) -> None:
    """On charge a full battery takes a trickle; with its link out and ten amperes drawn, it gives what its
    plates give: 25.3 V less 0.55 V (facts 5.2)."""
    assert -0.05 < cabinet.flow(Live()).battery_a < -0.01
    cabinet.remove_battery_link()
    cabinet.netlist.add(Resistor("load", "battery.plus", "battery.minus", 2.475))
    assert cabinet.volts("battery, plus", "battery, minus") == pytest.approx(24.75, abs=0.05)


def test_a_supply_whose_wire_is_off_lets_the_battery_take_over(cabinet: Cabinet) -> None:
    """The relay follows what comes from the supply, not whether its lamp is lit."""
    cabinet.netlist.change("board supply, plus, screw", closed=False)
    assert cabinet.mains_on
    assert cabinet.board_v() == pytest.approx(25.3, abs=0.1)
    assert cabinet.flow(Live()).battery_a > 0.1


@pytest.mark.parametrize("on_mains", [True, False])
def test_what_flows_while_the_drives_run(cabinet: Cabinet, on_mains: bool) -> None:
    """The quick sum for fuse and battery is what the whole net says, within two per cent."""
    if not on_mains:
        cabinet.isolate()
    cabinet.network((1, 1))
    live = Live(duty=(0.8, 1.0), motor_a=(3.0, 2.5))
    look, flow = cabinet.look(), cabinet.flow(live)
    assert dict(flow.amps)[BOARD_FUSE] == pytest.approx(abs(look.amps(BOARD_FUSE, live)), rel=0.02)
    if not on_mains:
        assert flow.battery_a == pytest.approx(look.amps("battery link", live), rel=0.02)
