"""Travel learning: guarded, slow, one leaf at a time, then two working cycles; kept whole or not at all."""

from __future__ import annotations

import pytest

from sim.controller.obstacle import BINS, NO_LIMIT


def test_learning_in_the_order_that_is_safe_for_the_lap(ready) -> None:
    """First leaf out, second leaf to both stops, first leaf home; then two working cycles. It says where it is."""
    said: list[str] = []
    ready.on_step.append(lambda g: said.append(g.message) if not said or g.message != said[-1] else None)
    ready.ask("learn")
    ready.until(lambda: ready.message.startswith("learning finished"), 300.0)
    assert said == [
        "learn given by the service panel",
        "step 1 of 4: active leaf looks for its open stop",
        "step 2 of 4: inactive leaf looks for its open stop",
        "step 3 of 4: inactive leaf looks for its closed stop",
        "step 4 of 4: active leaf looks for its closed stop",
        "working cycle 1 of 2: opening",
        "working cycle 1 of 2: closing",
        "working cycle 2 of 2: opening",
        "working cycle 2 of 2: closing",
        "learning finished: active leaf 1000 counts, inactive leaf 1000 counts",
    ]
    assert ready.controller.panel().travel == (1000, 1000)
    assert ready.state == "closed"


def test_order_follows_the_sheet(ready) -> None:
    """With the inactive leaf stated as first, it goes out first."""
    ready.write({"opens first": "inactive"})
    ready.ask("learn")
    ready.until(lambda: ready.state == "travel learning")
    ready.run(1.0)
    assert ready.duties == (0.0, 0.35)


def test_gate_with_one_leaf_learns_one(fresh) -> None:
    """A gate with one leaf needs no order and learns one travel."""
    fresh.write({"leaves fitted": 1, "drive kind": "linear ram", "inactive edge": "not fitted"})
    fresh.ask("learn")
    fresh.until(lambda: fresh.message.startswith("learning finished"), 300.0)
    assert fresh.controller.panel().travel == (1000, None)
    assert fresh.positions[1] == 500


def test_automatic_commands_before_learning_are_refused(ready) -> None:
    """Until learning is finished nothing moves by itself, and the panel says why."""
    for name in ("open button", "close button", "step button", "key switch", "timer contact"):
        ready.tap(name)
        ready.run(3.0)
        assert ready.message.endswith("refused: learning not finished")
    assert ready.positions == (500, 500)
    assert "travel learning: learning not finished" in ready.controller.panel().waits_for


def test_learning_needs_the_sheet_and_clear_guards(fresh) -> None:
    """Out of the box learning says what is missing: the sheet, and the guard that reads open."""
    fresh.trip("inner beam")
    assert fresh.ask("learn") == (
        "refused: the sheet does not say 'leaves fitted'; the sheet does not say 'drive kind'; "
        "the sheet does not say 'opens first'; inner beam reads open"
    )


@pytest.mark.parametrize(
    ("guard", "reads"),
    [("outer beam", "open"), ("inner beam", "open"), ("active edge", "pressed"), ("stop circuit", "open")],
)
@pytest.mark.parametrize("after", [8.0, 30.0, 60.0, 75.0])
def test_any_guard_ends_learning_and_nothing_is_kept(ready, guard: str, reads: str, after: float) -> None:
    """Whichever guard trips, in whichever part: the gate stops, and is as if it had learned nothing."""
    ready.ask("learn")
    ready.run(after)
    ready.mark()
    ready.trip(guard)
    ready.run(0.02)
    assert ready.duties == (0.0, 0.0)
    ready.run(5.0)
    assert ready.plot()[0] == f"{guard} reads {reads}"
    assert any(line.startswith("travel learning: ended early") for line in ready.plot())
    assert ready.controller.panel().travel == (None, None)
    ready.clear(guard)
    ready.tap("open button")
    assert ready.message == "open refused: learning not finished"


def test_edge_pressed_while_a_leaf_seeks_its_closed_stop_is_freed(ready) -> None:
    """Contact during learning: the leaf goes back, then rests."""
    ready.ask("learn")
    ready.until(lambda: ready.duties[1] < 0)
    ready.run(5.0)
    before = ready.positions[1]
    ready.trip("inactive edge")
    ready.run(5.0)
    assert ready.positions[1] - before > 30


@pytest.mark.parametrize("guard", ["outer beam", "inactive edge"])
def test_a_stop_ends_the_way_back_from_a_beam_at_once(ready, guard: str) -> None:
    """A beam that ends the learning of a closing leaf is no contact: there is no load to take off before it halts."""
    ready.write({"outer beam": "reopen"})
    ready.ask("learn")
    ready.until(lambda: ready.duties[1] < 0)
    ready.run(5.0)
    ready.trip(guard)
    ready.until_state("backing off")
    ready.run(0.35)
    ready.trip("stop circuit")
    ready.run(0.02)
    frees = guard == "inactive edge"
    assert (ready.state == "backing off") is frees
    assert (ready.duties != (0.0, 0.0)) is frees


def test_exchanged_motor_leads_end_learning_in_words(ready) -> None:
    """The encoder turns with the motor: its counter falls while opening is commanded."""
    ready.leaves[1].sign = -1
    ready.ask("learn")
    ready.run(60.0)
    assert ready.message == (
        "learning ended early, nothing is kept: inactive leaf ran the wrong way: its counter went against the command"
    )


def test_crossed_encoder_cables_end_learning_in_words(ready) -> None:
    """Facts 8.7: the two leaves' encoder cables crossed. The driven leaf's counter rests, the other one moves."""
    own = ready.inputs

    def crossed():
        from dataclasses import replace

        read = own()
        return replace(read, counts=read.counts[::-1], quiet_us=read.quiet_us[::-1])

    ready.inputs = crossed
    ready.ask("learn")
    ready.run(30.0)
    assert ready.message == (
        "learning ended early, nothing is kept: active leaf was driven, but the counter of the inactive leaf moved"
    )


def test_motor_that_is_not_connected_ends_learning(ready) -> None:
    """A leaf that moved nowhere between its stops has no travel."""
    ready.leaves[1].connected = False
    ready.ask("learn")
    ready.run(60.0)
    assert ready.message.endswith("inactive leaf: only 0 counts between its stops, it hardly moved")


def test_command_ends_learning(ready) -> None:
    """Whoever presses something wants something else."""
    ready.ask("learn")
    ready.run(15.0)
    ready.tap("open button")
    ready.run(2.0)
    assert ready.message == "learning ended early, nothing is kept: open given by open button"


def test_learning_never_exceeds_its_effort(ready) -> None:
    """Learning is gentle though the sheet allows full effort: at most 60 % of 8 A in every part of it."""
    ready.write({"motor effort, opening": 100, "motor effort, closing": 100})
    ready.ask("learn")
    ready.until(lambda: ready.message.startswith("learning finished"), 300.0)
    driven = [drive for _, o in ready.trace for drive in (o.active, o.inactive) if drive.duty]
    assert max(drive.limit_a for drive in driven) == pytest.approx(0.6 * 8.0)


def test_load_is_learned_per_direction_over_the_travel(ready) -> None:
    """Two working cycles leave a table of currents for each leaf and way; near the stop ahead effort isn't judged."""
    ready.ask("learn")
    ready.until(lambda: ready.message.startswith("learning finished"), 300.0)
    for leaf in ready.controller.state()["leaves"]:
        assert leaf["opening_load"] == [2.0] * BINS
        assert leaf["closing_load"] == [2.0] * BINS
    ready.run(1.0)
    ready.tap("open button")
    ready.until(lambda: len(ready.scan.watches) > 0 and any(w.table for w in ready.scan.watches))
    table = next(w.table for w in ready.scan.watches if w.table)
    assert table[0] == pytest.approx(2.0 + 0.25 * 4.8)
    assert table[-1] == NO_LIMIT


@pytest.mark.parametrize("setting", [("opens first", "inactive"), ("leaves fitted", "1")])
def test_setting_that_matters_makes_the_travel_worthless(gate, setting) -> None:
    """Another leaf order is another gate: what was learned is gone, and the panel says which setting did it."""
    gate.ask("set", *setting)
    assert gate.message == f"learning not finished: {setting[0]} was changed"
    assert gate.controller.panel().travel == (None, None)


def test_changed_speed_makes_the_load_worthless_until_two_cycles(gate) -> None:
    """Travel stays; auto-close is off until two whole cycles by command have renewed the load."""
    gate.write({"auto-close": "on", "auto-close after": 5, "run speed": 80})
    gate.mark()
    for _ in range(2):
        gate.tap("open button")
        gate.until_state("open")
        gate.run(20.0)
        assert gate.state == "open"
        gate.tap("close button")
        gate.until_state("closed")
    assert "learned load: renewed" in gate.plot()
    gate.tap("open button")
    gate.until_state("open, waiting to close")


def test_learning_again_that_ends_early_leaves_nothing(gate) -> None:
    """Who learns anew gives up what was learned before: half of two truths is none."""
    gate.ask("learn")
    gate.run(10.0)
    gate.tap("step button")
    gate.run(1.0)
    assert gate.controller.panel().travel == (None, None)


def test_obstacle_in_a_working_cycle_ends_learning_and_is_freed(ready) -> None:
    """A leaf that stands between its stops on a working cycle: it backs off, and nothing is kept."""
    ready.ask("learn")
    ready.until(lambda: ready.message.startswith("working cycle 1"), 200.0)
    ready.leaves[0].blocked_above = 400.0
    ready.run(15.0)
    assert ready.message == (
        "learning ended early, nothing is kept: active leaf stood still where no stop was learned"
    )
    assert ready.positions[0] < 340
    assert ready.controller.panel().travel == (None, None)


@pytest.mark.parametrize("blocked", [0, 1])
def test_travel_that_something_cut_short_is_not_taken_for_one(ready, blocked: int) -> None:
    """A leaf that something stopped half way has less than half of the other's travel: that is no stop."""
    ready.leaves[blocked].blocked_below = 600.0
    ready.leaves[blocked].position = 700.0
    ready.ask("learn")
    ready.run(200.0)
    name = ("active", "inactive")[blocked]
    assert ready.message.endswith(f"{name} leaf: only 40 % of the other leaf's travel, something stopped it")
    assert ready.controller.panel().travel == (None, None)


def test_leaf_without_a_stop_ends_learning(ready) -> None:
    """A leaf that runs on and on is stopped after two minutes: there is no stop to be learned."""
    ready.leaves[0].travel = 1e6
    ready.ask("learn")
    ready.run(130.0)
    assert ready.message.endswith("active leaf found no stop in 120 s")
    assert ready.duties == (0.0, 0.0)


def test_working_cycle_that_takes_too_long_ends_learning(ready) -> None:
    """The run-time limit holds for the working cycles as well."""
    ready.write({"run-time limit": 20, "run speed": 40, "slow speed": 20})
    for leaf in ready.leaves:
        leaf.travel, leaf.position = 3_000.0, 1_500.0
    ready.write({"slow speed": 40})
    ready.ask("learn")
    ready.run(400.0)
    assert ready.message == "learning ended early, nothing is kept: the run-time limit was reached"


@pytest.mark.parametrize(
    ("guard", "reaction", "closing", "goes_back"),
    [
        ("outer beam", "reopen", True, True),
        ("outer beam", "hold", True, False),
        ("outer beam", "halt", True, False),
        ("outer beam", "hold", False, False),
        ("outer beam", "halt", False, False),
        ("inactive edge", "reopen", True, True),
        ("inactive edge", "back off", True, True),
        ("inactive edge", "back off", False, True),
    ],
)
def test_which_guard_sends_it_back(ready, guard: str, reaction: str, closing: bool, goes_back: bool) -> None:
    """What is touched is freed on either way; a beam that reopens sends a closing back; hold and halt stop."""
    ready.write({guard: reaction})
    ready.ask("learn")
    ready.until(lambda: ready.duties[1] != 0)
    if closing:
        ready.until(lambda: ready.duties[1] < 0)
    ready.run(3.0)
    before = ready.positions[1]
    ready.trip(guard)
    ready.run(5.0)
    moved = (ready.positions[1] - before) * (1 if closing else -1)
    assert (moved > 20) is goes_back
    assert ready.controller.panel().travel == (None, None)
    assert ready.message.startswith("learning ended early")


def test_a_contact_that_keeps_the_gate_open_keeps_it_from_closing_and_not_from_learning(ready) -> None:
    """Whoever learns stands beside it; what is asked for by the clock is a place, and learning ends at none."""
    ready.press("timer contact")
    ready.run(0.1)
    assert ready.ask("learn") == "done: learn"
    ready.until_state("travel learning")
