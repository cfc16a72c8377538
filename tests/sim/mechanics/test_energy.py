"""Energy: none is made from nothing, and none vanishes without friction."""

from __future__ import annotations

import math

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sim.kernel import layout
from sim.kernel.network import DriveNetwork
from sim.mechanics import leaf as formulas
from sim.mechanics.obstacle import Obstacle
from sim.mechanics.plant import Plant, Reason
from sim.site.models import Drive, Drives, Edge, Leaf, Leaves, Motor, Site, Weather
from sim.units import Us


def mechanical(plant: Plant, leaf: int) -> float:
    """Kinetic energy of leaf and rotor and the energy in the ram's spring [J]."""
    model, drive = plant.site.leaves.pair[leaf], plant.site.drives.pair[leaf]
    inertia = formulas.inertia(model.mass_kg, model.width_m, model.thickness_m)
    moving = 0.5 * inertia * plant.speed(leaf) ** 2 + 0.5 * drive.motor.rotor_kg_m2 * plant.motor_speed(leaf) ** 2
    return moving + 0.5 * plant.ram_force(leaf) ** 2 / drive.stiffness_n_m


def test_a_frictionless_leaf_keeps_its_energy() -> None:
    """On a leaning hinge without friction, height and speed trade: ½Jω² + T·(1 − cos θ) stays within 1 %."""
    leaf = Leaf(hinge_friction_n_m=0.0, hinge_viscous_n_m_s=0.0, hinge_tilt_deg=2.0, stop_damping_n_m_s_rad=0.0)
    plant = Plant(Site(name="Quince Lane, invented", leaves=Leaves(active=leaf, inactive=leaf)))
    plant.release(0)
    plant.place_leaf(0, 1.2)
    plant.place_leaf(1, 1.2)  # out of the strip's reach
    weight = formulas.tilt_torque(120, 2.0, math.radians(2), math.pi / 2)
    inertia = formulas.inertia(120, 2.0, 0.06)
    start = weight * (1 - math.cos(1.2))
    bounced = False
    for _ in range(3000):
        plant.run_to(Us(plant.now + 10_000))
        angle = plant.angle(0)
        held = 0.5 * leaf.stop_stiffness_n_m_rad * min(0.0, angle) ** 2
        total = 0.5 * inertia * plant.speed(0) ** 2 + weight * (1 - math.cos(angle)) + held
        assert total == pytest.approx(start, rel=0.01)
        bounced = bounced or (plant.speed(0) > 0.1)
    assert bounced, "it came back from the stop"


def test_nothing_moves_for_ever(plant: Plant, run) -> None:
    """Once the supply is gone what moves only loses energy, and everything comes to rest."""
    plant.place_leaf(1, 0.3)
    for leaf in (0, 1):
        plant.command(leaf, 0.8)
    run(plant, 4.0)
    plant.set_network(DriveNetwork(voc=(0.0, 0.0), z=((0.0, 0.0), (0.0, 0.0)), closed=(False, False)))
    before = sum(mechanical(plant, leaf) for leaf in (0, 1))
    assert before > 1.0
    for _ in range(600):
        run(plant, 0.01)
        now = sum(mechanical(plant, leaf) for leaf in (0, 1))
        assert now <= before * 1.01 + 1e-6, "1 %: forces are those before the last part of a step"
        before = now
    assert (plant.speed(0), plant.speed(1), plant.motor_speed(0), plant.motor_speed(1)) == (0.0, 0.0, 0.0, 0.0)


def test_the_supply_pays_for_everything(plant: Plant) -> None:
    """What the supply gave is more than what moves or is wound up, at every instant of a start."""
    plant.command(0, 1.0)
    given_j = 0.0
    for _ in range(4000):
        plant.run_to(Us(plant.now + 1000))
        given_j += plant.supply_v() * plant.duty(0) * plant.motor_current(0) * 0.001
        assert mechanical(plant, 0) <= given_j + 1e-9
    assert given_j > 10.0


def steps() -> st.SearchStrategy[list[tuple[str, int, float, float]]]:
    """What anyone may do to a plant, in any order."""
    kinds = st.sampled_from(
        ["command", "brake", "release", "engage", "push", "body", "clear", "edge", "net", "place"]
    )
    return st.lists(
        st.tuples(kinds, st.integers(0, 1), st.floats(-1, 1), st.floats(0.001, 3.0)), min_size=1, max_size=12
    )


def do(plant: Plant, kind: str, leaf: int, amount: float) -> None:
    """One of those."""
    size = abs(amount)
    if kind in ("command", "brake"):
        plant.command(leaf, amount, 0.2 + 30 * size, 12 * size, brake=kind == "brake")
    elif kind == "push":
        plant.push(leaf, 400 * amount)
    elif kind == "body":
        thing = Obstacle(
            "box", plant.angle(leaf) + 0.3 * amount, 0.2 + 1.8 * size, amount > 0, 5e5 * size + 1e3, 2e3 * size
        )
        plant.place_obstacle(leaf, int(3.99 * size), thing)
    elif kind == "clear":
        plant.remove_obstacle(leaf, int(3.99 * size))
    elif kind == "edge":
        plant.set_edge(leaf, Edge() if amount > 0 else None)
    elif kind == "net":
        z = ((2 * size, size), (size, 2 * size))
        alpha = (1.0, -1.0) if amount > 0 else (0.0, 0.97)
        plant.set_network(
            DriveNetwork((24.0, 27.0 * size), z, alpha, (0.01 * size, 0.0), (size, 0.0), (True, amount > -0.5))
        )
    elif kind == "place":
        plant.place_leaf(leaf, 1.6 * size, amount)
    else:
        getattr(plant, kind)(leaf)


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    steps(),
    st.floats(10, 600),
    st.floats(0.8, 4.0),
    st.floats(5_000, 2_000_000),
    st.floats(5e3, 3e6),
    st.floats(0.3, 0.95),
    st.floats(0, 25),
)
def test_whatever_is_done_the_numbers_stay_numbers(
    done: list[tuple[str, int, float, float]],
    mass: float,
    width: float,
    stop: float,
    ram: float,
    efficiency: float,
    wind: float,
) -> None:
    """No order of acts on no plausible gate makes a number that is none, a leaf behind its stops, or a runaway."""
    leaf = Leaf(mass_kg=mass, width_m=width, stop_stiffness_n_m_rad=stop)
    drive = Drive(stiffness_n_m=ram, screw_efficiency=efficiency, bracket_along_m=0.75, motor=Motor())
    site = Site.model_construct(
        **(
            dict(Site(name="Quince Lane, invented"))
            | {
                "leaves": Leaves(active=leaf, inactive=Leaf()),
                "drives": Drives(active=drive, inactive=Drive()),
                "opening_width_m": width + 2.02,
                "weather": Weather(wind_m_s=wind, wind_from_deg=40.0),
            }
        )
    )
    plant = Plant(site)
    plant.set_network(DriveNetwork((27.3, 27.3), ((0.1, 0.1), (0.1, 0.1))))
    for kind, which, amount, seconds in done:
        do(plant, kind, which, amount)
        end = Us(plant.now + round(seconds * 1e6))
        stops = 0
        while plant.run_to(end).reason is not Reason.REACHED:
            stops += 1
            assert stops < 1000, "events chatter"
        assert all(math.isfinite(value) for value in plant._state)
        for each in (0, 1):
            assert -1.0 < plant.angle(each) < 2.6
            assert abs(plant.speed(each)) < 25.0
            assert abs(plant._state[each * layout.LEAF_STATE + layout.CURRENT]) < 60.0
