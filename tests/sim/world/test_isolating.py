"""The work of isolating: what is read before power is cut, dead proved in one act, a second person at the stop."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.errors import Refused
from sim.instruments.toolbag import Toolbag
from sim.site import load_site
from sim.world.actions import Value, checked
from sim.world.arrival import Arrival
from sim.world.world import World

SITES = Path(__file__).parents[3] / "scenarios" / "sites"

SHEET: dict[str, Value] = {
    "leaves fitted": "2",
    "drive kind": "linear ram",
    "opens first": "active",
    "leaf delay, opening": 3.0,
    "leaf delay, closing": 4.0,
    "slow zone before stop": 20.0,
    "electric lock": "fitted",
}


def bench(*, learned: bool = False) -> World:
    """The reference bench with a bag."""
    site = load_site(SITES / "reference_bench.yaml")
    return World(site, seed=3, bag=Toolbag, arrival=Arrival(sheet=SHEET if learned else {}, learned=learned))


def do(world: World, kind: str, **arguments: Value) -> str:
    """One act."""
    return world.do(checked(kind, arguments))


def readings(world: World) -> list[tuple[str, float]]:
    """Function and value of everything that was read."""
    return [(str(e.data["function"]), float(e.data["value"])) for e in world.events if e.kind == "reading"]


def test_dead_is_proved_in_one_act_that_is_written_down() -> None:
    """Tester proved, every pair of both sides, tester proved again; each reading is told, the result noted."""
    world = bench()
    assert do(world, "prove dead").startswith("NOT dead: isolator outlet, live")
    do(world, "isolate")
    said = do(world, "prove dead")
    assert "board supply, plus to board supply, minus (lit to 24 V)" in said, "the battery is a second source"
    assert do(world, "prove dead", where="mains side").startswith("Proved dead, mains side")
    do(world, "remove battery link")
    told = len(readings(world))
    began = world.now
    assert do(world, "prove dead").startswith("Proved dead, both sides")
    assert readings(world)[told:] == [("prove", 24.0), *[("test dead", 0.0)] * 5, ("prove", 24.0)]
    assert world.now - began == 7 * 10_000_000, "ten seconds for every time the tips are set"
    assert [e.text for e in world.events if e.kind == "note"][-1].startswith("proved dead, both sides")


def test_status_and_log_are_read_while_there_is_power() -> None:
    """Without power the panel is dark: who isolates first has lost what it would have told."""
    world = bench(learned=True)
    said = do(world, "read status and log")
    assert said.startswith("panel: closed: learning finished")
    assert "travel learning: begun" in said
    assert [e.text for e in world.events if e.kind == "note"] == [said]
    do(world, "isolate")
    do(world, "remove battery link")
    do(world, "wait", seconds=1.0)
    with pytest.raises(Refused, match="dark"):
        do(world, "read status and log")


def test_second_person_presses_on_word() -> None:
    """And only while somebody stands there."""
    world = bench()
    with pytest.raises(Refused, match="post a second person first"):
        do(world, "call stop")
    do(world, "post second person")
    with pytest.raises(Refused, match="already"):
        do(world, "post second person")
    do(world, "call stop")
    assert world.people.is_tripped("stop circuit")
    do(world, "release", control="stop button")
    do(world, "send second person away")
    with pytest.raises(Refused):
        do(world, "call stop")


@pytest.mark.parametrize("posted", [False, True])
def test_second_person_sees_a_start_with_somebody_in_the_arc(posted: bool) -> None:
    """0.8 s after the gate starts the button is in and the gate stops; alone it goes on until it strikes."""
    world = bench(learned=True)
    if posted:
        do(world, "post second person")
    do(world, "place body", body="adult", x_m=1.6, y_m=1.2)
    do(world, "press", control="open button")
    do(world, "wait", seconds=1.0)
    do(world, "release", control="open button")
    do(world, "wait", seconds=12.0)
    began = next(e.at for e in world.events if e.kind == "danger" and e.data["what"] == "person in the arc")
    stops = [e.at for e in world.events if e.kind == "guard" and e.data["guard"] == "stop circuit"]
    assert stops == ([began + 800_000] if posted else [])
    assert any(e.kind in ("contact", "struck") for e in world.events) is not posted


def test_the_board_is_told_of_when_it_comes_up_after_the_switch() -> None:
    """Where no battery feeds it, the board has power a moment after the isolator is closed: that is told too."""
    world = World(load_site(SITES / "mill_lane.yaml"), seed=3, bag=Toolbag)
    do(world, "isolate")
    do(world, "restore")
    world.run_to(world.now + 1_000_000)
    power = [event.data["board"] for event in world.events if event.kind == "power"]
    assert False in power
    assert power[-1] is True
    assert world.host.on


@pytest.mark.parametrize(
    "before", [(), ("isolate",), ("isolate", "remove battery link")], ids=["on", "off", "both off"]
)
def test_a_gate_that_is_isolated_already_can_be_made_safe(before: tuple[str, ...]) -> None:
    """Whoever measured it dead need not switch it on again to lock it off."""
    world = bench()
    for kind in before:
        do(world, kind)
    do(world, "make safe", reason="no part for it today")
    assert world.ended == "made safe"
    assert not world.cabinet.mains_on
