"""Conclusions in the notebook, and what the world keeps of its faults for grading."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.errors import Refused
from sim.instruments.toolbag import Toolbag
from sim.site import load_site
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.world import World

SITES = Path(__file__).parents[3] / "scenarios" / "sites"


@pytest.fixture
def world() -> World:
    """The reference bench as it is, with a bag."""
    return World(load_site(SITES / "reference_bench.yaml"), seed=3, bag=Toolbag, arrival=Arrival())


def act(world: World, kind: str, **arguments: object) -> str:
    action = checked(kind, arguments)
    world.check(action)
    return world.do(action, line=len(world.entries) + 2)


def causes(world: World) -> list[tuple[str, int]]:
    return [(each.cause, each.sure) for each in world.standing().conclusions]


def test_several_causes_may_be_named_and_taken_back(world: World) -> None:
    """The latest word on each counts."""
    act(world, "conclude", cause="worn brushes", sure=60)
    act(world, "conclude", cause="seized hinge")
    act(world, "conclude", cause="worn brushes", sure=90)
    assert causes(world) == [("seized hinge", 80), ("worn brushes", 90)]
    act(world, "take back conclusion", cause="seized hinge")
    assert causes(world) == [("worn brushes", 90)]
    with pytest.raises(Refused, match="'seized hinge' was not concluded"):
        act(world, "take back conclusion", cause="seized hinge")


def test_that_nothing_is_wrong_stands_alone(world: World) -> None:
    """Beside a cause it would say both."""
    act(world, "conclude", cause="worn brushes")
    act(world, "conclude", cause="no fault")
    assert causes(world) == [("no fault", 80)]
    act(world, "conclude", cause="seized hinge")
    assert causes(world) == [("seized hinge", 80)]


def test_a_cause_that_no_catalogue_has_is_refused(world: World) -> None:
    """With the nearest right name."""
    with pytest.raises(Refused, match="did you mean 'worn brushes'"):
        act(world, "conclude", cause="worn brush")


def test_the_standing_says_what_a_gate_had_has_and_which_repair_mended(world: World) -> None:
    """A repair of something else mends nothing; a fault that is taken away again was none."""
    world.faults.bring("motor effort too high")
    world.faults.bring("worn brushes")
    world.faults.bring("seized hinge")
    world.faults.cure("seized hinge")
    assert world.standing().had == ("motor effort too high", "worn brushes")
    assert world.standing().has == ("motor effort too high", "worn brushes")
    act(world, "isolate")
    for leaf in ("active", "inactive"):
        act(world, "rope leaf", leaf=leaf)
    act(world, "replace", what="inactive leaf motor")
    act(world, "replace", what="active leaf motor")
    assert world.standing().has == ("motor effort too high",)
    assert world.standing().mended == ((world.entries[-1].line, "worn brushes"),)


@pytest.mark.parametrize(("effort", "there"), [(90.0, True), (62.0, False), (55.0, False)])
def test_a_setting_is_right_when_it_lies_nearer_to_right(world: World, effort: float, there: bool) -> None:
    """Whoever sets it right need not hit the figure it had; a little less wrong is still wrong."""
    world.faults.bring("motor effort too high")
    act(world, "set", setting="motor effort, closing", value=str(effort))
    assert (world.standing().has == ("motor effort too high",)) is there


def test_a_hint_is_written_down_and_told(world: World) -> None:
    """The words come from outside and stand in the act, so that a replay says the same; they are counted."""
    assert act(world, "ask for a hint", words="What is still good?") == "What is still good?"
    told = [event for event in world.events if event.kind == "hint"]
    assert [(event.text, event.data["number"]) for event in told] == [("What is still good?", 1)]
    assert any("hint 1: What is still good?" in note.text for note in world.standing().notes)


def test_the_next_hint_comes_after_an_act(world: World) -> None:
    """Whoever only waits or writes gets no other: learners click through to the last hint (practice 1.1)."""
    act(world, "ask for a hint", words="first")
    act(world, "note", text="I think")
    act(world, "wait", seconds=5.0)
    with pytest.raises(Refused, match="act on the last hint first"):
        act(world, "ask for a hint", words="second")
    act(world, "measure", instrument="look", function="stops", at="active")
    assert act(world, "ask for a hint", words="second") == "second"
    assert [event.data["number"] for event in world.events if event.kind == "hint"] == [1, 2]
