"""A gate with one leaf, through the front door of the world: commissioned, driven, interrupted, misunderstood."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from sim.bench.trial import as_installed
from sim.errors import ActionError, GudgeonError, Refused
from sim.instruments.toolbag import Toolbag
from sim.site import Site, load_site, with_changes
from sim.units import SECOND
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.effects.timing import condition
from sim.world.meddling import Meddling, check
from sim.world.mending.table import targets
from sim.world.world import World

SITES = Path(__file__).parents[3] / "scenarios" / "sites"


@pytest.fixture(scope="module")
def side() -> Site:
    """A side entrance with one leaf."""
    return load_site(SITES / "bellows_passage.yaml")


@pytest.fixture
def gate(side: Site) -> World:
    """The same, commissioned and shut."""
    return World(side, seed=3, bag=Toolbag, arrival=as_installed(side))


def tap(world: World, control: str) -> None:
    """Press a control for half a second."""
    world.do(checked("press", {"control": control}))
    world.run_to(world.now + SECOND // 2)
    world.do(checked("release", {"control": control}))


def opened(world: World) -> None:
    """Have it stand fully open, by its button."""
    tap(world, "open button")
    assert world.run_to(world.now + 60 * SECOND, condition(world, "fully open"))


def closing_at(world: World, degrees: float) -> None:
    """Have it close, as far as that."""
    tap(world, "close button")
    assert world.run_to(world.now + 60 * SECOND, lambda: world.plant.angle(0) < math.radians(degrees))


def told(world: World, *kinds: str) -> list[str]:
    """What was told, of some kinds."""
    return [event.text for event in world.events if event.kind in kinds]


def test_it_learns_one_travel_and_calls_that_learned(gate: World) -> None:
    """The second leaf has no counts, and none are missed."""
    one, other = gate.controller.panel().travel
    assert (one or 0) > 1000
    assert other is None
    standing = gate.standing()
    assert standing.learned
    assert standing.leaves == ("active",)
    assert standing.released == ()


def test_it_opens_and_shuts_and_never_speaks_of_another(gate: World) -> None:
    """A cycle by its buttons: each end is reached and known, and every word is of the one leaf."""
    opened(gate)
    assert gate.headline().state == "open"
    tap(gate, "close button")
    assert gate.run_to(gate.now + 60 * SECOND, condition(gate, "fully closed"))
    gate.run_to(gate.now + 3 * SECOND)
    assert gate.headline().state == "closed"
    assert told(gate, "stop reached") == ["active leaf at its open stop", "active leaf at its closed stop"]
    assert not [text for text in told(gate, "moving", "resting", "state", "contact", "clash") if "inactive" in text]


def test_somebody_in_the_beam_turns_it_round(gate: World) -> None:
    """While closing it stops and opens fully, though the beam clears at once (design: reopen)."""
    opened(gate)
    closing_at(gate, 45.0)
    gate.do(checked("cover beam", {"guard": "outer beam"}))
    gate.do(checked("uncover beam", {"guard": "outer beam"}))
    assert gate.run_to(gate.now + 60 * SECOND, condition(gate, "fully open"))
    assert "reversing: outer beam reads open" in told(gate, "state")


def test_its_edge_meets_what_stands_before_the_post_and_takes_the_load_off(gate: World) -> None:
    """A test body at the closing edge presses the soft profile: the leaf backs off and waits, nothing left on it."""
    opened(gate)
    gate.do(checked("place body", {"body": "test body", "x_m": 1.2, "y_m": 0.5}))
    tap(gate, "close button")
    gate.run_to(gate.now + 30 * SECOND)
    assert "active edge tripped" in told(gate, "guard")
    assert "backing off: active edge reads pressed" in told(gate, "state")
    assert gate.headline().state == "part way open"
    assert gate.plant.contact_force(0) == 0.0


def test_an_obstacle_beside_the_edge_is_felt_by_its_effort(gate: World) -> None:
    """Away from the soft profile only the motor notices: it goes back to its open stop."""
    opened(gate)
    gate.do(checked("place body", {"body": "test body", "x_m": 0.9, "y_m": 0.4}))
    tap(gate, "close button")
    gate.run_to(gate.now + 60 * SECOND)
    assert any("obstacle: active leaf" in text for text in told(gate, "state"))
    assert gate.stands(fully_open=True)


def test_learning_with_a_sheet_that_says_two_ends_early_and_says_why(side: Site) -> None:
    """Whichever leaf it says goes first: a drive that isn't there brings no counts, and nothing is kept."""
    for first in ("active", "inactive"):
        sheet = {**as_installed(side).sheet, "leaves fitted": "2", "opens first": first}
        world = World(side, arrival=Arrival(sheet=sheet))
        world.do(checked("learn travel"))
        assert world.run_to(world.now + 600 * SECOND, condition(world, "learning ends"))
        world.run_to(world.now + 2 * SECOND)
        assert "learning ended early, nothing is kept: inactive leaf" in world.headline().message
        assert not world.standing().learned
        assert not [text for text in told(world, "moving", "resting") if "inactive" in text]
        tap(world, "open button")
        world.run_to(world.now + 5 * SECOND)
        assert "open refused: learning not finished" in told(world, "refused")[-1]


def test_hands_find_no_second_leaf(gate: World) -> None:
    """Every act that names a leaf is refused for one that isn't there, with the reason, and changes nothing."""
    before = gate.digest()
    for kind, arguments in (
        ("release drive", {}),
        ("prop leaf", {}),
        ("rope leaf", {}),
        ("swap motor leads", {}),
        ("push leaf", {"to_deg": 30.0}),
        ("jog press", {"direction": "open"}),
        ("hold in hinge gap", {"what": "stick of 40 mm"}),
        ("place force gauge", {"gap_mm": 500.0, "height_mm": 900.0, "rest": "rigid rest"}),
    ):
        with pytest.raises(Refused, match="there is no inactive leaf: this gate has one leaf"):
            gate.check(checked(kind, {"leaf": "inactive", **arguments}))
    with pytest.raises(Refused, match="no inactive leaf motor is fitted"):
        gate.check(checked("unplug", {"guard": "inactive leaf motor"}))
    with pytest.raises(Refused):
        check(gate, Meddling("swap", "inactive"))
    assert gate.digest() == before


def test_nothing_of_it_can_be_mended(gate: World) -> None:
    """Of the absent leaf only the board's own output is there to be repaired; no strip, but a gap to the post."""
    known = {f"{verb} {what}" for verb in ("replace", "adjust", "grease", "tighten") for what in targets(gate, verb)}
    mine = {what for what in known if "inactive" in what}
    board = ("bridge", "power stage", "opening relay", "closing relay", "edge")
    assert mine == {f"replace inactive {part}" for part in board}
    assert "adjust cover strip" not in known
    assert "adjust meeting gap" in known
    assert "replace active leaf motor" in known


def test_a_fault_of_a_leaf_that_is_not_there_does_not_fit(gate: World) -> None:
    """Facts, elements and found states alike: refused in words, and the gate stays as it is."""
    from sim.faults.catalogue import FAULTS

    before = gate.digest()
    own = [
        name
        for name, fault in FAULTS.items()
        if any(
            "inactive" in part or part == "cover_strip.face"
            for edit in fault.edits
            for key in edit.facts()
            for part in key[:2]
        )
    ]
    assert len(own) >= 4
    for name in own:
        with pytest.raises(GudgeonError):
            gate.faults.check(name, 1.0)
    assert gate.digest() == before


def test_it_can_be_asked_every_scan_and_be_the_same(side: Site) -> None:
    """Declared watches lose nothing: both ways of running give one digest."""
    digests = set()
    for every_scan in (False, True):
        world = World(side, seed=5, bag=Toolbag, arrival=as_installed(side), every_scan=every_scan)
        opened(world)
        world.do(checked("place body", {"body": "adult", "x_m": 0.9, "y_m": 0.4}))
        tap(world, "close button")
        world.run_to(world.now + 40 * SECOND)
        digests.add(world.digest())
    assert len(digests) == 1


def test_a_lock_holds_the_one_leaf(side: Site) -> None:
    """Shut it is held by the bolt; opening by command lifts it first."""
    locked = with_changes(side, {"lock": {"leaf": "active"}})
    world = World(locked, bag=Toolbag, arrival=as_installed(locked))
    assert world.bolt.holds
    opened(world)
    assert not world.bolt.holds


def test_the_force_gauge_stands_between_edge_and_post(gate: World) -> None:
    """Set 300 mm before the post it is met where the chord to the post's face is that: law of cosines, as for a leaf
    that stands there."""
    opened(gate)
    gate.do(
        checked("place force gauge", {"leaf": "active", "gap_mm": 300.0, "height_mm": 950.0, "rest": "rigid rest"})
    )
    tap(gate, "close button")
    assert gate.run_to(gate.now + 60 * SECOND, lambda: "the active leaf met the force gauge" in told(gate, "contact"))
    width, face, gap = 1.3, 1.32, 0.3
    wanted = math.acos((face**2 + width**2 - gap**2) / (2 * face * width))
    assert gate.plant.angle(0) == pytest.approx(wanted, abs=math.radians(0.2))
    gate.run_to(gate.now + 8 * SECOND)
    assert "peak" in gate.do(checked("read force gauge"))


def test_no_act_takes_a_leaf_that_no_gate_has() -> None:
    """The catalogue still knows two leaves and no third."""
    with pytest.raises(ActionError):
        checked("release drive", {"leaf": "third"})
