"""Obstacles by effort and by standing still: closing reverses, opening backs off, and there is an end to trying."""

from __future__ import annotations

import pytest

from sim.bench.line_leaf import RUNNING_A, LineLeaf
from sim.controller.obstacle import BINS
from sim.controller.ports import Drive, Watch, Watched
from tests.sim.controller.conftest import new_gate, stated


def closing(gate) -> None:
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.run(4.0)
    gate.mark()


def test_closing_reverses_by_effort(gate) -> None:
    """More effort than learned plus margin, twice 50 ms apart: both leaves reverse and open fully."""
    closing(gate)
    gate.leaves[0].blocked_below = 500.0
    gate.until_state("open")
    assert gate.story() == [
        (1.12, "active leaf: needed more effort than learned, closing: reverses"),
        (1.12, "reversing: obstacle: active leaf needed more effort than learned"),
        (1.42, "opening: after obstacle: active leaf needed more effort than learned"),
        (4.87, "open"),
    ]
    assert gate.message == "open, after obstacle: active leaf needed more effort than learned"


def test_reaction_time_by_effort(gate) -> None:
    """From the first excess to the drives being let go it takes no more than 100 ms."""
    closing(gate)
    gate.leaves[1].blocked_below = gate.leaves[1].position - 1.0
    touched = gate.now
    gate.until(lambda: gate.duties == (0.0, 0.0))
    assert gate.now - touched <= 100_000


def test_opening_backs_off(gate) -> None:
    """While opening both leaves go back by the back-off distance, halt, and wait for a command."""
    gate.tap("open button")
    gate.run(4.0)
    gate.mark()
    gate.leaves[1].blocked_above = 300.0
    gate.run(30.0)
    assert gate.plot() == [
        "inactive leaf: needed more effort than learned, opening: backs off",
        "backing off: obstacle: inactive leaf needed more effort than learned",
        "stopping: obstacle: inactive leaf needed more effort than learned",
    ]
    assert gate.positions[1] == pytest.approx(220, abs=5)


def test_first_leaf_goes_back_at_once_where_the_second_is_far_behind(gate) -> None:
    """Inside the lap a leaf that met something waits for the other only where it would come near it."""
    gate.write({"leaf delay, opening": 1.0, "back-off distance": 5})
    gate.tap("open button")
    gate.until(lambda: gate.positions[0] >= 230)
    gate.leaves[0].blocked_above = 240.0
    gate.until_state("backing off")
    assert 15 < gate.positions[1] < 100, "the second leaf is on its way, and far behind"
    gate.run(0.6)
    assert gate.positions[0] < 235


def test_leaf_that_waits_for_the_other_has_its_own_time_to_go_back(gate) -> None:
    """Side by side in the lap the first leaf waits for the second, and then goes back as far as it should."""
    gate.write({"slow speed": 20, "leaf delay, opening": 0.0, "back-off distance": 20})
    gate.tap("open button")
    gate.until(lambda: gate.positions[0] >= 230)
    gate.leaves[0].blocked_above = gate.leaves[0].position + 5.0
    gate.until_state("backing off")
    met = gate.positions[0]
    assert met < 250, "both are in the lap"
    gate.until(gate.rests)
    assert met - gate.positions[0] == pytest.approx(200, abs=6)


def test_way_back_is_no_crawl(gate) -> None:
    """Slow speed set low slows the slow zones, and not what takes the load off somebody."""
    gate.write({"slow speed": 20, "back-off distance": 20})
    gate.tap("open button")
    gate.run(6.0)
    gate.leaves[0].blocked_above = gate.leaves[0].position + 10.0
    gate.until_state("backing off")
    met = gate.positions
    gate.until(gate.rests)
    assert met[0] - gate.positions[0] == pytest.approx(200, abs=6)


def test_standing_still_without_effort_is_an_obstacle_too(gate) -> None:
    """A leaf that stands where no stop was learned is stopped by its quiet counter, whatever its current."""
    closing(gate)
    gate.leaves[0].connected = False
    gate.run(1.0)
    assert "active leaf: stood still where no stop was learned, closing: reverses" in gate.plot()


def test_near_the_stop_standing_still_is_an_arrival(gate) -> None:
    """Within the window of the learned stop the leaf has arrived; just before it, it has met something."""
    closing(gate)
    gate.leaves[0].blocked_below = 15.0
    gate.until_state("closed")
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.run(4.0)
    gate.leaves[0].blocked_below = 40.0
    gate.until_state("open")


def test_effort_that_was_learned_is_no_obstacle(gate) -> None:
    """The load is judged per place and way: what was needed on the working cycles may be needed again."""
    for _ in range(3):
        gate.tap("open button")
        gate.until_state("open")
        gate.tap("close button")
        gate.until_state("closed")
    assert not any("obstacle" in line or "effort" in line for line in gate.plot())


def test_retries_have_an_end(gate) -> None:
    """With auto-close the gate tries again so many times, then stays open and says why."""
    gate.write({"auto-close": "on", "auto-close after": 5, "obstacle retries": 2})
    gate.tap("open button")
    gate.until_state("open, waiting to close")
    gate.mark()
    gate.leaves[0].blocked_below = 500.0
    gate.run(300.0)
    met = [line for line in gate.plot() if line.startswith("active leaf: ")]
    assert met == [
        "active leaf: needed more effort than learned, closing: reverses",
        "active leaf: needed more effort than learned, closing: reverses",
        "active leaf: needed more effort than learned, closing: reverses; it stays open",
    ]
    assert gate.state == "open"
    assert gate.message == "open, after obstacle: active leaf needed more effort than learned; it stays open"
    gate.leaves[0].blocked_below = -1e9
    gate.run(60.0)
    assert gate.state == "open"
    gate.tap("close button")
    gate.until_state("closed")


def test_motor_that_does_nothing_ends_in_words(gate) -> None:
    """A lead that came off: the leaf stands though it is driven; the panel says that, not the cause."""
    gate.leaves[0].connected = False
    gate.tap("open button")
    gate.run(15.0)
    assert gate.message == "obstacle: active leaf stood still where no stop was learned"
    assert gate.duties == (0.0, 0.0)


def test_reopening_that_meets_something_backs_off(gate) -> None:
    """Caught between two obstacles the gate ends at rest, not in a circle."""
    closing(gate)
    gate.leaves[0].blocked_below = 500.0
    gate.until(lambda: gate.state == "opening")
    gate.leaves[0].blocked_above = 620.0
    gate.run(60.0)
    assert gate.duties == (0.0, 0.0)
    assert gate.plot()[-1].startswith("stopping: obstacle")


def limits_of(gate, leaf: int) -> list[Watch]:
    """The currents that the answer watches for, over the travel of one leaf."""
    watches = gate.scan.watches or ()
    return [each for each in watches if each.what is Watched.CURRENT_ABOVE_TABLE and each.leaf == leaf]


@pytest.mark.parametrize(("margin", "effort"), [(10, 50), (25, 60), (40, 100)])
def test_the_limit_is_the_learned_load_and_the_margin(gate, margin: int, effort: int) -> None:
    """So many % of the movement's effort above what was learned; before the stop ahead nothing is judged."""
    gate.write({"obstacle margin": margin, "motor effort, opening": effort, "motor effort, closing": effort})
    gate.write({"leaf delay, opening": 0, "leaf delay, closing": 0})
    for button, spared in (("open button", BINS - 1), ("close button", 0)):
        gate.tap(button)
        gate.until(lambda: limits_of(gate, 1))
        watch = limits_of(gate, 1)[0]
        effort_a = 8.0 * effort / 100.0
        wanted = min(0.95 * effort_a, RUNNING_A + margin / 100.0 * effort_a)
        assert watch.table_pitch == 1000 // BINS
        assert watch.table_start == gate.leaves[1].offset
        assert [place for place, limit in enumerate(watch.table) if limit > 100.0] == [spared]
        judged = [limit for limit in watch.table if limit < 100.0]
        assert judged == pytest.approx([wanted] * (BINS - 1))
        gate.until(gate.rests)


@pytest.mark.parametrize(("short", "arrives"), [(20.0, True), (22.0, False)])
@pytest.mark.parametrize("button", ["open button", "close button"])
def test_how_near_its_stop_a_leaf_has_arrived(gate, button: str, short: float, arrives: bool) -> None:
    """A fiftieth of the travel; standing still before that it has met something. CP, no source."""
    if button == "close button":
        gate.tap("open button")
        gate.until_state("open")
    gate.leaves[0].blocked_above, gate.leaves[0].blocked_below = 1000.0 - short, short
    gate.leaves[0].position = min(max(gate.leaves[0].position, short), 1000.0 - short)
    gate.mark()
    gate.tap(button)
    gate.until_state("opening" if button == "open button" else "closing")
    gate.until(gate.rests)
    assert any(said.startswith("active leaf: ") for said in gate.plot()) is not arrives


class Uphill(LineLeaf):
    """Takes half as much again while it opens."""

    def step(self, drive: Drive) -> None:
        super().step(drive)
        if self.moved and self.duty > 0.0:
            self.current = 1.5 * RUNNING_A


def test_what_is_learned_of_one_way_is_kept_for_that_way() -> None:
    """A leaf that opens uphill: opening is the harder way, closing the lighter."""
    gate = stated(new_gate(leaf=Uphill))
    gate.ask("learn")
    gate.until_shown(lambda shown: shown.message.startswith("learning finished"), 400.0)
    for leaf in gate.controller.state()["leaves"]:
        assert max(leaf["opening_load"]) == 1.5 * RUNNING_A
        assert max(leaf["closing_load"]) == RUNNING_A


def test_each_way_and_place_has_its_own_limit(gate) -> None:
    """What is hard on opening is no licence on closing; what is hard at one place is none at another."""
    state = gate.controller.state()
    rising = [RUNNING_A + 0.05 * place for place in range(BINS)]
    for leaf in state["leaves"]:
        leaf["opening_load"], leaf["closing_load"] = rising, rising[::-1]
    gate.controller.restore(state)
    gate.write({"obstacle margin": 10, "leaf delay, opening": 0, "leaf delay, closing": 0})
    for button, load in (("open button", rising), ("close button", rising[::-1])):
        gate.tap(button)
        gate.until(lambda: limits_of(gate, 0))
        judged = [(had, limit) for had, limit in zip(load, limits_of(gate, 0)[0].table, strict=True) if limit < 100.0]
        assert len(judged) == BINS - 1
        assert all(limit == pytest.approx(had + 0.1 * 4.8) for had, limit in judged)
        gate.until(gate.rests)


@pytest.mark.parametrize(
    ("guard", "reaction", "goes_back"),
    [
        ("inner beam", "back off", False),
        ("inner beam", "reopen", False),
        ("active edge", "reopen", False),
        ("active edge", "back off", True),
    ],
)
def test_what_lets_a_way_back_close(gate, guard: str, reaction: str, goes_back: bool) -> None:
    """An opening that met something goes back unless a guard acts on closing; only an edge that is to have it go back
    is no such guard."""
    gate.write({guard: reaction})
    gate.tap("open button")
    gate.run(5.0)
    gate.mark()
    gate.leaves[0].blocked_above = gate.leaves[0].position
    gate.trip(guard)
    gate.run(2.0)
    closed = any(min(o.active.duty, o.inactive.duty) < 0 for at, o in gate.trace if at > gate._began)
    assert closed is goes_back
