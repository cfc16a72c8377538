"""How much light comes to a receiver: each law by itself, by hand, and by its closed form."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.devices.cabinet import build_cabinet
from sim.devices.optics import (
    FAINT,
    Leaves,
    Scene,
    air_share,
    bounce,
    clear,
    dazzled,
    lens_share,
    light_at,
    lobe,
    sun_over,
)
from sim.devices.sightline import Box
from sim.site import Beam, Mirror, Site, Surroundings, with_changes

PAIR = Beam()
WAY = 4.42


def margin(beam: Beam = PAIR, **scene: object) -> float:
    """Light of a pair's own emitter at its receiver."""
    return dict(light_at(Scene({"outer beam": beam}, **scene), "outer beam")).get("outer beam", 0.0)  # type: ignore[arg-type]


def aimed(**changes: float) -> Beam:
    return PAIR.model_copy(update=changes)


def test_a_pair_just_works_over_its_rated_range() -> None:
    """Aimed, clean, in clear air: a margin of 1 over the rated range, and (rated/way)² over less."""
    assert margin(aimed(receiver_x_m=14.8)) == pytest.approx(1.0)
    assert margin() == pytest.approx((15.0 / WAY) ** 2)


@given(way=st.floats(1.0, 14.0), times=st.floats(1.1, 1.4))
def test_light_thins_with_the_square_of_the_way(way: float, times: float) -> None:
    """Over n times the way, 1/n² of it comes."""
    near, far = (margin(aimed(receiver_x_m=-0.2 + each)) for each in (way, way * times))
    assert near / far == pytest.approx(times**2)


@pytest.mark.parametrize("half", [1.0, 5.0, 20.0, 45.0])
def test_a_lobe_is_half_at_its_half_width(half: float) -> None:
    """1 on the axis, ½ at the half width, nothing behind."""
    assert lobe(1.0, half) == 1.0
    assert lobe(math.cos(math.radians(half)), half) == pytest.approx(0.5)
    assert lobe(-0.5, half) == 0.0


@pytest.mark.parametrize(
    ("field", "half"), [("emitter_aim_deg", "lobe_deg"), ("receiver_aim_deg", "acceptance_deg"),
                        ("emitter_lean_deg", "lobe_deg"), ("receiver_lean_deg", "acceptance_deg")]
)  # fmt: skip
def test_turned_off_by_the_half_width_half_of_it_is_left(field: str, half: str) -> None:
    """Whichever end is turned or leans, and whichever way."""
    off = getattr(PAIR, half)
    for sign in (-1.0, 1.0):
        assert margin(aimed(**{field: sign * off})) == pytest.approx(margin() / 2.0)


def test_air_takes_light_as_beer_and_lambert_say() -> None:
    """exp(−3.912/V·way) in fog; ten decibels are a tenth; two stretches take what one of both does."""
    assert air_share(100.0, 100.0) == pytest.approx(0.02, abs=1e-5)  # Koschmieder's contrast of 2 %
    assert air_share(3.0, 50.0) * air_share(4.0, 50.0) == pytest.approx(air_share(7.0, 50.0))
    rain = air_share(1000.0, math.inf, 10.0)
    assert -10.0 * math.log10(rain) == pytest.approx(1.076 * 10.0**0.67)


def test_lenses_take_light_twice_and_rain_wets_those_without_a_cover() -> None:
    """Both ends count; rain of 5 mm/h and more takes what a wet lens takes."""
    assert margin(aimed(emitter_dirt=0.5, receiver_dirt=0.2)) == pytest.approx(0.4 * margin())
    assert lens_share(0.0, 0.6, 5.0) == pytest.approx(0.4)
    assert lens_share(0.0, 0.6, 50.0) == pytest.approx(0.4)
    assert lens_share(0.0, 0.6, 2.5) == pytest.approx(0.7)


def test_bodies_stop_light_and_foliage_some_of_it() -> None:
    """A body all of it, a thin branch its share, two branches what each leaves of the other's rest."""
    box = Box(2.0, PAIR.y_m, 0.3, 0.3, 1.0)
    assert margin(bodies=(box,)) == 0.0
    assert margin(foliage=(Leaves(box, 0.4), Leaves(replace(box, x=3.0), 0.5))) == pytest.approx(0.3 * margin())
    assert margin(foliage=(Leaves(replace(box, y=2.0), 1.0),)) == pytest.approx(margin())


def test_a_mirror_throws_light_where_angle_in_is_angle_out() -> None:
    """Half-way between two ends of one distance, and the way round is that to the image. By hand."""
    mirror = Mirror(from_x_m=0.0, from_y_m=0.3, to_x_m=4.0, to_y_m=0.3, top_m=1.0, reflectance=0.9)
    start, end = (0.0, 0.0, 0.25), (4.0, 0.0, 0.35)
    spot = bounce(mirror, start, end)
    assert spot == pytest.approx((2.0, 0.3, 0.30))
    assert math.dist(start, spot) + math.dist(spot, end) == pytest.approx(math.hypot(4.0, 0.6, 0.1), abs=1e-9)  # type: ignore[arg-type]
    assert bounce(mirror.model_copy(update={"to_x_m": 1.9}), start, end) is None
    assert bounce(mirror.model_copy(update={"top_m": 0.29}), start, end) is None
    assert bounce(mirror, start, (4.0, 0.6, 0.3)) is None


def test_bright_metal_leads_light_round_a_body() -> None:
    """The body stops the straight way and not the one by the mirror; painted dull, hardly any comes."""
    body = Box(2.01, PAIR.y_m, 0.3, 0.2, 1.0)
    mirror = Mirror(from_x_m=1.0, from_y_m=-0.45, to_x_m=3.0, to_y_m=-0.45, reflectance=0.9)
    assert margin(mirrors=(mirror,), bodies=(body,)) > 1.0
    assert margin(mirrors=(mirror.model_copy(update={"reflectance": 0.02}),), bodies=(body,)) < 0.2
    assert margin(mirrors=(mirror,), bodies=(body, replace(body, y=-0.4))) == 0.0


def test_pairs_of_one_channel_see_each_other_by_geometry() -> None:
    """A second emitter nearly in line reaches the first receiver; on another channel, or far off its axis, not."""
    near = PAIR.model_copy(update={"y_m": -0.15, "height_m": 0.7})
    scene = Scene({"outer beam": PAIR, "inner beam": near})
    assert [name for name, _ in light_at(scene, "outer beam")] == ["outer beam", "inner beam"]
    other = near.model_copy(update={"channel": 2})
    assert [
        name for name, _ in light_at(replace(scene, beams={"outer beam": PAIR, "inner beam": other}), "outer beam")
    ] == ["outer beam"]
    far = near.model_copy(update={"y_m": 2.3})
    assert [
        name for name, _ in light_at(replace(scene, beams={"outer beam": PAIR, "inner beam": far}), "outer beam")
    ] == ["outer beam"]
    back = near.model_copy(update={"emitter_x_m": 4.22, "receiver_x_m": -0.2})  # the cure: emitters on opposite sides
    assert [
        name for name, _ in light_at(replace(scene, beams={"outer beam": PAIR, "inner beam": back}), "outer beam")
    ] == ["outer beam"]


def test_the_sun_dazzles_only_within_hood_and_field() -> None:
    """Straight in the lens it adds its whole; outside the hood, or behind, nothing; a hood takes it away."""
    into = (-1.0, 0.0, 0.0)
    scene = Scene({"outer beam": PAIR}, sun=into, sunlight=0.5)
    assert dazzled(scene, PAIR) == pytest.approx(1.0 + 0.5 * PAIR.dazzle)
    assert dazzled(replace(scene, sun=(1.0, 0.0, 0.0)), PAIR) == 1.0
    off = (-math.cos(0.2), math.sin(0.2), 0.0)
    assert dazzled(replace(scene, sun=off), PAIR) > 1.0
    assert dazzled(replace(scene, sun=off), aimed(hood_deg=10.0)) == 1.0
    assert margin(sun=into, sunlight=0.5) < FAINT + margin() / (0.5 * PAIR.dazzle)


def test_the_sun_comes_from_where_the_bearing_says() -> None:
    """At noon it stands in the south: behind the gate's outside when x points east, along x when x points south."""
    east, _ = sun_over(Surroundings(x_bearing_deg=90.0), 12.03)
    assert (east[0], east[1] < 0.0) == (pytest.approx(0.0, abs=0.02), True)
    south, _ = sun_over(Surroundings(x_bearing_deg=180.0), 12.03)
    assert (south[0] > 0.4, south[1]) == (True, pytest.approx(0.0, abs=0.02))
    assert math.hypot(*east) == pytest.approx(1.0)


def test_the_contact_follows_the_light_with_hysteresis() -> None:
    """Closed by 1 and more, it opens below 0.8 and not before; between the two it stays as it is."""
    cabinet = build_cabinet(Site(name="Larch Bank, invented"))

    def closed_at(light: float) -> bool:
        cabinet.set_beam_light("outer beam", (("outer beam", light),))
        return cabinet.volts("outer beam, contact", "outer beam, common") < 1.0  # type: ignore[operator]

    assert [closed_at(light) for light in (1.0, 0.9, 0.81, 0.79, 0.9, 0.99, 1.0)] == [
        True, True, True, False, False, False, True
    ]  # fmt: skip


def test_only_emitters_that_are_fed_shine() -> None:
    """With the switched supply dropped a receiver sees nothing, and has a margin of 0; without feed it has none."""
    cabinet = build_cabinet(Site(name="Larch Bank, invented"))
    assert cabinet.beam_margin("outer beam") == pytest.approx(margin(visibility_m=20_000.0))
    cabinet.set_emitters(False)
    assert cabinet.beam_margin("outer beam") == 0.0
    assert cabinet.beam_margin("inner beam") is None
    cabinet.isolate()
    cabinet.unplug("outer beam")
    if cabinet.battery_linked:
        cabinet.remove_battery_link()
    cabinet.settle()
    assert cabinet.beam_margin("outer beam") is None


@pytest.mark.parametrize("changes", [{}, {"guards.outer_beam.receiver_aim_deg": 20.0}])
def test_a_cabinet_starts_with_the_light_of_its_site(changes: dict[str, float]) -> None:
    """A beam that looks past its emitter reads open from the start."""
    site = with_changes(Site(name="Larch Bank, invented"), changes) if changes else Site(name="Larch Bank, invented")
    read = build_cabinet(site).volts("outer beam, contact", "outer beam, common")
    assert (read > 20.0) is bool(changes)  # type: ignore[operator]
    assert bool(light_at(clear(site), "outer beam")[0][1] >= 1.0) is not bool(changes)
