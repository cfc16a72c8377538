"""A mistake in a site file gets file, line, column, key, what was read, what is allowed, the nearest right key."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from sim.errors import ScenarioError
from sim.site import Site, read_text, validate

Refusals = Callable[[str], list[str]]


def only(sentences: list[str]) -> str:
    assert len(sentences) == 1, sentences
    return sentences[0]


def test_an_unknown_key_gets_the_nearest_right_one(refusals: Refusals) -> None:
    """Line 5, column 5: where `mas_kg` stands."""
    said = only(refusals("leaves:\n  active:\n    mas_kg: 3\n"))
    assert said.startswith("yard.yaml:5:5 leaves.active.mas_kg: there is no such key here; allowed: width_m, ")
    assert said.endswith("did you mean 'mass_kg'?")


@pytest.mark.parametrize(
    ("wrong", "right"),
    [
        ("Leaves", "leaves"),
        ("cover strip", "cover_strip"),
        ("opening-width-m", "opening_width_m"),
        ("cable", "cables"),
    ],
)
def test_case_and_separators_are_no_hindrance_to_the_hint(refusals: Refusals, wrong: str, right: str) -> None:
    """The habits of other files are met with the name that is right here."""
    assert f"did you mean '{right}'?" in only(refusals(f"{wrong}: 1\n"))


@pytest.mark.parametrize(
    ("text", "beginning", "holds"),
    [
        ("opening_width_m: wide\n", "yard.yaml:3:1 opening_width_m: read 'wide'; allowed: a number", "1 to 12"),
        ("opening_width_m: 20\n", "yard.yaml:3:1 opening_width_m: read 20; allowed: less than or equal to 12", "[m]"),
        ("opening_width_m: true\n", "yard.yaml:3:1 opening_width_m: read true; allowed: a number", "[m]"),
        ("opening_width_m: '4'\n", "yard.yaml:3:1 opening_width_m: read '4'; allowed: a number", "[m]"),
        ("opening_width_m:\n", "yard.yaml:3:1 opening_width_m: read nothing; allowed: a number", "hinge line"),
        ("user_group: any one\n", "yard.yaml:3:1 user_group: read 'any one'; allowed: instructed", "mean 'anyone'?"),
        ("cover_strip: {face: insid}\n", "yard.yaml:3:15 cover_strip.face: read 'insid'", "mean 'inside'?"),
        ("walls: 3\n", "yard.yaml:3:1 walls: read 3; allowed: a list", "at most 40"),
        (
            "weather: [1]\n",
            "yard.yaml:3:1 weather: read a list of 1; allowed: a mapping with the keys temp",
            "wind_m_s",
        ),
        ("guards: {stop_circuit: not fitted}\n", "yard.yaml:3:10 guards.stop_circuit: read 'not fitted'", "x_m, y_m"),
        ("guards: {inner_beam: not fited}\n", "yard.yaml:3:10 guards.inner_beam: read 'not fited'", "'not fitted'?"),
        ("guards: {inner_beam: {y: 3}}\n", "yard.yaml:3:23 guards.inner_beam.y: there is no such key", "mean 'y_m'?"),
        ("controls: [opn button]\n", "yard.yaml:3:12 controls.0: read 'opn button'", "did you mean 'open button'?"),
        ("transmitters:\n- tag: red\n", "yard.yaml:4:3 transmitters.0: the key 'serial' is missing", "serial number"),
        ("cables: {lamp: {section_mm2: 1.4}}\n", "yard.yaml:3:17 cables.lamp.section_mm2: read 1.4", "mean 1.5?"),
        (
            f"controls: [{', '.join(['open button'] * 7)}]\n",
            "yard.yaml:3:1 controls: read a list of 7; allowed: at most 6 of them (",
            "which command terminals",
        ),
        (f"setting: {'x' * 301}\n", "yard.yaml:3:1 setting: read 'x", "allowed: at most 300 characters ("),
        (
            "setting: ''\n",
            "yard.yaml:3:1 setting: read ''; allowed: at least 1 characters (",
            "the place in one line",
        ),
        ("drives: {active: {kind: arm}}\n", "yard.yaml:3:19 drives.active.kind: read 'arm'", "linear ram"),
    ],
)
def test_each_kind_of_mistake_names_place_reading_and_what_is_allowed(
    refusals: Refusals, text: str, beginning: str, holds: str
) -> None:
    """Every mistake in a file of two lines and one more is found on its own line."""
    said = only(refusals(text))
    assert said.startswith(beginning)
    assert holds in said


def test_several_mistakes_are_told_in_the_order_of_the_file(refusals: Refusals) -> None:
    """One reading of the file finds all that can be found without guessing."""
    said = refusals("weather: {wind_m_s: -1}\nsupply: {fuse_a: 0}\nnonsense: 1\n")
    assert [sentence.split(" ")[0] for sentence in said] == ["yard.yaml:3:11", "yard.yaml:4:10", "yard.yaml:5:1"]


def test_a_flood_of_mistakes_is_counted_not_listed(refusals: Refusals) -> None:
    """Whoever loads a wrong file is not buried."""
    said = refusals("".join(f"wrong_{number}: 1\n" for number in range(200)))
    assert len(said) == 21
    assert said[-1] == "... and 180 more problems"


def test_a_file_of_another_format_gets_that_one_sentence() -> None:
    """A job loaded as a site is told so, instead of thirty unknown keys."""
    with pytest.raises(ScenarioError) as caught:
        validate(read_text("format: gudgeon-job/1\ntitle: x\n", "job.yaml"), Site)
    assert str(caught.value) == "job.yaml:1:1 format: read 'gudgeon-job/1'; allowed: gudgeon-site/1"


def test_a_missing_format_is_asked_for() -> None:
    """A file never counts as a site by accident."""
    with pytest.raises(ScenarioError, match="the key 'format' is missing; needed: 'format: gudgeon-site/1'"):
        validate(read_text("name: x\n", "job.yaml"), Site)


def test_what_was_read_is_quoted_short(refusals: Refusals) -> None:
    """A page of text in the place of a number doesn't come back as a page of complaint."""
    said = only(refusals(f"opening_width_m: {'x' * 3000}\n"))
    assert "(3000 characters)" in said
    assert len(said) < 400


def test_a_default_that_does_not_fit_is_not_said_to_have_been_read(refusals: Refusals) -> None:
    """Who never wrote a beam is told which place it has by default."""
    said = refusals("opens_towards: outside\ndrives: {active: {kind: underground}, inactive: {kind: underground}}\n")
    assert only(said).startswith(
        "yard.yaml:1:1 guards.outer_beam.y_m: left out, which means -0.25: the opening leaves"
    )
