"""What standards ask of a gate's control, as rows of data on the linear gate; each row with where it comes from.

Facts 2.2 and 2.3 and the sources they name: *seen* in a published text, *from memory*, or *common practice*.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from sim.controller.ports import RadioWord

# -- the line of a resistor edge: facts 2.2, band of 8.2 kΩ ± 10 % and pressed below 5 kΩ, common practice, calculated

LINES = [
    (8200.0, "clear", "idle: 8.2 kΩ at the far end"),
    (7400.0, "clear", "low end of the strict band"),
    (9000.0, "clear", "high end of the strict band"),
    (0.0, "pressed", "pressed: at most 1 kΩ"),
    (1000.0, "pressed", "pressed: at most 1 kΩ"),
    (4100.0, "pressed", "two end resistors in parallel"),
    (6150.0, "outside 7.4 to 9.0 kΩ", "inside the tolerant band, outside the strict one"),
    (10250.0, "outside 7.4 to 9.0 kΩ", "inside the tolerant band, outside the strict one"),
    (16400.0, "outside 7.4 to 9.0 kΩ", "two end resistors in series"),
    (1e9, "line open", "broken wire"),
]


@pytest.mark.parametrize(("ohms", "reads", "why"), LINES)
def test_the_line_of_an_edge_decides_whether_the_gate_starts(gate, ohms: float, reads: str, why: str) -> None:
    """Inside the band it starts; pressed, broken or out of band it stays, and the panel says what it read."""
    gate.edge_ohms["active edge"] = ohms
    gate.run(0.1)
    line = next(each for each in gate.controller.panel().inputs if each.name == "active edge")
    assert line.reads.endswith(reads), why
    gate.tap("open button")
    gate.run(5.0)
    assert gate.opens() is (reads == "clear"), why


# -- test before movement: facts 2.2, times 100 to 500 ms common practice; the principle seen


class Beam:
    """A beam whose receiver follows its emitter's supply after a time of its own [s], or not at all."""

    def __init__(self, name: str, goes_dark_s: float, recovers_s: float) -> None:
        self.name, self.after = name, {False: goes_dark_s, True: recovers_s}
        self.fed, self.since = True, 0

    def look(self, gate) -> None:
        if gate.outputs.emitter_supply is not self.fed:
            self.fed, self.since = gate.outputs.emitter_supply, gate.now
        if gate.now - self.since >= self.after[self.fed] * 1e6:
            gate.clear(self.name) if self.fed else gate.trip(self.name)


NEVER = 1e6
BEAMS = [
    (0.10, 0.10, True),
    (0.30, 0.30, True),
    (0.48, 0.48, True),
    (0.60, 0.10, False),
    (0.10, 0.60, False),
    (NEVER, 0.10, False),
    (0.10, NEVER, False),
]


@pytest.mark.parametrize(("goes_dark_s", "recovers_s", "moves"), BEAMS)
def test_a_beam_must_react_and_recover_in_its_time_before_anything_moves(
    gate, goes_dark_s: float, recovers_s: float, moves: bool
) -> None:
    """Drop, expect the change within 500 ms, restore, expect recovery within 500 ms, and only then move."""
    gate.deaf.add("outer beam")
    gate.on_step.append(Beam("outer beam", goes_dark_s, recovers_s).look)
    gate.tap("open button")
    gate.run(8.0)
    assert (gate.positions != (0, 0)) is moves


# -- category 2 (facts 2.3, ISO 13849-1 from memory): tested at demand; here at every start from rest


def by_transmitter(gate) -> None:
    gate.send("one", 1, 2)


def by_itself(gate) -> None:
    """The wait is over."""


def held(control: str) -> Callable[..., None]:
    return lambda gate: gate.press(control)


STARTS: list[tuple[str, str, Callable[..., None]]] = [
    ("closed", "open", held("open button")),
    ("closed", "one button", held("step button")),
    ("closed", "pedestrian", held("pedestrian button")),
    ("closed", "clock", held("timer contact")),
    ("closed", "emergency", held("emergency contact")),
    ("closed", "hold-to-run", held("key switch")),
    ("closed", "transmitter", by_transmitter),
    ("open", "close", held("close button")),
    ("open", "by itself", by_itself),
]


@pytest.fixture
def asked(gate):
    """A learned gate with every way of being asked: key as hold-to-run, a transmitter, closing by itself."""
    gate.write({"key switch": "hold-to-run open", "auto-close": "on", "auto-close after": 5})
    gate.ask("enrol", "Ada", "step")
    gate.send("one", 1, 1)
    return gate


def stands(gate, place: str) -> None:
    if place == "open":
        gate.tap("open button")
        gate.until_state("open, waiting to close")
    gate.mark()


@pytest.mark.parametrize(("place", "name", "start"), STARTS, ids=[name for _, name, _ in STARTS])
def test_every_start_is_tested_before_it_moves(asked, place: str, name: str, start) -> None:
    """Whoever asks: the emitters go dark and come back before the first leaf is driven."""
    stands(asked, place)
    start(asked)
    asked.until(lambda: asked.opens() or asked.closes())
    since = [(o.emitter_supply, o.active.duty or o.inactive.duty) for t, o in asked.trace if t > asked._began]
    moves = next(index for index, (_, duty) in enumerate(since) if duty)
    assert [fed for fed, _ in since[:moves]].count(False) >= 1
    assert since[moves - 1][0]


@pytest.mark.parametrize(("place", "name", "start"), STARTS, ids=[name for _, name, _ in STARTS])
@pytest.mark.parametrize("allowed", ["not allowed", "allowed"])
def test_after_a_device_failure_only_hold_to_run_where_it_is_allowed(asked, place, name, start, allowed) -> None:
    """Facts 2.2, common practice and seen: no automatic movement; hold-to-run only, in sight, if allowed."""
    asked.write({"hold-to-run after a failed test": allowed})
    stands(asked, place)
    asked.deaf.add("inner beam")
    before = asked.positions
    start(asked)
    asked.run(12.0)
    assert (asked.positions != before) is (name == "hold-to-run" and allowed == "allowed")


def test_a_guard_that_failed_and_cannot_be_tested_still_counts_as_failed(asked) -> None:
    """Its next start finds it tripped, so it isn't tested: what failed before keeps the gate still all the same."""
    asked.deaf.add("outer beam")
    asked.tap("open button")
    asked.run(3.0)
    asked.trip("outer beam")
    asked.tap("open button")
    asked.run(5.0)
    assert asked.positions == (0, 0)
    asked.supply_v = 3.0
    asked.run(0.5)
    asked.supply_v = 27.0
    asked.run(2.0)
    asked.tap("open button")
    asked.run(5.0)
    assert asked.positions == (0, 0)
    asked.tripped.clear()
    asked.deaf.clear()
    asked.tap("open button")
    asked.until_state("open, waiting to close")


# -- loss and return of power: facts 2.3, EU Regulation annex III 1.2.6, seen: no start, no changed parameters, guards


def at_rest(gate) -> None:
    """It stands shut."""


def on_its_way(control: str, seconds: float) -> Callable[..., None]:
    def act(gate) -> None:
        gate.tap(control)
        gate.run(seconds)

    return act


def closing(gate) -> None:
    gate.tap("open button")
    gate.until_state("open, waiting to close")
    gate.tap("close button")
    gate.run(5.0)


def waiting(gate) -> None:
    gate.tap("open button")
    gate.until_state("open, waiting to close")


def held_by_a_guard(gate) -> None:
    gate.tap("open button")
    gate.run(5.0)
    gate.trip("inner beam")
    gate.run(1.0)
    gate.clear("inner beam")


def under_a_hand(gate) -> None:
    gate.press("key switch")
    gate.run(5.0)


def reversing(gate) -> None:
    closing(gate)
    gate.trip("outer beam")
    gate.run(0.1)
    gate.clear("outer beam")


MOMENTS = {
    "at rest": at_rest,
    "testing its guards": on_its_way("open button", 0.0),
    "warning": on_its_way("open button", 1.0),
    "opening": on_its_way("open button", 5.0),
    "closing": closing,
    "waiting to close": waiting,
    "held": held_by_a_guard,
    "hold-to-run": under_a_hand,
    "reversing": reversing,
}


@pytest.mark.parametrize("off_s", [0.02, 5.0])
@pytest.mark.parametrize("stuck", ["", "open button", "step button", "timer contact", "emergency contact"])
@pytest.mark.parametrize("moment", MOMENTS)
def test_loss_and_return_of_power_start_nothing(asked, moment: str, stuck: str, off_s: float) -> None:
    """Whatever it did, whatever is held: with power back nothing moves, and no setting is another."""
    MOMENTS[moment](asked)
    if stuck:
        asked.press(stuck)
    sheet = asked.controller.panel().settings
    asked.supply_v = 3.0
    asked.run(off_s)
    assert asked.duties == (0.0, 0.0)
    asked.supply_v = 27.0
    back = asked.now
    asked.run(60.0)
    assert not any(o.active.duty or o.inactive.duty for t, o in asked.trace if t > back)
    assert asked.controller.panel().settings == sheet


@pytest.mark.parametrize("guard", ["inner beam", "active edge", "inactive edge", "stop circuit"])
def test_guards_are_effective_as_soon_as_power_is_back(asked, guard: str) -> None:
    """A guard that is open when power returns keeps the gate still: protective devices stay effective."""
    asked.supply_v = 3.0
    asked.run(0.5)
    asked.trip(guard)
    asked.supply_v = 27.0
    asked.run(2.0)
    asked.tap("open button")
    asked.run(10.0)
    assert asked.positions == (0, 0)


# -- facts 2.3, EU Regulation annex III 1.2.1, seen: no block to stopping; a lost radio link is no hazard


@pytest.mark.parametrize("stuck", ["open button", "close button", "timer contact", "emergency contact", "key switch"])
@pytest.mark.parametrize("moment", [name for name in MOMENTS if name != "at rest"])
def test_nothing_blocks_the_stop(asked, moment: str, stuck: str) -> None:
    """In every state, with any control stuck: within one scan nothing is driven, and letting go starts nothing."""
    MOMENTS[moment](asked)
    asked.press(stuck)
    asked.run(0.02)
    asked.trip("stop circuit")
    asked.run(0.01)
    assert asked.duties == (0.0, 0.0)
    asked.run(1.0)
    asked.clear("stop circuit")
    before = asked.positions
    asked.run(60.0)
    assert asked.positions == before


def test_a_radio_word_whose_end_never_comes_is_one_command(asked) -> None:
    """The link fails while a button is held: it was one press, and everything stops it as it would otherwise."""
    asked.hear(RadioWord("one", 1, 2, True))
    asked.run(5.0)
    assert asked.opens()
    asked.trip("inner beam")
    asked.run(0.02)
    assert asked.duties == (0.0, 0.0)
    asked.clear("inner beam")
    asked.until_state("open, waiting to close")
    given = [text for text in asked.plot() if "given by transmitter" in text]
    assert len(given) == 1


# -- alternative rule set: facts 2.6, restated on trade pages, seen; the fresh input after two from memory


def test_on_a_second_contact_it_stops_and_waits(gate) -> None:
    """It closed on something, and on its way back it meets something else: free of both it stands and waits."""
    gate.write({"auto-close": "on", "auto-close after": 5})
    gate.tap("open button")
    gate.until_state("open, waiting to close")
    gate.tap("close button")
    gate.run(5.0)
    gate.leaves[0].blocked_below = gate.leaves[0].position - 100.0
    gate.until_state("opening")
    gate.leaves[0].blocked_above = gate.leaves[0].position + 150.0
    gate.until(gate.rests)
    before = gate.positions
    gate.run(600.0)
    assert gate.positions == before
    assert gate.controller.panel().waits_for == ("a command (auto-close waits for a new command)",)


@pytest.mark.parametrize("guard", ["effort", "active edge"])
def test_after_two_contacts_a_fresh_input_is_needed(gate, guard: str) -> None:
    """With one retry on the sheet: the second contact in a row leaves it open until somebody gives a command."""
    gate.write({"auto-close": "on", "auto-close after": 5, "obstacle retries": 1, "active edge": "reopen"})
    gate.tap("open button")
    gate.until_state("open, waiting to close")
    for _ in range(2):
        gate.until(gate.closes)
        gate.run(2.0)
        if guard == "effort":
            gate.leaves[0].blocked_below = 600.0
            gate.until_state("opening")
        else:
            gate.trip(guard)
            gate.run(0.5)
            gate.clear(guard)
        gate.until(lambda: gate.state in ("open", "open, waiting to close"))
    gate.leaves[0].blocked_below = -1e9
    gate.run(600.0)
    assert gate.state == "open"
    gate.tap("close button")
    gate.until_state("closed")
