"""Any site inside the allowed ranges: refused in words, or it runs sanely; never a number that is none.

Sites are drawn from the limits that the fields themselves state, so that a new field is tried the day it is added.
"""

from __future__ import annotations

import math
import random
import types
from collections.abc import Iterator
from typing import Any, Final, Literal, Union, get_args, get_origin

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, event, given, settings
from hypothesis import strategies as st
from pydantic import BaseModel, ValidationError

from sim.errors import DataError
from sim.kernel import compiler, layout
from sim.kernel.network import DriveNetwork
from sim.mechanics import hanging
from sim.mechanics.constants import MOST_PARTS, constants_of
from sim.mechanics.plant import Plant, Reason
from sim.site.drives import ArticulatedArm, Drive, HydraulicRam, Underground
from sim.site.models import CoverStrip, Edge, InductionMotor, Leaf, Motor, Site, Weather
from sim.units import Us

NET: Final = DriveNetwork((27.3, 27.3), ((0.12, 0.12), (0.12, 0.12)), rth=(0.665, 0.665), mains=(230.0, 230.0))

KINDS: Final = (Drive, HydraulicRam, ArticulatedArm, Underground)
MOTORS: Final = (Motor, InductionMotor)

Place = tuple[str, ...]


def ordinary(examples: int) -> Any:
    """Drawn the same every time, however many have to be thrown away."""
    filtered = [HealthCheck.filter_too_much, HealthCheck.too_slow]
    return settings(max_examples=examples, deadline=None, derandomize=True, suppress_health_check=filtered)


# -- a site from the fields' own limits ---------------------------------------------------------------------------


def limited(annotation: Any, least: float, most: float) -> st.SearchStrategy[Any]:
    """A number of a field's range; its ends more often than chance would have them."""
    ends = st.sampled_from((least, most))
    if annotation is int:
        return st.one_of(st.integers(int(least), int(most)), ends.map(int))
    return st.one_of(st.floats(least, most), ends.map(float))


def fields_of(model: type[BaseModel], below: Place = ()) -> Iterator[tuple[Place, st.SearchStrategy[Any]]]:
    """Every field of a model and of its parts, with what it may be; names, kinds and formats apart."""
    for name, field in model.model_fields.items():
        options = [field.annotation]
        if get_origin(field.annotation) in (Union, types.UnionType):
            options = list(get_args(field.annotation))
        least = next((item.ge for item in field.metadata if hasattr(item, "ge")), None)
        most = next((item.le for item in field.metadata if hasattr(item, "le")), None)
        inner = next((each for each in options if isinstance(each, type) and issubclass(each, BaseModel)), None)
        words = [value for each in options if get_origin(each) is Literal for value in get_args(each)]
        if name in ("kind", "format", "name", "motor"):
            continue
        if least is not None and most is not None:
            yield (*below, name), limited(options[0], least, most)
        elif bool in options:
            yield (*below, name), st.booleans()
        elif words:
            yield (*below, name), st.sampled_from([*words, *([None] if type(None) in options else [])])
        elif inner is not None and type(None) in options:
            yield (*below, name), whole_part(inner)
        elif inner is not None:
            yield from fields_of(inner, (*below, name))
        elif get_origin(field.annotation) is tuple:
            yield (*below, name), st.lists(whole_part(get_args(field.annotation)[0]), max_size=2)


def whole_part(model: type[BaseModel]) -> st.SearchStrategy[dict[str, Any]]:
    """A part with every field drawn."""
    drawn = {place[0]: values for place, values in fields_of(model)}
    named = {"name": st.just("thing")} if "name" in model.model_fields else {}
    return st.fixed_dictionaries(drawn | named)


FIELDS: Final = {model: dict(fields_of(model)) for model in (*KINDS, *MOTORS, Leaf, Weather, CoverStrip, Edge)}


def some(draw: st.DrawFn, model: type[BaseModel], most: int) -> dict[str, Any]:
    """A few fields of a model changed, the others left out."""
    changed: dict[str, Any] = {}
    fields = FIELDS[model]
    for place in draw(st.lists(st.sampled_from(sorted(fields)), max_size=most, unique=True)):
        part = changed
        for step in place[:-1]:
            part = part.setdefault(step, {})
        part[place[-1]] = draw(fields[place])
    return changed


@st.composite
def sites(draw: st.DrawFn) -> Site:
    """A site with up to two dozen numbers of its own, anywhere in their ranges."""
    kind, motor = draw(st.sampled_from(KINDS)), draw(st.sampled_from(MOTORS))
    leaf = some(draw, Leaf, 6)
    drive = some(draw, kind, 4) | {"kind": kind.model_fields["kind"].default}
    drive["motor"] = some(draw, motor, 4) | {"kind": motor.model_fields["kind"].default}
    outside = draw(st.booleans())
    if outside and kind in (Drive, HydraulicRam):
        drive = {"post_across_m": 0.02, "post_inside_m": 0.3, "retracted_m": 0.82} | drive
        leaf = {"open_stop_deg": 62.0} | leaf
    if outside and kind is ArticulatedArm:
        drive = {"crank_m": 0.35, "link_m": 0.55} | drive
    other = draw(st.sampled_from(("like", "usual")))
    width = leaf.get("width_m", 2.0)
    second = (leaf, drive) if other == "like" else ({"width_m": 2.0}, {"kind": "underground"})
    edge = draw(st.sampled_from(("not fitted", "fitted")))
    data = {
        "name": "Any yard, invented",
        "opens_towards": "outside" if outside else "inside",
        "opening_width_m": width + second[0].get("width_m", 2.0) + 0.02,
        "leaves": {"active": leaf, "inactive": second[0]},
        "drives": {"active": drive, "inactive": second[1]},
        "cover_strip": some(draw, CoverStrip, 2),
        "weather": some(draw, Weather, 5),
        "guards": {"outer_beam": "not fitted", "active_edge": some(draw, Edge, 2) if edge == "fitted" else edge},
    }
    try:
        return Site(**data)
    except ValidationError:
        assume(False)
        raise


# -- runs -----------------------------------------------------------------------------------------------------------


def run(plant: Plant, until: int) -> None:
    """Run to a time [µs] through every stop on the way."""
    stops = 0
    while plant.run_to(Us(until)).reason is not Reason.REACHED:
        stops += 1
        assert stops < 500, "stops without end"


def commands(plant: Plant, second: int) -> None:
    """What is asked of a gate at each of five seconds: both ways, hard and soft, brake, release, shear and mend."""
    for leaf in (0, 1):
        duty = ((1.0, 0.6), (-1.0, 1.0), (0.3, -0.7), (-0.5, 0.0), (1.0, -1.0))[second][leaf]
        plant.command(leaf, duty, (2.0, 50.0)[second % 2], (8.0, 40.0)[leaf], brake=duty == 0.0)
    act = {1: lambda: plant.release(1), 2: lambda: plant.shear(0), 3: lambda: plant.mend(0)}.get(second)
    if act:
        act()
    if second == 4:
        plant.engage(1)
        plant.set_temperature(-25.0)


def outlined(site: Site) -> Plant | None:
    """A plant of a site, or None where the drive is refused as too stiff to step, in words."""
    try:
        plant = Plant(site, 11)
    except DataError as refused:
        if "times a second; allowed:" not in str(refused):
            raise
        event("too stiff")
        return None
    parts = constants_of(site)[[layout.FREE_PARTS, layout.CONTACT_PARTS]]
    assert (parts >= 1.0).all()
    assert (parts <= MOST_PARTS).all()
    plant.set_network(NET)
    return plant


def pushes(site: Site, leaf: int) -> float:
    """What wind at its worst, lean and rise can turn a leaf with [N·m]: six deviations of gusts on the whole leaf."""
    model, weather = site.leaves.pair[leaf], site.weather
    gusty = hanging.mean_wind(weather) * (1.0 + 6.0 * weather.gust_intensity)
    weight = 9.81 * (model.mass_kg * 3.5 + sum(f.mass_kg * f.along_m for f in model.fittings))
    mass = hanging.whole_mass(model)
    return hanging.wind_factor(model) * gusty**2 + weight * 0.0872 + mass * 9.81 * 0.2 / (math.pi / 2)


def power(site: Site, leaf: int) -> float:
    """What a motor's field can do at most [W]: all that a source of 27.3 V can give, or pull-out torque at twice its
    synchronous speed on 230 V."""
    motor = site.drives.pair[leaf].motor
    if isinstance(motor, Motor):
        return 27.3**2 / (4.0 * 0.12)
    return motor.pull_out_n_m * 2.0 * motor.synchronous_rad_s * (230.0 / motor.rated_v) ** 2


@pytest.mark.slow
@ordinary(400)
@given(sites())
def test_any_site_runs_sanely(site: Site) -> None:
    """Five seconds of hard commands on any site that may stand: every number finite, no more energy in leaf and rotor
    than wind, weight and motors could have given, and no leaf further past its stops than that energy and those
    torques press against their stiffness."""
    plant = outlined(site)
    if plant is None:
        return
    gone, given_j, speed = [0.0, 0.0], [0.0, 0.0], [0.0, 0.0]
    inertia = [hanging.inertia(model) for model in site.leaves.pair]
    for step in range(250):
        if step % 50 == 0:
            commands(plant, step // 50)
        before = plant.angle(0), plant.angle(1)
        run(plant, (step + 1) * 20_000)
        assert np.isfinite(np.frombuffer(plant.physical().partition(b"\n")[2], dtype=np.float64)).all()
        for leaf in (0, 1):
            if step == 0:
                given_j[leaf] = plant.ground_force(leaf) ** 2 / 2e5
            speed[leaf] = max(speed[leaf], abs(plant.speed(leaf)))
            gone[leaf] += abs(plant.angle(leaf) - before[leaf]) + 0.02 * abs(plant.speed(leaf))
    for leaf in (0, 1):
        model, rotor = site.leaves.pair[leaf], site.drives.pair[leaf].motor.rotor_kg_m2
        energy = given_j[leaf] + pushes(site, leaf) * gone[leaf] + 5.0 * power(site, leaf) + 1.0
        assert 0.5 * inertia[leaf] * speed[leaf] ** 2 <= energy
        assert 0.5 * rotor * plant.motor_speed(leaf) ** 2 <= energy
        stiffness, most = model.stop_stiffness_n_m_rad, pushes(site, leaf)
        deep = (most + math.sqrt(most**2 + 2.0 * stiffness * energy)) / stiffness
        assert -0.5 - deep <= plant.angle(leaf) <= 2.3 + deep


@ordinary(60)
@given(sites(), st.integers(0, 2**32))
def test_any_site_is_the_same_however_it_is_cut(site: Site, seed: int) -> None:
    """To the bit: in one go, again, and in odd slices."""
    length, frames = random.Random(seed), []
    for slices in (10**9, 10**9, 0):
        plant = outlined(site)
        if plant is None:
            return
        for second in range(5):
            commands(plant, second)
            while plant.now < (second + 1) * 1_000_000:
                span = slices or length.randint(1, 90_000)
                plant.run_to(Us(min((second + 1) * 1_000_000, plant.now + span)))
        frames.append(plant.keyframe())
    assert frames[0] == frames[1] == frames[2]


@ordinary(12)
@given(sites())
def test_any_site_is_the_same_compiled_or_not(site: Site) -> None:
    """To the bit, in both forms of the kernel."""
    if not compiler.load():
        pytest.skip("no compiler here: it isn't installed, or it is switched off")
    frames = []
    for form in (compiler.forms(), compiler.INTERPRETED):
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(compiler, "_forms", form)
            plant = outlined(site)
            if plant is None:
                return
            for second in range(3):
                commands(plant, second)
                run(plant, (second + 1) * 1_000_000)
            frames.append(plant.keyframe())
    assert frames[0] == frames[1]


# -- sites that can't work ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"weather": {"wind_m_s": 22.0, "wind_from_deg": 0.0}, "leaves": {"active": {"solidity": 1.0}}}, "wind"),
        ({"leaves": {"active": {"hinge_tilt_deg": 5.0, "hinge_tilt_towards_deg": -60.0, "mass_kg": 900.0}}}, "slope"),
        ({"leaves": {"active": {"hinge_rise_m": 0.2, "mass_kg": 1200.0}}}, "rising hinges"),
        ({"leaves": {"active": {"hinge_friction_n_m": 400.0}}}, "a seized hinge"),
    ],
    ids=["wind", "slope", "rise", "hinge"],
)
def test_a_motor_too_weak_shows_why_it_stands(change: dict[str, Any], why: str) -> None:
    """Accepted, run, and seen for what it is: the leaf does not open, the motor stands at its current limit."""
    site = Site(name="Quince Lane, invented", drives={"active": {"slip_n": None}}, **change)
    plant = Plant(site)
    plant.set_network(NET)
    plant.place_leaf(1, 1.2)
    plant.place_leaf(0, 0.3)
    plant.command(0, 1.0, limit_a=3.0)
    run(plant, 10_000_000)
    assert plant.angle(0) < 0.35, why
    assert plant.motor_speed(0) == 0.0
    assert plant.motor_current(0) == pytest.approx(3.0, abs=1e-6)
