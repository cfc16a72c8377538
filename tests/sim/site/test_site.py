"""A site: what follows from it, what it refuses to be, and that nothing is lost on the way out and in again."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from sim.errors import ScenarioError
from sim.site import GUARD_NAMES, Drive, Site, dump_site, restore_site, site_digest, site_schema, with_changes
from sim.site.plausible import ram_length_and_lever

Refusals = Callable[[str], list[str]]


@pytest.fixture
def yard() -> Site:
    return Site(name="Test yard")


# the ram of the worked example; facts C30 and C32
@pytest.mark.parametrize(
    ("angle_deg", "length_mm", "lever_mm"),
    [(0, 1004.99, 134.3), (30, 918.07, 192.7), (45, 865.32, 208.4), (60, 810.05, 211.6), (90, 707.11, 169.7)],
)
def test_ram_geometry_of_the_example(angle_deg: float, length_mm: float, lever_mm: float) -> None:
    """Pivot distance within 0.5 mm and lever arm within 1 % of the published arithmetic (facts 6.4)."""
    length, lever = ram_length_and_lever(Drive(), math.radians(angle_deg))
    assert length * 1000 == pytest.approx(length_mm, abs=0.5)
    assert lever * 1000 == pytest.approx(lever_mm, rel=0.01)


@given(st.floats(0.0, math.radians(110)))
def test_lever_is_the_derivative_of_length(angle: float) -> None:
    """h = −dd/dθ at any angle (virtual work), against a central difference."""
    step = 1e-6
    before, _ = ram_length_and_lever(Drive(), angle - step)
    after, _ = ram_length_and_lever(Drive(), angle + step)
    _, lever = ram_length_and_lever(Drive(), angle)
    assert lever == pytest.approx((before - after) / (2 * step), rel=1e-4, abs=1e-6)


@pytest.mark.parametrize(
    ("carrier", "face", "first"),
    [
        ("active", "inside", "active"),
        ("active", "outside", "inactive"),
        ("inactive", "inside", "inactive"),
        ("inactive", "outside", "active"),
    ],
)
def test_the_free_leaf_opens_first(yard: Site, carrier: str, face: str, first: str) -> None:
    """The carrier if the strip lies on the side the leaves open to, the other leaf if not (common practice)."""
    site = with_changes(yard, {"cover_strip.carrier": carrier, "cover_strip.face": face})
    assert site.opens_first == first


def test_a_guard_that_is_not_fitted_is_no_right_answer(yard: Site) -> None:
    """The truth of the survey follows what stands on the site."""
    row = {
        "hazard": "gap",
        "covers": ["outer beam", "inner beam", "fence"],
        "choices": ["outer beam", "inner beam", "fence"],
    }
    site = with_changes(yard, {"hazards": [row], "guards.inner_beam": "not fitted"})
    assert site.right_answers() == {"gap": ("outer beam", "fence")}
    other = with_changes(site, {"guards.outer_beam": "not fitted", "guards.inner_beam": {"y_m": 2.2}})
    assert other.right_answers() == {"gap": ("inner beam", "fence")}


def test_guards_are_found_by_their_names_in_words(yard: Site) -> None:
    """Every name has an entry; one that is not fitted is None; a name that isn't one is an error."""
    assert [name for name in GUARD_NAMES if yard.guards.device(name) is None] == ["inner beam"]
    assert tuple(yard.guards.fitted) == GUARD_NAMES
    with pytest.raises(KeyError):
        yard.guards.device("upper beam")


# what can't be built


SMALL = """\
cover_strip: {overlap_m: 0.2}
opening_width_m: 1.1
leaves: {active: {width_m: 0.5}, inactive: {width_m: 0.5}}
"""


@pytest.mark.parametrize(
    ("text", "place", "reason"),
    [
        ("opening_width_m: 3\n", "3:1 opening_width_m", "they can't shut between the hinges"),
        ("opening_width_m: 5\n", "3:1 opening_width_m", "leaves 1 m between the closing edges"),
        (SMALL, "3:15 cover_strip.overlap_m", "wider than half a leaf"),
        ("drives:\n  active: {post_across_m: 0.4}\n", "4:3 drives.active", "at 0° its pivots are 1.254 m apart"),
        (
            "drives:\n  inactive: {post_inside_m: 0.02, post_across_m: 0.05}\n",
            "4:3 drives.inactive",
            "its lever arm about the hinge is",
        ),
        ("drives: {active: {stroke_m: 0.7}}\n", "3:19 drives.active.stroke_m", "room for a stroke of 0.56 m"),
        ("drives: {active: {bracket_along_m: 2.5}}\n", "3:19 drives.active.bracket_along_m", "only 2 m wide"),
        ("guards: {outer_beam: {y_m: 0.2}}\n", "3:23 guards.outer_beam.y_m", "stands outside"),
        ("guards: {inner_beam: {y_m: 1.0}}\n", "3:23 guards.inner_beam.y_m", "would cut it"),
        ("guards: {outer_beam: {emitter_x_m: 4.1}}\n", "3:10 guards.outer_beam", "0.12 m apart"),
        ("walls:\n- {name: barn, x_m: -1, y_m: 1.4, along_x_m: 1.5}\n", "4:3 walls.0", "would strike 'barn' at 71°"),
        ("hazards:\n- {hazard: gap, covers: [fence], choices: [nothing]}\n", "4:34 hazards.0.choices", "'fence'"),
        (
            "hazards:\n- {hazard: gap, covers: [inner beam], choices: [inner beam]}\n",
            "4:17 hazards.0.covers",
            "nothing that stands on this site protects 'gap'",
        ),
        ("controls: [step button, step button]\n", "3:1 controls", "'step button' is listed twice"),
    ],
)
def test_what_can_not_be_built_is_refused_with_the_reason(
    refusals: Refusals, text: str, place: str, reason: str
) -> None:
    """Plane geometry of the whole site: each reason stands at the key that can mend it."""
    said = refusals(text)
    assert any(sentence.startswith(f"yard.yaml:{place}: ") and reason in sentence for sentence in said), said


# in and out again


def test_dump_and_restore_give_the_same_site(yard: Site) -> None:
    """Every default is written out, in base types, and the way back is exact."""
    dumped = dump_site(yard)
    assert restore_site(dumped) == yard
    assert dump_site(restore_site(dumped)) == dumped
    assert set(dumped) == set(Site.model_fields)


@given(
    st.floats(0.5, 2.0),
    st.floats(20.0, 400.0),
    st.sampled_from(["inside", "outside"]),
    st.floats(0.1, 400.0),
    st.sampled_from([0.5, 1.5, 6.0]),
)
def test_any_site_survives_the_way_out_and_in(
    clearance: float, mass_kg: float, face: str, length_m: float, section_mm2: float
) -> None:
    """Numbers of any length come back bit for bit, and the digest with them."""
    site = with_changes(
        Site(name="Any yard"),
        {
            "leaves.active.mass_kg": mass_kg,
            "leaves.active.ground_clearance_m": clearance / 10,
            "cover_strip.face": face,
            "cables.active_motor": {"length_m": length_m, "section_mm2": section_mm2},
        },
    )
    again = restore_site(dump_site(site))
    assert again == site
    assert site_digest(again) == site_digest(site)


def test_the_digest_tells_sites_apart(yard: Site) -> None:
    """The smallest change of one number is another site."""
    mass = yard.leaves.active.mass_kg
    other = with_changes(yard, {"leaves.active.mass_kg": math.nextafter(mass, 1e9)})
    assert site_digest(other) != site_digest(yard)
    assert site_digest(with_changes(other, {"leaves.active.mass_kg": mass})) == site_digest(yard)


def test_changes_leave_the_original_alone(yard: Site) -> None:
    """A site is frozen; a change is a new site, checked as a whole."""
    with_changes(yard, {"weather.wind_m_s": 12})
    assert yard.weather.wind_m_s == 0.0
    with pytest.raises(ValidationError, match="frozen"):
        yard.name = "Another"  # type: ignore[misc]


@pytest.mark.parametrize(
    ("dotted", "value", "said"),
    [
        ("leaves.activ.mass_kg", 3, "draw leaves.activ.mass_kg: leaves has no 'activ'; allowed: active, inactive"),
        (
            "guards.inner_beam.y_m",
            3,
            "draw guards.inner_beam.y_m: guards.inner_beam is 'not fitted' and has no 'y_m'",
        ),
        ("hazards.4.covers", [], "draw hazards.4.covers: hazards is a list of 0"),
        ("opening_width_m", 9, "draw opening_width_m: read 9, which leaves 5 m between the closing edges"),
        ("leaves.active.mass_kg", "heavy", "draw leaves.active.mass_kg: read 'heavy'; allowed: a number"),
    ],
)
def test_a_change_that_does_not_fit_is_refused(yard: Site, dotted: str, value: Any, said: str) -> None:
    """A draw that names nothing, or makes something that can't stand, says which key and why."""
    with pytest.raises(ScenarioError) as caught:
        with_changes(yard, {dotted: value}, "draw")
    assert str(caught.value).startswith(said)


def test_the_schema_holds_ranges_and_words() -> None:
    """An editor that knows the schema completes and checks while one types."""
    schema = site_schema()
    mass = schema["$defs"]["Leaf"]["properties"]["mass_kg"]
    assert (mass["minimum"], mass["maximum"], mass["unit"]) == (10.0, 1500.0, "kg")
    assert schema["additionalProperties"] is False
    assert schema["properties"]["format"]["const"] == "gudgeon-site/1"
