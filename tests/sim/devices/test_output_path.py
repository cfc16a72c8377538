"""From the board's outputs to the motors: what they get follows from relays, stages and cores as they are."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.bench.fault_readings import gate
from sim.devices.bridge import Asked
from sim.devices.cabinet import Cabinet, build_cabinet
from sim.devices.output_path import Signs
from sim.site import Site, load_site, with_changes
from sim.wiring.elements import Resistor
from sim.wiring.netlist import Undo, in_turn

SITES = Path(__file__).parents[3] / "scenarios" / "sites"

OPENING = (Asked(0.5), Asked(0.5))
"""Both leaves asked to open at half duty."""


def weld(cabinet: Cabinet) -> Undo:
    """Both contacts of the active leaf's opening relay."""
    return cabinet.netlist.add(
        Resistor("feed, welded", "board.active output", "active leaf motor.plus", 0.01),
        Resistor("return, welded", "active leaf motor.minus", "board.common", 0.01),
    )


def exchange(cabinet: Cabinet, one: str, other: str) -> Undo:
    """Two cores under each other's screw at the board."""
    net = cabinet.netlist
    here, there = net[one].a, net[other].a
    return in_turn(net.change(one, a=there), net.change(other, a=here))


@pytest.mark.parametrize("signs", [(1, 1), (-1, -1), (1, -1), (1, 0), (0, -1)])
def test_each_stage_drives_its_own_motor_the_way_its_relay_says(cabinet: Cabinet, signs: Signs) -> None:
    """A sound path: full transfer where a relay is pulled in, nothing joined where none is."""
    driven = cabinet.driven(signs)
    assert driven.senses == signs
    assert driven.stages == (0, 1)
    assert driven.network.alpha == pytest.approx(tuple(float(bool(sign)) for sign in signs), abs=1e-6)
    assert driven.network.closed == tuple(bool(sign) for sign in signs)
    assert cabinet.given(driven, OPENING) == OPENING


def test_at_rest_a_motor_is_joined_to_nothing(cabinet: Cabinet) -> None:
    """Both relays at rest: no loop, no sense, whatever is asked goes nowhere."""
    driven = cabinet.driven((0, 0))
    assert driven.senses == (0, 0)
    assert driven.network.closed == (False, False)
    assert driven.network.alpha == (0.0, 0.0)


def test_a_welded_relay_drives_its_motor_without_a_command(cabinet: Cabinet) -> None:
    """The full rail, no ramp and no limit, with nothing asked; and the undo brings the same net back."""
    sound = cabinet.driven((0, 0)).network
    undo = weld(cabinet)
    driven = cabinet.driven((0, 0))
    assert driven.senses == (1, 0)
    assert driven.network.alpha[0] == pytest.approx(1.0, abs=1e-6)
    given = cabinet.given(driven, (Asked(), Asked()))
    assert given[0].duty == 1.0
    assert given[0].limit_a > 1000.0
    assert given[1] == Asked()
    undo()
    assert cabinet.driven((0, 0)).network == sound


def test_a_welded_relay_against_the_other_shorts_the_board(cabinet: Cabinet) -> None:
    """The closing relay pulled in on a welded opening one: the stage feeds some hundredths of an ohm."""
    weld(cabinet)
    driven = cabinet.driven((-1, 0))
    assert driven.network.g[0] > 1.0 / 0.05
    assert abs(driven.network.alpha[0]) < 0.6


def test_a_burnt_contact_opens_and_does_not_close(cabinet: Cabinet) -> None:
    """One feed contact gone: one way works as before, the other leaves the loop open."""
    cabinet.netlist.change("active closing relay, feed contact", ohm=1e6)
    assert cabinet.driven((1, 0)).network.closed[0]
    assert not cabinet.driven((-1, 0)).network.closed[0]


def test_a_worn_contact_is_in_the_motor_s_loop(cabinet: Cabinet) -> None:
    """Half an ohm in a feed contact is half an ohm more in the loop, that way alone."""
    before = [cabinet.driven((sign, 0)).network.rth[0] for sign in (1, -1)]
    cabinet.netlist.change("active closing relay, feed contact", ohm=0.501)
    after = [cabinet.driven((sign, 0)).network.rth[0] for sign in (1, -1)]
    assert after[0] == pytest.approx(before[0], abs=1e-9)
    assert after[1] == pytest.approx(before[1] + 0.5, abs=1e-9)


def test_a_stage_that_no_longer_blocks_gives_the_whole_rail(cabinet: Cabinet) -> None:
    """Whatever the duty, while a relay is pulled in; and nothing once it has fallen back."""
    cabinet.netlist.change("active power stage, channel", ohm=0.02)
    driven = cabinet.driven((1, 1))
    given = cabinet.given(driven, (Asked(0.3), Asked(0.3)))
    assert given[0].duty == 1.0
    assert given[0].limit_a > 1000.0
    assert given[1] == Asked(0.3)
    assert not cabinet.driven((0, 1)).network.closed[0]


def test_thermal_protection_takes_the_volts_away(cabinet: Cabinet) -> None:
    """Both protections open: relays click, and nothing is driven."""
    assert cabinet.set_protection(True)
    driven = cabinet.driven((1, -1))
    assert driven.senses == (0, 0)
    assert driven.network.closed == (False, False)
    assert cabinet.set_protection(False)
    assert cabinet.driven((1, -1)).senses == (1, -1)


def test_cores_at_the_other_output_hand_each_motor_to_the_other_stage(cabinet: Cabinet) -> None:
    """Both leaves' cores exchanged: the active leaf's stage drives the inactive leaf's motor."""
    undo = in_turn(
        *(
            exchange(cabinet, f"active leaf motor, {pin} core", f"inactive leaf motor, {pin} core")
            for pin in ("plus", "minus")
        )
    )
    driven = cabinet.driven((1, 0))
    assert driven.stages == (1, 0)
    assert driven.senses == (1, 0)
    assert driven.network.alpha == pytest.approx((0.0, 1.0), abs=1e-6)
    assert cabinet.given(driven, (Asked(0.7), Asked())) == (Asked(), Asked(0.7))
    undo()
    assert cabinet.driven((1, 0)).stages == (0, 1)


def test_swapped_leads_turn_the_motor_and_not_the_board(cabinet: Cabinet) -> None:
    """The board drives in its opening sense, and the motor the other way."""
    undo = cabinet.swap_motor_leads(0)
    driven = cabinet.driven((1, 0))
    assert driven.senses == (1, 0)
    assert driven.network.alpha[0] == pytest.approx(-1.0, abs=1e-6)
    assert cabinet.leads_swapped(0)
    undo()
    assert not cabinet.leads_swapped(0)


@pytest.mark.parametrize(("reached", "blocked"), [((True, False), 1), ((False, True), -1)])
def test_a_limit_switch_cuts_its_own_way_alone(site: Site, reached: tuple[bool, bool], blocked: int) -> None:
    """A diode lets the way back pass, whichever way round the leads are."""
    limits = build_cabinet(with_changes(site, {"drives.active.sensing.limits_in_motor_lead": True}))
    for leads in ("straight", "swapped"):
        if leads == "swapped":
            limits.swap_motor_leads(0)
        limits.set_limits(0, False, False)
        assert all(limits.driven((sign, 0)).network.closed[0] for sign in (1, -1))
        limits.set_limits(0, *reached)
        way = blocked if leads == "straight" else -blocked
        assert not limits.driven((way, 0)).network.closed[0]
        assert limits.driven((-way, 0)).network.closed[0]


@pytest.mark.parametrize("signs", [(1, 0), (0, 1), (-1, 0), (0, -1), (1, 1), (-1, -1)])
def test_crossed_outputs_stay_crossed_while_limit_switches_are_open(signs: Signs) -> None:
    """Both leaves rest shut, so the switch of either motor is open and only its diode leads on: the cores lead where
    they led, and no way of driving is one that the drive model can't hold."""
    world = gate(load_site(SITES / "thimble_row.yaml"))
    world.faults.bring("drive outputs of the two leaves swapped")
    assert world.stands(fully_open=False)
    assert world.cabinet.driven(signs).stages == (1, 0)
