"""Radio: enrol by pressing, functions, rolling counters, deleting. Facts 5.5, common practice."""

from __future__ import annotations

import pytest

from sim.controller.ports import RadioWord
from sim.controller.transmitters import FAR_WINDOW, MOST_BUTTONS, MOST_HEARD, WINDOW


def enrolled(gate, function: str = "open", counter: int = 100):
    gate.ask("enrol", "Ada", function)
    gate.send("one", 1, counter)
    gate.mark()
    return gate


def taken(gate) -> bool:
    return any("given by transmitter of Ada" in line for line in gate.plot())


def test_enrolling_by_pressing(gate) -> None:
    """A press while enrolling is enrolled for its holder, and is no command."""
    gate.ask("enrol", "Ada", "open")
    assert gate.message == "enrolling for Ada: press the button to enrol"
    gate.send("one", 1, 7)
    assert gate.message == "enrolled for Ada: open"
    assert gate.controller.panel().transmitters == (("Ada", "open"),)
    gate.run(3.0)
    assert gate.state == "closed"


def test_enrolling_ends_by_itself(gate) -> None:
    """Nothing pressed for half a minute: enrolling ends; a later press is nobody's."""
    gate.ask("enrol", "Ada", "open")
    gate.run(31.0)
    gate.send("one", 1, 7)
    gate.run(3.0)
    assert gate.controller.panel().transmitters == ()
    assert gate.plot() == ["Ada: not enrolled: nothing was pressed"]


@pytest.mark.parametrize(
    ("ahead", "good"),
    [
        (1, True),
        (WINDOW, True),
        (WINDOW + 1, False),
        (FAR_WINDOW, False),
        (FAR_WINDOW + 1, False),
        (0, False),
        (-1, False),
    ],
)
def test_rolling_window(gate, ahead: int, good: bool) -> None:
    """Up to 16 ahead is good at once; further ahead, the same and older are not. Facts 5.5."""
    enrolled(gate).send("one", 1, 100 + ahead)
    assert taken(gate) is good


@pytest.mark.parametrize(("second", "good"), [(1, True), (0, False), (2, False)])
def test_two_in_a_row_far_ahead(gate, second: int, good: bool) -> None:
    """Far ahead, only the very next word makes the transmitter known again."""
    enrolled(gate).send("one", 1, 5_000)
    assert gate.plot() == ["Ada: far ahead of its last word: press again"]
    gate.send("one", 1, 5_000 + second)
    assert taken(gate) is good


def test_replayed_word_never_works(gate) -> None:
    """A word that was recorded and sent again is old: at once, later, and after newer ones."""
    enrolled(gate, "step").send("one", 1, 101)
    gate.until_state("open")
    gate.mark()
    gate.send("one", 1, 101)
    gate.send("one", 1, 100)
    gate.send("one", 1, 102)
    gate.run(1.0)
    gate.send("one", 1, 101)
    assert [line for line in gate.plot() if "Ada" in line] == [
        "Ada: an old word was received and ignored",
        "Ada: an old word was received and ignored",
        "close given by transmitter of Ada",
        "Ada: an old word was received and ignored",
    ]


def test_unknown_and_deleted_transmitters_do_nothing(gate) -> None:
    """Not enrolled, another button, deleted: no command, ever."""
    enrolled(gate)
    gate.send("two", 1, 101)
    gate.send("one", 2, 101)
    gate.ask("delete transmitter", "Ada")
    gate.send("one", 1, 102)
    gate.run(3.0)
    assert gate.state == "closed"
    assert gate.plot() == ["Ada: deleted"]


def test_old_word_of_a_deleted_transmitter_cannot_enrol(gate) -> None:
    """Counters outlive the deleting, so that a recorded word isn't new again."""
    enrolled(gate)
    gate.ask("delete transmitter", "Ada")
    gate.ask("enrol", "Eve", "open")
    gate.send("one", 1, 100)
    assert gate.controller.panel().transmitters == ()


def test_delete_one_and_all(gate) -> None:
    """Deleting one holder leaves the others; deleting all leaves nobody; a wrong name says who is there."""
    enrolled(gate)
    gate.ask("enrol", "Bo", "close")
    gate.send("two", 1, 5)
    assert gate.ask("delete transmitter", "Cy") == "refused: no transmitter is enrolled for 'Cy'; enrolled: Ada, Bo"
    gate.ask("delete transmitter", "Ada")
    assert gate.controller.panel().transmitters == (("Bo", "close"),)
    gate.ask("delete all transmitters")
    assert gate.controller.panel().transmitters == ()


def test_button_is_enrolled_once(gate) -> None:
    """One button has one holder and one function."""
    enrolled(gate)
    gate.ask("enrol", "Bo", "close")
    gate.send("one", 1, 101)
    assert gate.message == "not enrolled: this button is enrolled for Ada"
    assert gate.controller.panel().transmitters == (("Ada", "open"),)


def test_memory_has_an_end(gate) -> None:
    """A full memory says so and takes no more."""
    for number in range(MOST_BUTTONS):
        gate.ask("enrol", f"holder {number}", "open")
        gate.send(f"serial {number}", 1, 1)
    assert (
        gate.ask("enrol", "one more", "open") == f"refused: the memory is full: {MOST_BUTTONS} buttons are enrolled"
    )


@pytest.mark.parametrize(("holder", "function"), [("", "open"), ("Ada", "fly")])
def test_enrolling_needs_a_holder_and_a_function(gate, holder: str, function: str) -> None:
    """Who carries it and what it does are part of the record."""
    assert gate.ask("enrol", holder, function).startswith("refused: ")


def test_transmitter_never_runs_hold_to_run(gate) -> None:
    """After a failed guard test a transmitter moves nothing: only the wired key does, where the sheet allows it."""
    gate.write({"key switch": "hold-to-run open", "hold-to-run after a failed test": "allowed"})
    gate.deaf.add("inner beam")
    enrolled(gate).send("one", 1, 101)
    gate.run(10.0)
    assert gate.positions == (0, 0)
    gate.press("key switch")
    gate.run(5.0)
    assert gate.opens()


@pytest.mark.parametrize(("function", "state"), [("open", "opening"), ("step", "opening"), ("pedestrian", "opening")])
def test_functions(gate, function: str, state: str) -> None:
    """Each function gives its command."""
    enrolled(gate, function).send("one", 1, 101)
    gate.run(3.0)
    assert gate.state == state


def test_halt_function(gate) -> None:
    """A transmitter's halt stops a movement."""
    enrolled(gate, "halt")
    gate.tap("open button")
    gate.run(4.0)
    gate.send("one", 1, 101)
    gate.run(1.0)
    assert gate.duties == (0.0, 0.0)
    assert gate.message == "halted by transmitter of Ada"


def test_the_panel_lists_the_last_words(gate) -> None:
    """Holder, step and what became of it; strangers without a name; the twenty newest."""
    enrolled(gate)
    for serial, counter in (("one", 101), ("one", 101), ("one", 150), ("two", 5)):
        gate.send(serial, 1, counter)
    heard = gate.controller.panel().heard
    assert [tuple(word) for word in heard] == [
        ("Ada", 0, "enrolled"),
        ("Ada", 1, "accepted"),
        ("Ada", 0, "an old word"),
        ("Ada", 49, "too far ahead"),
        ("", 0, "not enrolled"),
    ]
    for counter in range(102, 140):
        gate.send("two", 1, counter)
    assert len(gate.controller.panel().heard) == MOST_HEARD


def test_a_fixed_code_is_good_only_where_it_was_enrolled(gate) -> None:
    """Enrolled as one, the same word works each time; a rolling entry takes no fixed word for its own."""
    gate.ask("enrol", "Ada", "open")
    gate._radio.append(RadioWord("one", 1, 0, True, fixed=True))
    gate.run(0.1)
    for _ in range(3):
        gate._radio.append(RadioWord("one", 1, 0, True, fixed=True))
        gate.run(0.1)
    assert [tuple(word)[1:] for word in gate.controller.panel().heard] == [(0, "enrolled")] + [(0, "accepted")] * 3
    other = type(gate)(every_scan=gate.every_scan)
    other.run(2.0)
    enrolled(other)._radio.append(RadioWord("one", 1, 0, True, fixed=True))
    other.run(0.1)
    assert other.controller.panel().heard[-1].verdict == "an old word"


def test_a_fixed_word_is_never_taken_for_a_rolling_one_however_far_ahead(gate) -> None:
    """Who sends the serial of an enrolled transmitter with a counter ahead, but as a fixed code, moves nothing."""
    enrolled(gate)
    for counter in (101, 102, 103):
        gate._radio.append(RadioWord("one", 1, counter, True, fixed=True))
        gate.run(0.1)
    assert gate.state == "closed"
    assert [word.verdict for word in gate.controller.panel().heard[1:]] == ["an old word"] * 3
    gate.send("one", 1, 101)
    assert gate.controller.panel().heard[-1].verdict == "accepted"


@pytest.mark.parametrize("how", ["one", "all"])
def test_a_deleted_user_never_opens_again(gate, how: str) -> None:
    """Deleted, none of his buttons works, whatever their counters, and not after a loss of power either."""
    enrolled(gate)
    gate.ask("enrol", "Ada", "step")
    gate.send("one", 2, 101)
    gate.ask("delete transmitter", "Ada") if how == "one" else gate.ask("delete all transmitters")
    for counter in (102, 103, 140, 141, 5):
        gate.send("one", 1, counter)
        gate.send("one", 2, counter)
    gate.supply_v = 3.0
    gate.run(0.5)
    gate.supply_v = 27.0
    gate.run(2.0)
    gate.send("one", 1, 200)
    gate.send("one", 2, 201)
    gate.run(5.0)
    assert gate.positions == (0, 0)
    assert gate.controller.panel().transmitters == ()
    gate.ask("enrol", "Ada", "open")
    gate.send("one", 1, 100)
    assert gate.controller.panel().transmitters == ()


def test_a_memory_read_out_and_written_back_is_the_same(gate) -> None:
    """What was enrolled, with its functions; its counters stay, so that old words stay old."""
    enrolled(gate, "halt")
    kept = gate.controller.enrolled()
    gate.controller.know(())
    assert gate.controller.panel().transmitters == ()
    gate.controller.know(kept)
    assert gate.controller.enrolled() == kept
    assert gate.controller.last_count("one") == 100
    gate.send("one", 1, 100)
    assert gate.controller.panel().heard[-1].verdict == "an old word"


@pytest.mark.parametrize(
    ("ahead", "said"),
    [
        (0, "an old word was received and ignored"),
        (1, "given by transmitter of Ada"),
        (WINDOW, "given by transmitter of Ada"),
        (WINDOW + 1, "far ahead of its last word: press again"),
        (FAR_WINDOW, "far ahead of its last word: press again"),
        (FAR_WINDOW + 1, "an old word was received and ignored"),
    ],
)
def test_what_is_said_of_a_word(gate, ahead: int, said: str) -> None:
    """Near, far and beyond: whoever presses is asked to press again only where that can help."""
    enrolled(gate)
    gate.send("one", 1, 100 + ahead)
    assert said in gate.plot()[0]
