"""The plant answers its commands the way a gate does."""

from __future__ import annotations

import math

import pytest

from sim.kernel import layout
from sim.kernel.network import DriveNetwork
from sim.mechanics.plant import Plant, Reason
from sim.site.models import Drive, Drives, Leaf, Leaves, Motor, Site, Weather
from sim.units import Us


def test_stands_shut_and_dead_until_it_has_a_supply(site: Site, run) -> None:
    """Without a network nothing moves, whatever is commanded, and the board reads no volts."""
    plant = Plant(site)
    plant.command(0, 1.0)
    assert run(plant, 5.0) == []
    assert (plant.angle(0), plant.motor_current(0), plant.supply_v(), plant.counts(0)) == (0.0, 0.0, 0.0, 0)
    assert plant.now == 5_000_000


def test_positive_duty_opens_and_negative_closes(plant: Plant, run) -> None:
    """Duty +1 opens to the open stop within the 12 to 25 s of practice (facts 6.6); −1 shuts again."""
    plant.command(0, 1.0)
    run(plant, 25.0)
    assert plant.touching(0) == "open stop"
    assert math.degrees(plant.angle(0)) == pytest.approx(92.0, abs=1.5)
    plant.command(0, -1.0)
    run(plant, 25.0)
    assert plant.touching(0) == "closed stop"
    assert math.degrees(plant.angle(0)) == pytest.approx(0.0, abs=1.5)
    assert plant.counts(1) == 0
    assert abs(plant.angle(1)) < 0.01, "the strip presses it a little further shut, no more"


def test_counts_follow_the_ram(plant: Plant, run) -> None:
    """Four pulses a turn, 20 turns of the motor to one of the screw, 5 mm a turn: 16 000 pulses a metre of ram."""
    plant.command(0, 0.5)
    run(plant, 8.0)
    plant.command(0, 0.0, brake=True)
    run(plant, 1.0)
    rear, front = plant.ram_ends(0)
    spring = plant.ram_force(0) / plant.site.drives.active.stiffness_n_m
    travel = 1.0049875621 - math.dist(rear, front) + spring
    assert plant.counts(0) == pytest.approx(16_000 * travel, abs=1.0)


def test_swapped_leads_turn_the_leaf_the_other_way(plant: Plant, net: DriveNetwork, run) -> None:
    """With its leads exchanged an open leaf closes on +1; the board's own current and counts look healthy."""
    plant.place_leaf(0, 1.0)
    plant.set_network(DriveNetwork(net.voc, net.z, (-1.0, 1.0), net.g, net.rth, net.closed))
    plant.command(0, 0.5)
    run(plant, 2.0)
    assert plant.angle(0) < 0.95
    assert plant.motor_current(0) < 0.0
    assert plant.board_current(0) == -plant.motor_current(0)
    assert plant.counts(0) > 100


def test_an_open_cable_moves_nothing(plant: Plant, net: DriveNetwork, run) -> None:
    """A motor whose loop is open draws no current and stands, and its neighbour doesn't mind."""
    plant.set_network(DriveNetwork(net.voc, net.z, net.alpha, net.g, net.rth, (False, True)))
    for leaf in (0, 1):
        plant.place_leaf(leaf, 0.5)
        plant.command(leaf, 0.5)
    run(plant, 2.0)
    assert (plant.angle(0), plant.motor_current(0), plant.counts(0)) == (0.5, 0.0, 0)
    assert plant.angle(1) > 0.55


def test_the_current_limit_holds(plant: Plant, run) -> None:
    """Stalled at its stop a motor takes the limit of its power stage and not an ampere more."""
    plant.place_leaf(0, 1.60)
    plant.command(0, 1.0, slew_per_s=0.05, limit_a=5.0)
    run(plant, 25.0)
    assert plant.motor_current(0) == 5.0
    assert plant.motor_speed(0) == 0.0
    drag = plant.site.drives.active.drag_n_m
    thrust = ((5.0 - 0.7) * 0.05 - drag) * 0.2975 / (0.005 / (40 * math.pi))
    assert plant.ram_force(0) == pytest.approx(thrust, rel=0.02)


def test_stall_without_limit_is_ohms_law(plant: Plant, net: DriveNetwork, run) -> None:
    """Stall current is U/ΣR: 27.3 V over 1.2 + 0.665 + 0.12 Ω (facts C51's arithmetic, this net's numbers), the
    winding as warm as it is by then: copper, 0.00393 per kelvin from 20 °C."""
    plant.place_leaf(0, 1.60)
    plant.command(0, 1.0, limit_a=99.0)
    run(plant, 20.5)
    winding = 1.2 * (1.0 + 0.00393 * (plant.winding_c(0) - 20.0))
    assert plant.motor_current(0) == pytest.approx(27.3 / (winding + 0.665 + 0.12), rel=1e-9)
    assert plant.supply_v() == pytest.approx(27.3 * (winding + 0.665) / (winding + 0.665 + 0.12), rel=1e-9)


def test_one_leaf_starting_slows_the_other(plant: Plant, net: DriveNetwork, run) -> None:
    """Two motors share the source: with a weak one the running leaf slows when its neighbour starts."""
    weak = DriveNetwork(net.voc, ((1.5, 1.5), (1.5, 1.5)), net.alpha, net.g, net.rth, net.closed)
    plant.set_network(weak)
    plant.place_leaf(0, 0.8)
    plant.place_leaf(1, 0.8)
    plant.command(0, 0.6)
    run(plant, 3.0)
    alone, volts = plant.motor_speed(0), plant.supply_v()
    plant.command(1, 0.6, slew_per_s=50.0)
    run(plant, 0.05)
    assert plant.supply_v() < volts - 1.0
    assert plant.motor_speed(0) < 0.99 * alone


def test_duty_slews_and_brake_drops_it(plant: Plant, run) -> None:
    """A bridge moves its duty at the slew it was given; braking drops it at once and stops the motor sooner."""
    plant.command(0, 1.0, slew_per_s=0.5)
    run(plant, 1.0)
    assert plant.duty(0) == pytest.approx(0.5, abs=1e-9)
    plant.command(0, 0.0, slew_per_s=0.5, brake=True)
    run(plant, 0.001)
    assert plant.duty(0) == 0.0
    run(plant, 0.1)
    assert plant.motor_speed(0) == 0.0


def test_a_released_leaf_leaves_its_motor_alone(plant: Plant, run) -> None:
    """Released, the motor turns and counts while the leaf stands; re-engaged, the ram is slack where the leaf is."""
    plant.place_leaf(0, 0.7)
    plant.release(0)
    assert not plant.engaged(0)
    plant.command(0, 0.5)
    run(plant, 3.0)
    assert plant.counts(0) > 300
    assert plant.angle(0) == 0.7
    plant.command(0, 0.0, brake=True)
    run(plant, 1.0)
    plant.engage(0)
    run(plant, 0.5)
    assert plant.engaged(0)
    assert abs(plant.ram_force(0)) < 1e-6
    assert plant.angle(0) == pytest.approx(0.7, abs=1e-12)


def test_a_hand_moves_a_released_leaf_and_not_an_engaged_one(plant: Plant, run) -> None:
    """40 N at the tip swings a healthy released leaf (facts 6.3); engaged, the self-locking screw holds it."""
    plant.place_leaf(0, 0.5)
    plant.place_leaf(1, 0.5)
    plant.release(0)
    for leaf in (0, 1):
        plant.push(leaf, 40.0)
    run(plant, 2.0)
    assert plant.angle(0) > 0.9
    assert plant.angle(1) == pytest.approx(0.5, abs=0.02)
    assert plant.motor_speed(1) == 0.0


def test_a_screw_of_good_efficiency_can_be_turned_back(net: DriveNetwork, run) -> None:
    """Self-locking is not a switch: with 0.9 × 0.9 the same push turns the motor back (facts 5.3, screw law)."""
    drive = Drive(gear_efficiency=0.9, screw_efficiency=0.9, screw_lead_m=0.02, motor=Motor(no_load_a=0.05))
    plant = Plant(Site(name="Quince Lane, invented", drives=Drives(active=drive, inactive=drive)))
    plant.place_leaf(0, 0.5)
    plant.push(0, 200.0)
    run(plant, 2.0)
    assert plant.counts(0) > 10
    assert plant.angle(0) > 0.55


def test_the_ram_ends_where_its_stroke_ends(net: DriveNetwork, run) -> None:
    """A ram that is run in to its end moves the leaf no further, stop or no stop."""
    short = Drive(retracted_m=0.70)
    leaf = Leaf(open_stop_deg=90.0)
    site = Site(
        name="Quince Lane, invented",
        leaves=Leaves(active=leaf, inactive=leaf),
        drives=Drives(active=short, inactive=short),
    )
    plant = Plant(site)
    plant.set_network(net)
    undo = plant.change(0, layout.OPEN_STOP, 3.0)
    plant.command(0, 1.0)
    run(plant, 30.0)
    assert math.dist(*plant.ram_ends(0)) == pytest.approx(0.70, abs=0.002)
    assert plant.motor_speed(0) == 0.0
    undo()
    assert plant.keyframe() != b""


def test_wind_pushes_towards_where_it_blows(site: Site, run) -> None:
    """Wind from inside pushes released leaves shut, from outside open; a wind along the shut leaf does nothing."""
    for bearing, way in ((0.0, -1.0), (180.0, 1.0)):
        plant = Plant(site)
        plant.set_wind(Weather(wind_m_s=9.0, wind_from_deg=bearing))
        for leaf in (0, 1):
            plant.release(leaf)
            plant.place_leaf(leaf, 0.4)
        run(plant, 1.0)
        for leaf in (0, 1):
            assert way * (plant.angle(leaf) - 0.4) > 0.05
    plant = Plant(site)
    plant.set_wind(Weather(wind_m_s=9.0, wind_from_deg=270.0))
    plant.release(0)
    plant.release(1)
    run(plant, 5.0)
    assert (plant.angle(0), plant.angle(1)) == (0.0, 0.0)


def test_a_leaning_hinge_swings_its_leaf_shut(run) -> None:
    """A positive lean lets a released leaf fall shut; the other leaf, upright, stays."""
    leaves = Leaves(active=Leaf(hinge_tilt_deg=2.0), inactive=Leaf())
    plant = Plant(Site(name="Quince Lane, invented", leaves=leaves))
    for leaf in (0, 1):
        plant.release(leaf)
        plant.place_leaf(leaf, 1.0)
    run(plant, 20.0)
    assert plant.touching(0) == "closed stop" or plant.angle(0) < 0.15
    assert plant.angle(1) == 1.0


def test_ram_ends_of_the_inactive_leaf_are_mirrored(plant: Plant) -> None:
    """On the plan the inactive leaf's drive is the active one's mirror image about the middle of the opening."""
    (rear, front), (mirrored_rear, mirrored_front) = plant.ram_ends(0), plant.ram_ends(1)
    width = plant.site.opening_width_m
    assert mirrored_rear == (width - rear[0], rear[1])
    assert mirrored_front == (width - front[0], front[1])


def test_time_runs_forward_only(plant: Plant) -> None:
    """A plant asked for the past refuses and says both times; off the grid it stands at the last millisecond."""
    assert plant.run_to(Us(1_500)).reason is Reason.REACHED
    assert plant.now == 1_500
    with pytest.raises(ValueError, match="1500 µs and can't run back to 1000 µs"):
        plant.run_to(Us(1_000))


@pytest.mark.parametrize("bad", [{"duty": math.nan}, {"duty": 1.0, "limit_a": math.inf}])
def test_a_bridge_takes_only_numbers(plant: Plant, bad: dict[str, float]) -> None:
    """A command that is no number is refused before it can spoil the state."""
    with pytest.raises(ValueError, match="a bridge can't do"):
        plant.command(0, **bad)


def test_a_drive_too_stiff_to_step_is_refused() -> None:
    """A rotor as light as dust behind an iron ram can't be stepped honestly: it is refused with the numbers."""
    from sim.errors import DataError

    drive = Drive(stiffness_n_m=2e7, screw_lead_m=0.05, gear_ratio=1.0, motor=Motor(rotor_kg_m2=1e-7))
    with pytest.raises(DataError, match=r"drives\.active: a train of 2e\+07 N/m"):
        Plant(Site(name="Quince Lane, invented", drives=Drives(active=drive, inactive=Drive())))
