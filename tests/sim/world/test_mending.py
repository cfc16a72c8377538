"""Repairs: each sets its facts back to how they were built and nothing else, and asks nobody what was wrong."""

from __future__ import annotations

import pytest

from sim.errors import Refused
from sim.faults.edit import Exchanged, Fact, Leak, Opened, Value
from sim.faults.facts import read
from sim.site import Site
from sim.units import LEAVES, SECOND
from sim.world.actions import CATALOGUE, checked
from sim.world.effects import EFFECTS
from sim.world.mending.row import VERBS
from sim.world.mending.table import all_of, mend_of, targets
from sim.world.mending.wires import SPLICE_OHM
from sim.world.world import World

CORE = "active leaf motor, plus core"
OTHER_CORE = "active leaf motor, minus core"
SCREW = "active leaf motor plug, plus, screw"


@pytest.fixture
def gate(site: Site) -> World:
    """Isolated, dead."""
    made = World(site, seed=2)
    made.run_to(made.now + SECOND)
    made.do(checked("isolate"))
    if made.cabinet.battery_linked:
        made.do(checked("remove battery link"))
    return made


def _do(world: World, verb: str, what: str) -> str:
    return world.do(checked(verb, {"what": what}))


def _built(world: World) -> bool:
    """Whether every element that a hand doesn't move is as it was wired."""
    now = {**world.cabinet.mains.elements, **world.cabinet.netlist.elements}
    ends = {name: (e.a, e.b) for name, e in world.cabinet.built.items()}
    return set(now) == set(ends) and all((now[name].a, now[name].b) == ends[name] for name in ends)


def test_every_verb_is_an_action_with_an_effect() -> None:
    """And every one of them takes one thing."""
    for verb in VERBS:
        assert [argument.name for argument in CATALOGUE[verb].arguments] == ["what"]
        assert verb in EFFECTS


def test_a_new_motor_brings_no_new_cable(gate: World) -> None:
    """What a spade did to the sheath is still there; laid anew, the cable insulates again."""
    Value(f"{CORE}, insulation", "ohm", 2e4).apply(gate, 1.0)
    gate.do(checked("rope leaf", {"leaf": "active"}))
    _do(gate, "replace", "active leaf motor")
    assert gate.cabinet.netlist[f"{CORE}, insulation"].ohm == 2e4
    _do(gate, "re-lay cable", "active leaf motor cable")
    assert gate.cabinet.netlist[f"{CORE}, insulation"] == gate.cabinet.built[f"{CORE}, insulation"]


def test_a_new_fuse_tells_whether_the_old_one_had_blown(gate: World) -> None:
    """It is in the hand that takes it out: the first is whole, the second is open."""
    _do(gate, "replace", "board fuse")
    Opened("board fuse").apply(gate, 1.0)
    _do(gate, "replace", "board fuse")
    assert [event.data["closed"] for event in gate.events if event.kind == "repair"] == ["", "board fuse"]


def test_tightening_gives_a_joint_its_own_resistance(gate: World) -> None:
    """A screw that was loose, and one that was open."""
    for edit in (Value(SCREW, "ohm", 0.5), Opened(SCREW)):
        edit.apply(gate, 1.0)
        _do(gate, "tighten", SCREW)
        assert gate.cabinet.netlist[SCREW] == gate.cabinet.built[SCREW]


def test_a_spliced_core_is_whole_and_has_a_joint(gate: World) -> None:
    """As good as new but for two milliohms."""
    Value(CORE, "ohm", 1e9).apply(gate, 1.0)
    _do(gate, "splice", CORE)
    assert complex(read(gate, ("net", CORE, "ohm"))).real == pytest.approx(
        complex(gate.cabinet.built[CORE].ohm).real + SPLICE_OHM
    )


def test_a_core_is_set_under_its_own_terminals_again(gate: World) -> None:
    """Of two exchanged cores one mended is half the work."""
    Exchanged(CORE, OTHER_CORE).apply(gate, 1.0)
    _do(gate, "re-terminate", CORE)
    assert gate.cabinet.netlist[CORE] == gate.cabinet.built[CORE]
    assert not _built(gate)
    _do(gate, "re-terminate", OTHER_CORE)
    assert _built(gate)


def test_exchanging_cores_by_hand_is_taken_back_by_exchanging_them(gate: World) -> None:
    """What somebody crossed can be uncrossed without a word about which was wrong."""
    Exchanged(CORE, OTHER_CORE).apply(gate, 1.0)
    gate.do(checked("swap cores", {"one": OTHER_CORE, "other": CORE}))
    assert _built(gate)


def test_a_new_cable_takes_its_leaks_with_it(gate: World) -> None:
    """Ends, resistance and what leaked from it; no other cable's."""
    Leak("active leaf motor cable, wet joint", "active leaf motor plug.plus", "earth bar.earth", 1e4, 1e3).apply(
        gate, 1.0
    )
    Leak("inactive leaf motor cable, wet joint", "inactive leaf motor plug.plus", "earth bar.earth", 1e4, 1e3).apply(
        gate, 1.0
    )
    Value(CORE, "ohm", 9.0).apply(gate, 1.0)
    _do(gate, "re-lay cable", "active leaf motor cable")
    assert gate.cabinet.netlist[CORE] == gate.cabinet.built[CORE]
    extra = [name for name in gate.cabinet.netlist.elements if name not in gate.cabinet.built]
    assert extra == ["inactive leaf motor cable, wet joint"]


def test_a_new_part_moves_no_plug_and_no_switch(gate: World) -> None:
    """Whatever is replaced, what hands have opened stays open."""
    gate.do(checked("unplug", {"guard": "outer beam"}))
    for what in targets(gate, "replace"):
        mend = mend_of(gate, "replace", what)
        if mend.ready is None and mend.does is None:
            assert not _do(gate, "replace", what).startswith("not done")
    assert not gate.cabinet.mains_on
    assert not gate.cabinet.battery_linked
    assert gate.cabinet.unplugged == ("outer beam",)


def test_repairing_a_sound_gate_changes_nothing(gate: World) -> None:
    """Every row there is, one after the other: facts that are as built stay so. A splice alone adds a joint, and a
    new battery is a full one."""
    gate.run_to(gate.now + 60 * SECOND)  # what was charged runs empty
    for leaf in LEAVES:  # or nothing may be undone that holds them
        gate.do(checked("rope leaf", {"leaf": leaf}))
    before = (gate.cabinet.wiring(), gate.site)
    for mend in list(all_of(gate)):
        if mend.verb in ("splice", "reset", "remove link") or mend.what == "battery":
            continue
        if mend.does is None:
            _do(gate, mend.verb, mend.what)
    assert (gate.cabinet.wiring(), gate.site) == before


def test_what_nobody_wired_is_taken_out_and_nothing_else(gate: World) -> None:
    """A piece of wire, by its name."""
    Leak("link across the beam", "outer beam.contact", "board.common", 0.02, 0.02).apply(gate, 1.0)
    assert "link across the beam" in targets(gate, "remove link")
    _do(gate, "remove link", "link across the beam")
    assert _built(gate)
    with pytest.raises(Refused, match="nothing called"):
        _do(gate, "remove link", CORE)


def test_a_slip_of_the_pen_gets_the_nearest_right_thing(gate: World) -> None:
    """For every verb that this gate has something for."""
    with pytest.raises(Refused, match="did you mean 'active leaf motor cable'"):
        _do(gate, "re-lay cable", "active leaf motr cable")


def test_hands_in_a_live_cabinet_are_told(site: Site) -> None:
    """It happens, it is a danger, and it is graded; the repair is told with what it used up."""
    gate = World(site, seed=2)
    gate.run_to(gate.now + SECOND)
    _do(gate, "re-lay cable", "warning lamp cable")
    assert [e.data["what"] for e in gate.events if e.kind == "danger"] == ["live work"]
    told = [e for e in gate.events if e.kind == "repair"]
    assert [(e.data["verb"], e.data["what"]) for e in told] == [("re-lay cable", "warning lamp cable")]
    assert told[0].data["parts"]


def test_nobody_mends_a_moving_gate(site: Site) -> None:
    """Refused in words; nothing changes."""
    gate = World(site, seed=2)
    gate.run_to(gate.now + SECOND)
    gate.request("jog", "active", "open")
    gate.run_to(gate.now + 2 * SECOND)
    with pytest.raises(Refused, match="nobody mends"):
        _do(gate, "tighten", SCREW)


def test_a_site_fact_goes_back_to_its_design(gate: World) -> None:
    """A row's dotted keys, with all below them; others stay as they stand."""
    row = next(mend for mend in all_of(gate) if mend.site and "leaves.active" in mend.site[0])
    Fact("leaves.inactive.hinge_friction_n_m", 90.0).apply(gate, 1.0)
    worn = gate.site
    assert mend_of(gate, row.verb, row.what).covers(("site", row.site[0], ""))
    if row.ready is None:
        _do(gate, row.verb, row.what)
        assert gate.site == worn
