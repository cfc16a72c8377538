"""Leaves that open outwards, in the whole yard: who stands in their way is before the gate."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.bench.trial import as_installed
from sim.site import load_site
from sim.units import SECOND
from sim.world.actions import checked
from sim.world.world import World

SITES = Path(__file__).parents[3] / "scenarios" / "sites"


@pytest.fixture(scope="module")
def terrace() -> World:
    """The shipped site that opens outwards, learned and shut."""
    site = load_site(SITES / "ferry_terrace.yaml")
    return World(site, arrival=as_installed(site))


def press(world: World, control: str) -> None:
    world.do(checked("press", {"control": control}))
    world.run_to(world.now + SECOND // 2)
    world.do(checked("release", {"control": control}))


def place(world: World, body: str, x_m: float, y_m: float) -> str:
    return world.do(checked("place body", {"body": body, "x_m": x_m, "y_m": y_m}))


def test_who_stands_before_the_gate_is_in_its_arc(terrace: World) -> None:
    """Before it one is swept, behind it not."""
    place(terrace, "adult", 0.9, 1.3)
    assert terrace.people.in_arc() == ()
    place(terrace, "adult", 0.9, -1.0)
    assert terrace.people.in_arc() == ("adult",)
    terrace.people.remove("adult")


@pytest.mark.slow
def test_an_opening_leaf_meets_what_stands_before_the_gate(terrace: World) -> None:
    """The test body on the forecourt is met by the opening active leaf, the danger is told, and the obstacle ends
    the movement; behind the gate it is met by nothing on the way."""
    place(terrace, "test body", 0.6, -0.9)
    seen = len(terrace.events)
    press(terrace, "open button")
    terrace.run_to(terrace.now + 60 * SECOND, terrace.rests)
    terrace.run_to(terrace.now + 30 * SECOND)
    told = [event for event in terrace.events[seen:] if event.kind == "contact"]
    assert told
    assert {event.data["leaf"] for event in told} == {"active"}
    terrace.people.remove("test body")
