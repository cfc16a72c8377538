"""A foreign controller is held to the contract: each breach is one sentence that names the value and the place."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from sim.bench import foreign
from sim.controller.ports import Drive, Inputs, Outputs, Panel, Scan
from sim.errors import ControllerError, DataError
from sim.units import Us

HEAD = """
from sim.controller.ports import Drive, Outputs, Panel, Scan

class Mine:
    def power_up(self, now): pass
    def panel(self): return Panel(state="resting", message="")
    def scan(self, now, inputs):
"""

INPUTS = Inputs(27.3, (0.0,) * 5, (24.0,) * 5, (0.0, 0.0), (0, 0), (0, 0))


@pytest.fixture
def written(tmp_path: Path) -> Callable[[str], foreign.Source]:
    """Write a file with the class `Mine` in it and name it as the command line does."""

    def write(text: str) -> foreign.Source:
        file = tmp_path / "mine.py"
        file.write_text(text, encoding="utf-8")
        return foreign.source(f"{file}:Mine")

    return write


@pytest.fixture
def answering(written: Callable[[str], foreign.Source]) -> Callable[[str], foreign.HeldToContract]:
    """A controller whose scan has the given one-line body."""
    return lambda body: foreign.load(written(f"{HEAD}        {body}\n"))


def test_a_sound_answer_passes_unchanged(answering: Callable[[str], foreign.HeldToContract]) -> None:
    """What keeps the contract reaches the host as it was given."""
    mine = answering("return Scan(Outputs(active=Drive(0.5)), wake=now + 10_000)")
    mine.power_up(Us(0))
    assert mine.scan(Us(20_000), INPUTS) == Scan(Outputs(active=Drive(0.5)), wake=Us(30_000))
    assert mine.panel() == Panel(state="resting", message="")


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ("return None", "scan answered None; a Scan is needed"),
        ("return Scan(3)", "scan answered outputs 3; an Outputs is needed"),
        ("return Scan(Outputs(active=1.0))", "the active leaf is given 1.0; a Drive is needed"),
        ("return Scan(Outputs(inactive=Drive(1.5)))", "the inactive leaf's duty is 1.5; allowed: −1 to 1"),
        ("return Scan(Outputs(active=Drive(float('nan'))))", "the active leaf's duty is nan; allowed: −1 to 1"),
        ("return Scan(Outputs(active=Drive(0.1, slew_per_s=-1)))", "slew is -1 per second; allowed: 0 to 1000"),
        ("return Scan(Outputs(active=Drive(0.1, limit_a='8')))", "current limit is '8' A; allowed: 0 to 1000"),
        ("return Scan(Outputs(), wake=now)", "it wants to be woken at 20000; a whole number of µs after 20000"),
        ("return Scan(Outputs(), wake=0.5)", "it wants to be woken at 0.5; a whole number of µs"),
        ("return Scan(Outputs(), watches=['count'])", "its watches are ['count']; None or a tuple of Watch"),
        ("return 1 / 0", "scan raised ZeroDivisionError: division by zero (mine.py, line 8)"),
        ("raise SystemExit(3)", "scan raised SystemExit: 3 (mine.py, line 8)"),
    ],
)
def test_a_breach_is_told_with_class_time_value_and_what_is_allowed(
    body: str, said: str, answering: Callable[[str], foreign.HeldToContract]
) -> None:
    """Nothing acts on an answer that isn't one; the sentence names class, simulated time and value."""
    with pytest.raises(ControllerError) as caught:
        answering(body).scan(Us(20_000), INPUTS)
    assert str(caught.value).startswith("Mine at 0:00:00.02: ")
    assert said in str(caught.value)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("class Other:\n    pass\n", "has no class 'Mine'; it has Other"),
        ("class Mina:\n    pass\n", "has no class 'Mine'; did you mean 'Mina'?"),
        ("Mine = 3\n", "has no class 'Mine'; it has no class"),
        ("class Mine:\n    pass\n", "Mine lacks scan; a controller has scan"),
        ("class Mine:\n    def __init__(self):\n        self.x = {}['a']\n", "Mine() can't be made: KeyError: 'a'"),
        ("import nothing_of_this_name\n", "mine.py can't be loaded: ModuleNotFoundError"),
        ("def broken(:\n", "mine.py can't be loaded: SyntaxError: invalid syntax (mine.py, line 1)"),
    ],
)
def test_a_file_without_a_controller_is_refused_in_words(
    text: str, said: str, written: Callable[[str], foreign.Source]
) -> None:
    """What can't be loaded says which file, which class, and the nearest right name."""
    with pytest.raises(ControllerError) as caught:
        foreign.load(written(text))
    assert said in str(caught.value)


@pytest.mark.parametrize("text", ["mine.py", "mine.py:", ":Mine", "mine.py:not a name", "absent.py:Mine"])
def test_a_name_of_another_form_is_refused(text: str) -> None:
    """Only file.py:Class names a controller, and the file must be there."""
    with pytest.raises(DataError, match=r"file\.py:Class|no file 'absent\.py'"):
        foreign.source(text)
