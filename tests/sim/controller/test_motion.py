"""Motion: soft start, slow zones, stops found by standing still, seating push, time limit, lamp, lock, light."""

from __future__ import annotations

import pytest


def test_slow_zones_before_both_stops(gate) -> None:
    """Within the slow zone's share of the travel the leaf is driven at slow speed, opening and closing."""
    gate.write({"slow zone before stop": 30, "leaf delay, opening": 3, "leaf delay, closing": 8})
    fast: list[float] = []
    slow: list[float] = []

    def look(g) -> None:
        duty = abs(g.outputs.active.duty)
        if duty:
            (fast if duty == 1.0 else slow).append(g.leaves[0].position)

    gate.on_step.append(look)
    gate.tap("open button")
    gate.until_state("open")
    assert max(fast) <= 702
    assert min(slow) >= 700
    fast.clear()
    slow.clear()
    gate.tap("close button")
    gate.until_state("closed")
    assert min(fast) >= 298
    assert max(slow) <= 300


def test_soft_start(gate) -> None:
    """The bridge is told to reach run speed in the soft start's time, slow movements in half a second."""
    gate.write({"soft start": 2.0, "run speed": 80})
    gate.tap("open button")
    gate.run(3.0)
    assert gate.outputs.active.slew_per_s == pytest.approx(0.8 / 2.0)


def test_effort_is_the_current_limit(gate) -> None:
    """Effort in % of rated is what the bridge lets through, per direction."""
    gate.write({"motor effort, opening": 50, "motor effort, closing": 35})
    gate.tap("open button")
    gate.run(3.0)
    assert gate.outputs.active.limit_a == pytest.approx(4.0)
    gate.until_state("open")
    gate.tap("close button")
    gate.run(3.0)
    assert gate.outputs.inactive.limit_a == pytest.approx(2.8)


def test_seating_push_presses_the_leaf_home(gate) -> None:
    """At the closed stop the drive goes on pressing for the seating push; at the open stop it doesn't."""
    gate.write({"seating push": 1.5, "leaf delay, closing": 6})
    standing = {1: 0, -1: 0}

    def look(g) -> None:
        duty = g.outputs.inactive.duty
        if duty and g.leaves[1].quiet > 0 and g.leaves[1].position in (0.0, 1000.0):
            standing[1 if duty > 0 else -1] += 1

    gate.tap("open button")
    gate.until(lambda: gate.leaves[1].position > 500)
    gate.on_step.append(look)
    gate.until_state("open")
    gate.tap("close button")
    gate.until_state("closed")
    assert standing[-1] - standing[1] == pytest.approx(150, abs=2)


def test_stop_is_the_new_reference_of_the_counts(gate) -> None:
    """An encoder that slipped a little is put right at the next stop; it never adds up."""
    gate.tap("open button")
    gate.until_state("open")
    for leaf in gate.leaves:
        leaf.offset += 12
    gate.tap("close button")
    gate.until_state("closed")
    assert [leaf["origin"] for leaf in gate.controller.state()["leaves"]] == [leaf.offset for leaf in gate.leaves]


def test_run_time_limit_always_ends_a_run(gate) -> None:
    """A movement that takes too long is stopped; the panel says so and nothing follows."""
    gate.write({"run-time limit": 20, "run speed": 40, "slow speed": 20})
    for leaf in gate.leaves:
        leaf.travel = 9_000.0
    state = gate.controller.state()
    for leaf in state["leaves"]:
        leaf["travel"] = 9_000
    gate.controller.restore(state)
    gate.mark()
    gate.tap("open button")
    gate.run(60.0)
    assert gate.story()[-2:] == [
        (2.21, "opening: by open button"),
        (22.21, "stopping: the run-time limit was reached"),
    ]
    assert gate.message == "the run-time limit was reached"


def test_released_leaf_is_never_reported_closed(gate) -> None:
    """A motor that turns without its leaf runs past the place of the stop: the run ends, the position is unknown."""
    gate.tap("open button")
    gate.until_state("open")
    gate.leaves[1].released = True
    gate.tap("close button")
    gate.run(30.0)
    assert gate.state == "position unknown"
    assert gate.message == ("inactive leaf ran past the place where its stop was learned; position unknown")
    assert "closed" not in gate.plot()


def test_counter_that_runs_against_the_command_ends_the_run(gate) -> None:
    """Leads exchanged after learning: the leaf is stopped after a few counts."""
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.run(5.0)
    gate.tap("step button")
    gate.run(2.0)
    gate.leaves[0].sign = -1
    gate.mark()
    gate.tap("open button")
    gate.run(10.0)
    assert gate.plot()[-2] == "active leaf: ran the wrong way: its counter went against the command"
    assert gate.duties == (0.0, 0.0)


def test_lamp_warns_before_and_during_motion(gate) -> None:
    """The lamp is on from the warning to the end of the movement, and off at rest."""
    gate.write({"warning before moving": 3})
    gate.tap("open button")
    gate.until(lambda: gate.outputs.lamp)
    lit_at = gate.now
    gate.until(gate.opens)
    assert gate.now - lit_at == 3_000_000
    gate.on_step.append(lambda g: _lit_while_driven(g))
    gate.until_state("open")
    gate.run(1.0)
    assert not gate.outputs.lamp


def _lit_while_driven(gate) -> None:
    assert gate.outputs.lamp or gate.duties == (0.0, 0.0)


def test_lock_is_freed_before_opening(gate) -> None:
    """Lock pulse first, with a short closing push that takes the load off the bolt; then the leaf opens, and has the
    pulse anew to leave the bolt."""
    gate.write({"electric lock": "fitted", "lock pulse": 1.5, "relief push": 0.3})
    gate.mark()
    gate.tap("open button")
    gate.run(5.0)
    told = [
        (round((t - gate._began) / 1e6, 2), o.active.duty, o.inactive.duty, o.lock)
        for t, o in gate.trace
        if t > gate._began + 2_000_000
    ]
    assert told == [
        (2.21, -0.35, 0.0, True),
        (2.51, 0.0, 0.0, True),
        (2.81, 1.0, 0.0, True),
        (3.7, 1.0, 1.0, True),
        (4.31, 1.0, 1.0, False),
    ]


def test_relief_push_is_left_out_while_a_closing_guard_is_tripped(gate) -> None:
    """The push closes, if only a little: never with a guard tripped that acts on closing."""
    gate.write({"electric lock": "fitted"})
    gate.trip("outer beam")
    gate.tap("open button")
    gate.until_state("open")
    assert not any(min(o.active.duty, o.inactive.duty) < 0 for t, o in gate.trace if t > gate._began)


def test_yard_light(gate) -> None:
    """On from the start and for its time after the movement."""
    gate.write({"yard light": "on", "yard light after": 10})
    gate.tap("open button")
    assert gate.outputs.yard_light
    gate.until_state("open")
    gate.run(9.5)
    assert gate.outputs.yard_light
    gate.run(1.0)
    assert not gate.outputs.yard_light


@pytest.mark.parametrize(
    ("counts", "met"), [(19, "stood still where no stop was learned"), (20, "ran the wrong way")]
)
@pytest.mark.parametrize("button", ["open button", "close button"])
def test_how_far_against_the_command_is_no_mistake(gate, button: str, counts: int, met: str) -> None:
    """Twenty counts against it are the wrong way; fewer are a leaf that gave a little and stands. CP, no source."""
    gate.tap("open button")
    gate.until(lambda: gate.positions[0] >= 500)
    gate.trip("stop circuit")
    gate.run(2.0)
    gate.clear("stop circuit")
    gate.run(0.1)
    leaf = gate.leaves[0]
    leaf.position = 600.0
    leaf.sign = -1
    if button == "open button":
        leaf.blocked_below = 600.0 - counts
    else:
        leaf.blocked_above = 600.0 + counts
    gate.run(0.1)
    gate.mark()
    gate.tap(button)
    gate.run(12.0)
    assert any(f"active leaf: {met}" in said for said in gate.plot()), gate.plot()


@pytest.mark.parametrize(
    ("settings", "start_s"),
    [
        ({"soft start": 0.5}, 0.5),
        ({"soft start": 2.0}, 2.0),
        ({"motor kind": "mains, one speed"}, 0.5),
    ],
)
def test_a_leaf_that_never_moves_is_given_its_start(make_fresh, settings, start_s: float) -> None:
    """Standing still is judged three tenths of a second after the soft start, or half a second on the mains. CP."""
    gate = make_fresh()
    gate.write({"leaves fitted": "2", "drive kind": "linear ram", "opens first": "active", **settings})
    gate.ask("learn")
    gate.until_shown(lambda shown: shown.message.startswith("learning finished"), 400.0)
    gate.run(1.0)
    gate.leaves[0].connected = False
    gate.tap("open button")
    gate.until(gate.opens)
    began = gate.now
    gate.until(lambda: gate.duties[0] == 0.0)
    assert gate.now - began == pytest.approx((start_s + 0.3) * 1e6, abs=20_000)


def test_a_slow_movement_that_never_moves_is_given_its_start(ready) -> None:
    """The same on a slow run: half a second and three tenths."""
    ready.leaves[0].connected = False
    ready.ask("jog", "active", "open")
    began = ready.now
    ready.until(lambda: ready.duties[0] == 0.0)
    assert ready.now - began == pytest.approx(0.8e6, abs=40_000)
