"""Each guard input is told what is wired to it: nothing, a beam pair, a contact edge, a resistor edge, the stop."""

from __future__ import annotations

import pytest

EDGE_AT_BEAM = {"inner beam": "back off", "inner beam input": "contact edge"}


def line(gate, name: str):
    return next(each for each in gate.controller.panel().inputs if each.name == name)


def closing(gate) -> None:
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.run(6.0)
    assert gate.closes()
    gate.mark()


@pytest.mark.parametrize(
    ("ohms", "reads", "starts"),
    [
        (0.0, "closed (0.0 V)", True),
        (900.0, "closed (0.3 V)", True),
        (1100.0, "open (0.4 V)", False),
        (8200.0, "open (1.6 V)", False),
        (1e9, "open (3.3 V)", False),
    ],
)
def test_a_contact_edge_where_a_resistor_edge_may_be(gate, ohms: float, reads: str, starts: bool) -> None:
    """Its loop is closed while it is well: about nothing; anything else is pressed, torn, or another device."""
    gate.edge_ohms["active edge"] = ohms
    gate.write({"active edge input": "contact edge"})
    assert line(gate, "active edge").reads == reads
    gate.tap("open button")
    gate.run(5.0)
    assert gate.opens() is starts


def test_a_wrong_word_about_an_edge_keeps_the_gate_still_and_says_so(gate) -> None:
    """A resistor edge taken for a contact edge reads open; the panel says what it reads, and that it blocks."""
    gate.write({"active edge input": "contact edge"})
    gate.tap("open button")
    gate.run(5.0)
    assert gate.message == "open refused: active edge reads pressed"
    assert line(gate, "active edge").blocks


def test_a_contact_edge_at_a_beams_input_is_freed_and_not_tested(gate) -> None:
    """It doesn't hang on the emitters' supply, so no test asks it; pressed, it is a contact like any other."""
    gate.write(EDGE_AT_BEAM)
    gate.deaf.add("inner beam")
    closing(gate)
    before = gate.positions
    gate.trip("inner beam")
    gate.trip("stop circuit")
    gate.run(4.0)
    assert gate.state == "halted"
    assert all(now - was >= 15 for was, now in zip(before, gate.positions, strict=True))
    assert not any("inner beam: " in text for text in gate.plot())


@pytest.mark.parametrize("does", ["reopen", "back off"])
def test_pressed_while_closing_it_takes_the_load_off(gate, does: str) -> None:
    """Reopening or backing off, as it is told; a beam that halts in the same scan changes nothing about that."""
    gate.write({**EDGE_AT_BEAM, "inner beam": does, "outer beam": "halt"})
    closing(gate)
    before = gate.positions[0]
    gate.trip("inner beam")
    gate.trip("outer beam")
    gate.run(5.0)
    assert gate.positions[0] - before >= 15


@pytest.mark.parametrize("does", ["hold", "halt"])
def test_an_edge_never_holds_or_halts(gate, does: str) -> None:
    """Wherever it is wired it must take the load off; either of the two words is refused where the other stands."""
    gate.write({"inner beam": does})
    assert "an edge must take the load off" in gate.ask("set", "inner beam input", "contact edge")
    gate.write(EDGE_AT_BEAM)
    assert "an edge must take the load off" in gate.ask("set", "inner beam", does)


def test_closing_by_itself_asks_for_a_beam_that_is_one(gate) -> None:
    """A contact edge at a beam's input notices nobody without touching."""
    gate.write({"outer beam": "not fitted", **EDGE_AT_BEAM})
    assert "needs a beam" in gate.ask("set", "auto-close", "on")
    gate.write({"inner beam input": "beam pair", "auto-close": "on"})
    assert "needs a beam" in gate.ask("set", "inner beam input", "contact edge")


def test_a_beam_that_failed_and_is_no_beam_any_more_is_forgotten(gate) -> None:
    """What is told to be an edge now has no test to fail."""
    gate.write({"inner beam": "back off"})
    gate.deaf.add("inner beam")
    gate.tap("open button")
    gate.run(3.0)
    assert "inner beam to pass its test at the next start" in gate.controller.panel().waits_for
    gate.write({"inner beam input": "contact edge"})
    gate.tap("open button")
    gate.until_state("open")
