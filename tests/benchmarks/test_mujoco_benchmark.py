"""The compiled kernel against MuJoCo on the same two leaves at the same step of 1 ms, in one run; ratios are judged.

MuJoCo steps on its own C side, in one thread. Its usual solver is what is compared with; its fastest for this case is
shown beside. It has hinges, limits, dry and viscous friction, a torque, and a gauge out of reach; it has no motor, no
gear, no wiring, no wind, no strip, no record.
"""

from __future__ import annotations

import statistics
from collections.abc import Callable, Mapping

import mujoco
import pytest

from sim.kernel import compiler
from sim.kernel.network import DriveNetwork
from sim.mechanics.obstacle import force_gauge
from sim.mechanics.plant import Plant, Reason
from sim.site.models import Leaf, Leaves, Site, Weather
from sim.units import Us

pytestmark = pytest.mark.benchmark

AIM_BARE, AIM_FULL = 200.0, 30.0
"""What is aimed at, in times MuJoCo's speed: leaves alone, and everything."""

BAR_BARE, BAR_FULL = AIM_BARE / 2, AIM_FULL / 2
"""What a run must reach: half, since machines differ."""

SECONDS = 4
"""Of one swing; it begins at 0.3 rad and ends well before the open stop."""

FRICTION, VISCOUS, TORQUE = 5.0, 8.0, 10.0

LEAVES = """
<mujoco>
  <compiler angle="radian"/>
  <option timestep="0.001" gravity="0 0 -9.81" integrator="implicitfast" solver="{solver}" jacobian="dense"/>
  <default>
    <default class="leaf">
      <joint type="hinge" range="0 1.6057" limited="true" frictionloss="{friction}" damping="{viscous}"/>
      <geom type="box" size="1 0.03 0.9" mass="120" contype="1" conaffinity="2"/>
    </default>
  </default>
  <worldbody>
    <body pos="0 0 0.9" childclass="leaf"><joint name="active" axis="0 0 1"/><geom pos="1 0 0"/></body>
    <body pos="4.02 0 0.9" childclass="leaf"><joint name="inactive" axis="0 0 -1"/><geom pos="-1 0 0"/></body>
    <body pos="1.9 -1 0.9">
      <joint type="slide" axis="0 -1 0" stiffness="500000" damping="2000"/>
      <geom type="sphere" size="0.05" mass="2" contype="2" conaffinity="1"/>
    </body>
  </worldbody>
  <actuator><motor joint="active"/><motor joint="inactive"/></actuator>
</mujoco>
"""

InTurn = Callable[[Mapping[str, Callable[[], float]], int], dict[str, list[float]]]
Ratio = Callable[[list[float], list[float]], float]


@pytest.fixture(scope="module", autouse=True)
def _compiled() -> None:
    if not compiler.load():
        pytest.skip("no compiler here: it isn't installed, or it is switched off")


def engine(solver: str) -> Callable[[], float]:
    """Both leaves pushed open by MuJoCo, from 0.3 rad; returns the simulated seconds."""
    model = mujoco.MjModel.from_xml_string(LEAVES.format(solver=solver, friction=FRICTION, viscous=VISCOUS))
    data = mujoco.MjData(model)

    def swing() -> float:
        mujoco.mj_resetData(model, data)
        data.qpos[:2] = 0.3
        data.ctrl[:] = TORQUE
        mujoco.mj_step(model, data, SECONDS * 1000)
        assert 0.45 < data.qpos[0] < 0.7
        return float(SECONDS)

    return swing


def bare() -> Callable[[], float]:
    """The same swing by the plant: leaves let go by their drives, a hand at each, the gauge out of reach."""
    leaf = Leaf(hinge_friction_n_m=FRICTION, hinge_viscous_n_m_s=VISCOUS)
    weather = Weather(temperature_c=20.0)
    plant = Plant(Site(name="Quince Lane, invented", leaves=Leaves(active=leaf, inactive=leaf), weather=weather))
    plant.place_leaf(0, 0.3)
    plant.place_obstacle(0, 0, force_gauge(0.01, 1.9))
    for each in (0, 1):
        plant.release(each)
        plant.push(each, TORQUE / leaf.width_m)

    def swing() -> float:
        for _ in range(10):  # several, for one is over in no time
            for each in (0, 1):
                plant.place_leaf(each, 0.3)
            assert plant.run_to(Us(plant.now + SECONDS * 1_000_000)).reason is Reason.REACHED
            assert 0.45 < plant.angle(0) < 0.7
        return 10.0 * SECONDS

    return swing


def full() -> Callable[[], float]:
    """Both leaves driven open and shut again, in gusts, on the network they share, warming up, recorded."""
    weather = Weather(wind_m_s=6.0, wind_from_deg=200.0, gust_intensity=0.25)
    site = Site(name="Quince Lane, invented", weather=weather)
    net = DriveNetwork((27.3, 27.3), ((0.12, 0.12), (0.12, 0.12)), rth=(0.665, 0.665))

    def cycles() -> float:
        plant = Plant(site)
        plant.set_network(net)
        plant.record()
        for duty in (0.5, -0.5) * 6:
            for each in (0, 1):
                plant.command(each, duty)
            assert plant.run_to(Us(plant.now + 20_000_000)).reason is Reason.REACHED
            assert abs(plant.motor_speed(0)) > 50.0, "still on its way"
        return 240.0

    return cycles


@pytest.fixture(scope="module")
def rates(in_turn: InTurn) -> dict[str, list[float]]:
    """Simulated seconds per second of every case, round for round."""
    engines = {solver: engine(solver) for solver in ("Newton", "CG", "PGS")}
    found = in_turn({**engines, "leaves alone": bare(), "everything": full()}, 9)
    print()
    for name, values in found.items():
        print(f"{name}: {statistics.median(values):.0f} simulated seconds per second")
    found["usual"] = found["Newton"]
    found["fastest"] = max((found[solver] for solver in engines), key=statistics.median)
    return found


def test_everything(rates: dict[str, list[float]], ratio: Ratio) -> None:
    """The full model is 30 times as fast as MuJoCo on bare leaves; half is the bar."""
    times, at_best = (ratio(rates["everything"], rates[which]) for which in ("usual", "fastest"))
    print(f"everything: {times:.1f} times MuJoCo (aim {AIM_FULL:g}, bar {BAR_FULL:g}); its fastest: {at_best:.1f}")
    assert times >= BAR_FULL


def test_leaves_alone(rates: dict[str, list[float]], ratio: Ratio) -> None:
    """On the same mechanism, leaves alone, the kernel is 200 times as fast as MuJoCo; half is the bar."""
    times, at_best = (ratio(rates["leaves alone"], rates[which]) for which in ("usual", "fastest"))
    print(f"leaves alone: {times:.1f} times MuJoCo (aim {AIM_BARE:g}, bar {BAR_BARE:g}); its fastest: {at_best:.1f}")
    assert times >= BAR_BARE
