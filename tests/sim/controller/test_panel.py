"""Why it is not moving: every input as it is read, what it waits for, never the cause."""

from __future__ import annotations

import pytest

from sim.controller import ports


def line(gate, name: str):
    return next(line for line in gate.controller.panel().inputs if line.name == name)


def test_out_of_the_box_an_absent_guard_keeps_the_gate_still_and_it_says_so(fresh) -> None:
    """Every guard is declared as fitted; the inner beam that isn't there reads open."""
    fresh.trip("inner beam")
    fresh.run(0.1)
    panel = fresh.controller.panel()
    assert panel.state == "at rest"
    assert panel.waits_for == (
        "inner beam to read clear",
        "the sheet to say 'leaves fitted'",
        "the sheet to say 'drive kind'",
        "the sheet to say 'opens first'",
        "travel learning: learning not finished",
    )
    told = line(fresh, "inner beam")
    assert (told.reads, told.meaning, told.blocks) == ("open (24.1 V)", "keeps the gate still (hold)", True)


@pytest.mark.parametrize(
    ("ohms", "reads", "blocks"),
    [
        (8200.0, "8.2 kΩ, clear", False),
        (0.0, "0.0 kΩ, pressed", True),
        (4100.0, "4.1 kΩ, pressed", True),
        (16400.0, "16.4 kΩ, outside 7.4 to 9.0 kΩ", True),
        (1e9, "no resistance found, line open", True),
    ],
)
def test_edge_line_in_words(fresh, ohms: float, reads: str, blocks: bool) -> None:
    """An edge is shown with its resistance. Values: facts C62."""
    fresh.edge_ohms["active edge"] = ohms
    fresh.run(0.1)
    assert (line(fresh, "active edge").reads, line(fresh, "active edge").blocks) == (reads, blocks)


def test_undeclared_guard_blocks_nothing(fresh) -> None:
    """What is declared not fitted is shown and not used."""
    fresh.trip("inner beam")
    fresh.write({"inner beam": "not fitted"})
    told = line(fresh, "inner beam")
    assert (told.reads, told.meaning, told.blocks) == ("open (24.1 V)", "declared not fitted", False)


def test_every_input_has_a_line(gate) -> None:
    """Five guards and seven controls, in the order of the terminals."""
    assert [each.name for each in gate.controller.panel().inputs] == [
        "outer beam",
        "inner beam",
        "active edge",
        "inactive edge",
        "stop circuit",
        "open button",
        "close button",
        "step button",
        "key switch",
        "timer contact",
        "pedestrian button",
        "emergency contact",
    ]


def test_reopening_beam_keeps_only_from_closing(gate) -> None:
    """The line says on which movement the guard acts."""
    gate.trip("outer beam")
    gate.run(0.1)
    assert line(gate, "outer beam").meaning == "keeps the gate from closing (reopen)"


def test_never_the_cause(gate) -> None:
    """Nothing on the panel names a wire, a fault or a remedy: it shows readings."""
    gate.edge_ohms["active edge"] = 1e9
    gate.trip("outer beam")
    gate.leaves[0].connected = False
    gate.tap("open button")
    gate.run(10.0)
    told = repr(gate.controller.panel()).lower()
    for word in ("wire", "broken", "unplugged", "not connected", "fault", "replace", "check the"):
        assert word not in told


def test_looking_changes_nothing(gate) -> None:
    """The panel is a pure look."""
    gate.tap("open button")
    gate.run(4.0)
    before = gate.controller.state()
    for _ in range(3):
        gate.controller.panel()
    assert gate.controller.state() == before


def test_states_say_where_the_gate_is(gate) -> None:
    """At rest the state is the place."""
    assert gate.state == "closed"
    gate.tap("step button")
    gate.run(5.0)
    assert gate.state == "opening"
    gate.tap("step button")
    gate.run(2.0)
    assert gate.state == "part way open"


def test_happenings_are_the_log_as_data(gate) -> None:
    """Each line of the log stands there as data too, numbered without gaps."""
    gate.tap("open button")
    gate.until_state("open")
    panel = gate.controller.panel()
    assert [h.number for h in panel.happenings] == list(range(1, len(panel.log) + 1))
    given = next(h for h in panel.happenings if h.kind == "command")
    assert (given.what, given.detail) == ("open", "open button")


def test_log_keeps_the_newest(gate) -> None:
    """The log has an end: the oldest lines go first, the numbers go on."""
    for _ in range(250):
        gate.trip("outer beam")
        gate.run(0.02)
        gate.clear("outer beam")
        gate.run(0.02)
    panel = gate.controller.panel()
    assert len(panel.log) == 400
    assert panel.happenings[-1].number == gate._told + 500


def test_the_headline_is_the_head_of_the_panel(gate) -> None:
    """State, message and travel, at every moment of a visit with a guard, a refusal and a loss of power."""
    said = set()

    def agree(now) -> None:
        panel = now.controller.panel()
        said.add(panel.state)
        assert now.controller.headline() == (panel.state, panel.message, panel.travel)
        assert ports.headline_of(now.controller)() == now.controller.headline()

    gate.scans_when_dead = True
    gate.on_step.append(agree)
    gate.tap("open button")
    gate.run(20.0)
    gate.trip("outer beam")
    gate.tap("close button")
    gate.clear("outer beam")
    gate.tap("close button")
    gate.run(4.0)
    gate.trip("stop circuit")
    gate.run(2.0)
    gate.supply_v = 0.0
    gate.run(1.0)
    assert {"opening", "open", "closing", "halted", "no power"} <= said


def test_a_controller_of_three_methods_has_a_headline_too() -> None:
    """Who has no headline of its own is asked for its panel."""

    class Plain:
        def panel(self) -> ports.Panel:
            return ports.Panel("resting", "all is well", travel=(12, None))

    assert ports.headline_of(Plain())() == ("resting", "all is well", (12, None))


def test_it_names_the_leaf_that_waits_and_the_one_it_waits_for(gate) -> None:
    """Its delay, or the other leaf; on opening the second waits, on closing the first."""
    gate.write({"leaf delay, opening": 3, "leaf delay, closing": 3})
    gate.tap("open button")
    gate.until(gate.opens)
    assert gate.controller.panel().waits_for == ("inactive leaf waits for its delay",)
    gate.until_state("open")
    gate.tap("close button")
    gate.until(gate.closes)
    assert gate.controller.panel().waits_for == ("active leaf waits for its delay",)


@pytest.mark.parametrize("first", ["active", "inactive"])
def test_it_names_the_leaf_that_must_come_first(gate, first: str) -> None:
    """Held up in the lap the second leaf waits for the first to lead, and on closing the first for the second."""
    other = {"active": "inactive", "inactive": "active"}[first]
    if first == "inactive":
        gate.write({"opens first": first})
        gate.ask("learn")
        gate.until(lambda: gate.message.startswith("learning finished"), 300.0)
        gate.run(1.0)
    gate.write({"leaf delay, opening": 0.0})
    gate.tap("open button")
    gate.until(gate.opens)
    assert gate.controller.panel().waits_for == (f"{other} leaf waits for the {first} leaf",)
    gate.until(lambda: min(gate.positions) > 30)
    gate.trip("stop circuit")
    gate.run(1.0)
    gate.clear("stop circuit")
    gate.tap("close button")
    gate.until(gate.closes)
    assert gate.controller.panel().waits_for == (f"{first} leaf waits for the {other} leaf",)
