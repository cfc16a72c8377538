"""Jog, seal, reset: what is done at the service panel."""

from __future__ import annotations

import pytest


def test_jog_moves_one_leaf_slowly_while_it_is_held(fresh) -> None:
    """A jog is hold-to-run: slow, one leaf, and it stops when the button is let go."""
    assert fresh.ask("jog", "active", "open") == "done: jog"
    fresh.run(2.0)
    assert fresh.duties == (0.35, 0.0)
    assert fresh.state == "jog"
    fresh.ask("jog", "active", "release")
    let_go_at = fresh.positions
    fresh.run(1.0)
    assert fresh.positions[0] - let_go_at[0] <= 2
    assert fresh.plot() == ["jog: active leaf, open", "stopping: jog let go"]


def test_jog_with_exchanged_leads_lets_the_counter_fall(fresh) -> None:
    """The controller doesn't know which way is right in a jog; the person sees the leaf go the other way."""
    fresh.leaves[1].sign = -1
    fresh.ask("jog", "inactive", "open")
    fresh.run(2.0)
    assert fresh.positions[1] < 500
    assert fresh.state == "jog"


@pytest.mark.parametrize("guard", ["outer beam", "inner beam", "active edge", "inactive edge"])
def test_jog_is_allowed_with_a_guard_reading_open(fresh, guard: str) -> None:
    """A beam or an edge that isn't there yet doesn't keep a jog from proving the direction."""
    fresh.trip(guard)
    fresh.ask("jog", "active", "close")
    fresh.run(1.0)
    assert fresh.duties == (-0.35, 0.0)


def test_jog_never_with_the_stop_circuit_open(fresh) -> None:
    """With the stop circuit open there is no jog at all."""
    fresh.trip("stop circuit")
    assert fresh.ask("jog", "active", "open") == "refused: the stop circuit reads open"
    fresh.run(2.0)
    assert fresh.duties == (0.0, 0.0)


def test_stop_ends_a_jog_and_the_held_button_stays_dead(fresh) -> None:
    """The stop beats the jog within one scan; closed again, the button that is still held moves nothing."""
    fresh.ask("jog", "active", "open")
    fresh.run(1.0)
    fresh.trip("stop circuit")
    fresh.run(0.01)
    assert fresh.duties == (0.0, 0.0)
    fresh.clear("stop circuit")
    fresh.run(5.0)
    assert fresh.duties == (0.0, 0.0)
    fresh.ask("jog", "active", "release")
    fresh.ask("jog", "active", "open")
    fresh.run(1.0)
    assert fresh.duties == (0.35, 0.0)


def test_jog_against_a_stop_lets_the_motor_go(fresh) -> None:
    """A leaf that stands though it is driven ends the jog; the panel says what it sees, not why."""
    fresh.ask("jog", "inactive", "open")
    fresh.run(12.0)
    assert fresh.duties == (0.0, 0.0)
    assert fresh.message == "inactive leaf stands though it is driven"


def test_one_jog_at_a_time(fresh) -> None:
    """The second jog button is refused while the first is held, and letting it go doesn't stop the first."""
    fresh.ask("jog", "active", "open")
    assert fresh.ask("jog", "inactive", "open") == "refused: a control is held"
    fresh.ask("jog", "inactive", "release")
    assert fresh.duties == (0.35, 0.0)


def test_jog_is_no_way_round_a_moving_gate(gate) -> None:
    """While the gate moves by itself the service functions are closed."""
    gate.tap("open button")
    gate.run(4.0)
    assert gate.ask("jog", "active", "close") == "refused: the gate is moving"
    assert gate.ask("set", "soft start", 2) == "refused: the gate is moving"


def test_sealed_sheet(gate) -> None:
    """A sealed sheet takes nothing; unsealing needs a name and a reason; who and why are logged both times."""
    gate.ask("seal", "Mira", "handed over")
    assert gate.plot() == ["sealed: by Mira: handed over"]
    assert gate.controller.panel().sealed
    for request in (
        ("set", "soft start", 2),
        ("jog", "active", "open"),
        ("learn",),
        ("reset to defaults",),
        ("enrol", "a", "open"),
    ):
        assert gate.ask(*request).startswith("refused: the sheet is sealed by Mira")
    assert gate.ask("unseal", "Mira") == "refused: say who opens it and why"
    gate.mark()
    assert gate.ask("unseal", "Mira", "edge replaced") == "done: unseal"
    assert gate.plot() == ["unsealed: by Mira: edge replaced"]
    assert gate.ask("set", "soft start", 2) == "done: soft start"


def test_sealed_gate_still_works(gate) -> None:
    """The seal is on the sheet, not on the gate."""
    gate.ask("seal", "Mira")
    gate.tap("open button")
    gate.until_state("open")


def test_reset_declares_every_guard_as_fitted(gate) -> None:
    """Defaults are the safe ones: every guard declared, nothing stated, nothing learned."""
    gate.write({"inner beam": "not fitted", "outer beam": "hold"})
    gate.ask("reset to defaults")
    settings = gate.controller.panel().settings
    assert [
        settings[name] for name in ("outer beam", "inner beam", "active edge", "inactive edge", "stop circuit")
    ] == [
        "reopen",
        "hold",
        "back off",
        "back off",
        "halt",
    ]
    assert settings["leaves fitted"] == "not stated"
    assert gate.controller.panel().travel == (None, None)
    gate.tap("open button")
    assert gate.message == "open refused: learning not finished"


def test_unknown_request_is_refused(gate) -> None:
    """The panel says so when it is asked for something it doesn't know."""
    assert gate.ask("dance") == "refused: the panel knows no 'dance'"
    assert gate.ask("jog", "left", "open").startswith("refused: a jog is")


def test_jog_and_key_end_the_wait_to_close(gate) -> None:
    """Whoever works at an open gate that waits to close doesn't have it close on him."""
    gate.write({"auto-close": "on", "auto-close after": 5, "key switch": "hold-to-run open"})
    gate.tap("open button")
    gate.until_state("open, waiting to close")
    gate.ask("jog", "active", "close")
    gate.run(1.0)
    gate.ask("jog", "active", "release")
    gate.run(60.0)
    assert gate.state == "part way open"
    gate.tap("open button")
    gate.until_state("open, waiting to close")
    gate.press("key switch")
    gate.run(4.0)
    gate.release("key switch")
    gate.run(60.0)
    assert gate.state == "open"


def test_control_held_too_long(fresh) -> None:
    """A jog button that got stuck moves a leaf for a minute, not for ever."""
    fresh.leaves[0].travel = 100_000.0
    fresh.ask("jog", "active", "open")
    fresh.run(70.0)
    assert fresh.duties == (0.0, 0.0)
    assert fresh.message == "held too long"


def test_service_refusals_in_words(gate) -> None:
    """Each request that can't be served is answered with the reason."""
    assert gate.ask("seal", " ") == "refused: say who seals it"
    assert gate.ask("unseal", "Mira", "why not") == "refused: the sheet is not sealed"
    gate.write({"leaves fitted": "1"})
    assert gate.ask("jog", "inactive", "open") == "refused: the sheet says that there is no inactive leaf"
    gate.trip("stop circuit")
    assert gate.ask("learn") == "refused: the stop circuit reads open"


def test_acknowledge_clears_the_message_and_nothing_else(gate) -> None:
    """The message was read; what keeps the gate still keeps it still."""
    gate.trip("inner beam")
    gate.tap("open button")
    gate.ask("acknowledge")
    assert gate.message == ""
    assert "inner beam to read clear" in gate.controller.panel().waits_for


def test_jog_straight_after_an_arrival_pauses_first(gate) -> None:
    """A leaf that was just pressed home is not driven open in the next scan."""
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.until_state("closed")
    stood = gate.now
    gate.ask("jog", "active", "open")
    gate.run(1.0)
    assert gate.state == "jog"
    started = min(at for at, outputs in gate.trace if at > stood and outputs.active.duty > 0.0)
    assert 200_000 <= started - stood <= 400_000


@pytest.mark.parametrize("direction", ["open", "close"])
def test_the_lamp_is_lit_from_the_first_scan_of_a_jog_to_standstill(fresh, direction: str) -> None:
    """Nobody waits for it, but whoever else is near is warned while the leaf moves. Common practice, no source."""
    assert not fresh.outputs.lamp
    fresh.write({"warning before moving": 10})
    fresh.ask("jog", "active", direction)
    fresh.run(1.0)
    fresh.ask("jog", "active", "release")
    fresh.run(3.0)
    driven = [o for t, o in fresh.trace if t > fresh._began and o.active.duty != 0.0]
    assert driven
    assert all(o.lamp for o in driven)
    assert not fresh.outputs.lamp
