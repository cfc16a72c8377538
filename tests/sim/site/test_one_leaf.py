"""A site with one leaf: what follows by itself, what is refused, and what stays as it was for two."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from sim.errors import ScenarioError
from sim.site import Site, dump_site, restore_site, site_digest, with_changes

ALONE = "opening_width_m: 2.02\nleaves:\n  inactive: not fitted\n"


def test_all_that_belongs_to_the_second_leaf_goes_with_it(site_from: Callable[[str], Site]) -> None:
    """Drive, edge and strip needn't be named; the leaf that is left is the active one and always free."""
    site = site_from(ALONE)
    assert site.leaves.fitted == ("active",)
    assert site.leaves.hung == (site.leaves.active,)
    assert site.drives.fitted == (site.drives.active,)
    assert (site.drives.inactive, site.cover_strip) == ("not fitted", "not fitted")
    assert site.guards.device("inactive edge") is None
    assert site.guards.device("active edge") is not None
    assert site.opens_first == "active"
    assert site.meeting_gap_m == pytest.approx(0.02)


def test_written_out_or_not_it_is_one_site(site_from: Callable[[str], Site]) -> None:
    """What follows by itself is what may be written, and a dump gives the same site back."""
    short = site_from(ALONE)
    written = site_from(
        ALONE + "drives: {inactive: not fitted}\nguards: {inactive_edge: not fitted}\ncover_strip: not fitted\n"
    )
    assert written == short
    assert site_digest(written) == site_digest(short) == site_digest(restore_site(dump_site(short)))


def test_two_leaves_are_what_they_were(site_from: Callable[[str], Site]) -> None:
    """Nothing is filled in where both hang, and an edge that isn't fitted takes no leaf away."""
    site = site_from("guards: {inactive_edge: not fitted}\n")
    assert site.leaves.fitted == ("active", "inactive")
    assert site.leaves.hung == site.leaves.pair
    assert site.drives.fitted == site.drives.pair


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("drives: {inactive: {kind: linear ram}}\n", "drives.inactive: it is fitted, but leaves.inactive is not"),
        ("guards: {inactive_edge: {ohm: 8200}}\n", "guards.inactive_edge: it is fitted, but leaves.inactive is not"),
        ("cover_strip: {carrier: active}\n", "cover_strip: it is fitted, but leaves.inactive is not"),
        ("lock: {leaf: inactive}\n", "lock.leaf: read inactive, but there is no such leaf; allowed: active"),
    ],
)
def test_what_a_leaf_that_is_not_there_would_need_is_refused(
    refusals: Callable[[str], list[str]], text: str, said: str
) -> None:
    """A contradiction is told once, at its line, with what is allowed."""
    told = refusals(ALONE + text)
    assert len(told) == 1
    assert said in told[0]
    assert told[0].startswith("yard.yaml:6:")


@pytest.mark.parametrize("text", ["drives: {inactive: not fitted}\n", "cover_strip: not fitted\n"])
def test_two_leaves_need_what_belongs_to_two(refusals: Callable[[str], list[str]], text: str) -> None:
    """A second leaf has a drive, and a strip lies over the gap between two."""
    told = refusals(text)
    assert len(told) == 1
    assert "but there are two leaves" in told[0]


def test_it_must_fit_before_its_post(refusals: Callable[[str], list[str]]) -> None:
    """The leaf of 2 m neither strikes its closing post nor leaves a door's width beside it (common practice)."""
    assert "can't shut before its closing post; allowed: 2 to 2.15" in refusals(ALONE.replace("2.02", "1.9"))[0]
    assert "0.5 m between the leaf's closing edge and its closing post" in refusals(ALONE.replace("2.02", "2.5"))[0]


def test_a_slip_of_the_pen_gets_its_hint(refusals: Callable[[str], list[str]]) -> None:
    """`not fited` is near enough."""
    told = refusals("leaves: {inactive: not fited}\n")
    assert "did you mean 'not fitted'?" in told[0]


def test_a_leaf_can_be_taken_off_a_site_by_its_keys(site_from: Callable[[str], Site]) -> None:
    """A resolved site has everything written out, so all of it is named; one key alone is a contradiction."""
    site = site_from("")
    gone = {
        "leaves.inactive": "not fitted",
        "drives.inactive": "not fitted",
        "guards.inactive_edge": "not fitted",
        "cover_strip": "not fitted",
        "opening_width_m": 2.02,
    }
    assert with_changes(site, gone) == site_from(ALONE)
    with pytest.raises(ScenarioError, match=r"drives\.inactive: it is fitted, but leaves\.inactive is not"):
        with_changes(site, {"leaves.inactive": "not fitted"})
    with pytest.raises(ScenarioError, match="has no 'mass_kg'"):
        with_changes(site_from(ALONE), {"leaves.inactive.mass_kg": 90.0})
