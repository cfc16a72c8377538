"""Motors kept within their duty: counted, refused before it is too much, never stopped for it.

The judge is `sim.mechanics.duty`, which the controller may not know: type S3 of IEC 60034-1, facts 5.4.
"""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.controller import calendar
from sim.mechanics import duty
from tests.sim.controller.conftest import learned_gate


def runs(gate, index: int) -> list[tuple[float, float]]:
    """From when to when one leaf was driven since the mark [s]."""
    found, since = [], None
    for at, outputs in [*gate.trace, (gate.now, None)]:
        drive = None if outputs is None else (outputs.active, outputs.inactive)[index]
        driven = drive is not None and drive.duty != 0.0
        if driven and since is None and at > gate._began:
            since = at
        elif not driven and since is not None:
            found.append((since / 1e6, at / 1e6))
            since = None
    return found


def forget_the_past(gate) -> None:
    """What ran while it was learned is long over."""
    gate.run(700.0)
    gate.mark()


def busy(gate, times: int) -> None:
    """Command after command, as soon as the gate rests."""
    for _ in range(times):
        gate.tap("step button")
        gate.until_shown(lambda shown: gate.rests(), 200.0)
        gate.run(1.0)


def until_refused(gate) -> None:
    """Busy until a command is refused."""
    for _ in range(40):
        busy(gate, 1)
        if "refused" in gate.message:
            return
    pytest.fail("never refused")


def test_a_busy_gate_keeps_within_its_duty(gate) -> None:
    """Commanded without a pause for twenty minutes it refuses what would be too much and keeps to its duty; it is not
    timid either: it makes use of nearly all of it."""
    forget_the_past(gate)
    gate.write({"motor duty": 25})
    busy(gate, 60)
    assert any("refused" in text for text in gate.plot())
    for index in (0, 1):
        verdict = duty.judge(runs(gate, index), 0.25)
        assert verdict.is_within, str(verdict)
        assert verdict.running_s > 0.85 * verdict.allowed_s
    assert all(min(abs(p), abs(p - 1000)) <= 1 for p in gate.positions), "nothing was stopped part way"


@settings(max_examples=15, deadline=None)
@given(
    st.sampled_from((15, 25, 40, 60)),
    st.lists(st.tuples(st.floats(0.5, 90.0), st.sampled_from(("open button", "close button"))), max_size=25),
)
def test_whatever_is_commanded(share: int, plays: list[tuple[float, str]]) -> None:
    """At any times, in any order: every cycle keeps to the duty. Commands that meet a movement stop it, so runs are
    cut into pieces as well."""
    gate = learned_gate()
    forget_the_past(gate)
    gate.write({"motor duty": share})
    for seconds, name in plays * 3:
        gate.tap(name)
        gate.run(seconds)
    gate.run(60.0)
    for index in (0, 1):
        verdict = duty.judge(runs(gate, index), share / 100.0)
        assert verdict.running_s <= verdict.allowed_s + 0.02, str(verdict)


def test_it_says_when_it_is_ready_and_is(gate) -> None:
    """The panel names the wait and the time of day; a second earlier it still refuses, then it goes."""
    forget_the_past(gate)
    gate.controller.know_time(gate.now, calendar.typed("21 June 10:00"))
    gate.write({"motor duty": 15})
    until_refused(gate)
    found = re.search(
        r"motor has run enough for its duty: ready in (\d+) s, at 21 June, (\d\d:\d\d:\d\d)", gate.message
    )
    assert found, gate.message
    waits = gate.controller.panel().waits_for
    assert any(wait.startswith("the motors to rest until 21 June, " + found[2]) for wait in waits)
    gate.run(int(found[1]) - 3.0)
    gate.tap("step button")
    assert "refused" in gate.message
    gate.run(3.0)
    assert gate.message == "the motors have rested"
    assert not any("the motors" in wait for wait in gate.controller.panel().waits_for)
    gate.tap("step button")
    gate.until_shown(lambda shown: shown.state in ("opening", "closing"))


def test_a_reversal_asks_for_no_rest(gate) -> None:
    """With nothing left of its duty the gate still reopens for a guard, fully."""
    forget_the_past(gate)
    gate.write({"motor duty": 25})
    busy(gate, 11)
    gate.tap("close button" if gate.state == "open" else "open button")
    gate.run(0.5)
    for _ in range(30):
        if gate.state == "open":
            gate.tap("close button")
            gate.run(6.0)
            if gate.state == "closing":
                gate.trip("outer beam")
                gate.run(0.5)
                gate.clear("outer beam")
                gate.until_state("open")
        else:
            gate.tap("open button")
            gate.until_shown(lambda shown: gate.rests(), 60.0)
        if "refused" in gate.message:
            break
    assert "refused" in gate.message
    assert gate.state == "open"


def test_auto_close_waits_until_the_motors_have_rested(gate) -> None:
    """It isn't given up: once they have rested the gate closes, and the log isn't filled with refusals meanwhile."""
    forget_the_past(gate)
    gate.write({"motor duty": 15, "auto-close": "on", "auto-close after": 5})
    for _ in range(12):
        gate.tap("open button")
        gate.until_state("open, waiting to close")
        gate.run(5.1)
        if gate.message.startswith("close refused"):
            break
        gate.until_state("closed")
    assert gate.message.startswith("close refused: the active and inactive leaf's motor has run enough"), gate.message
    gate.until_state("closed", 700.0)
    assert len([text for text in gate.plot() if "refused" in text]) == 1


def test_who_holds_a_control_may_go_on(gate) -> None:
    """Jog and hold-to-run are in sight of whoever holds them; they count, and are never refused for it."""
    forget_the_past(gate)
    gate.write({"motor duty": 15})
    until_refused(gate)
    assert gate.ask("jog", "active", "open") == "done: jog"
    gate.run(0.5)
    assert gate.state == "jog"


def test_learning_waits_too(gate) -> None:
    """Learning runs both motors for minutes: it is refused while they are too warm."""
    gate.write({"motor duty": 15})
    until_refused(gate)
    answer = gate.ask("learn")
    assert answer.startswith("refused: the ")
    found = re.search(r"has run enough for its duty: ready in (\d+) s", answer)
    assert found, answer
    gate.run(int(found[1]) - 2.0)
    assert gate.ask("learn").startswith("refused: the ")
    gate.run(2.0)
    assert gate.ask("learn") == "done: learn"


def test_without_a_limit_nothing_rests(gate) -> None:
    """At 100 %, as it leaves the works, no gate ever rests."""
    busy(gate, 80)
    assert not any("refused" in text for text in gate.plot())


def test_switching_off_cools_no_motor(gate) -> None:
    """What ran before a loss of power counts after it, and a run that was cut off counts as the longest it can be."""
    forget_the_past(gate)
    gate.write({"motor duty": 15, "run-time limit": 60})
    busy(gate, 4)
    gate.tap("step button")
    gate.run(6.0)
    gate.supply_v = 3.0
    gate.run(70.0)
    gate.supply_v = 27.3
    gate.run(2.0)
    gate.tap("open button")
    assert "has run enough for its duty" in gate.message


def test_twin(make_gate) -> None:
    """Asked every 10 ms the same is refused at the same instants."""
    lazy, eager = make_gate(), make_gate(every_scan=True)
    for gate in (lazy, eager):
        gate.write({"motor duty": 15, "auto-close": "on", "auto-close after": 5})
        for _ in range(8):
            gate.tap("open button")
            gate.run(31.0)
        gate.run(300.0)
    assert any("refused" in text for text in lazy.plot())
    assert lazy.trace == eager.trace
    assert lazy.controller.state() == eager.controller.state()


def test_emergency_access_asks_for_no_rest(gate) -> None:
    """The emergency opening is for lives: warm motors are no reason against it."""
    forget_the_past(gate)
    gate.write({"motor duty": 15})
    until_refused(gate)
    if gate.state == "open":
        gate.leaves[0].position = gate.leaves[1].position = 400.0
        gate.run(0.1)
    gate.press("emergency contact")
    gate.until_state("opening")


def test_auto_close_asks_once_however_long_the_rest_is(gate) -> None:
    """A rest far longer than the waiting time: it is refused once, and closes when the motors have rested."""
    forget_the_past(gate)
    gate.write({"motor duty": 15})
    for _ in range(40):
        gate.tap("open button")
        gate.until_shown(lambda shown: gate.rests(), 200.0)
        gate.tap("close button")
        gate.until_shown(lambda shown: gate.rests(), 200.0)
        if "refused" in gate.message:
            break
    assert gate.message.startswith("close refused")
    gate.write({"auto-close": "on", "auto-close after": 30})
    gate.tap("open button")
    gate.until_state("closed", 700.0)
    refused, rested = [[at for at, text in gate.story() if word in text] for word in ("close refused", "have rested")]
    assert len(refused) == 2, "by the button, and once by itself"
    begun = next(at for at, text in gate.story() if at > refused[-1] and text.startswith("closing"))
    assert rested[-1] - refused[-1] > 300.0
    assert begun - rested[-1] < 2.5, "tested and warned of as soon as they have rested, not a waiting time later"
