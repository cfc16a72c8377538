"""The learned load and the temperature it was learned at: noted per direction, shown, and said where it bites."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sim.controller.season import FAR_K
from sim.units import LEAVES


def learn_at(gate, degrees: float) -> None:
    """Learn with the board at a temperature."""
    gate.board_c = degrees
    gate.ask("learn")
    gate.until_shown(lambda shown: shown.message.startswith("learning finished"), 400.0)
    gate.run(1.0)


def warm(gate, degrees: float) -> None:
    """The day gets warmer or colder; something is due, so that it is read."""
    gate.board_c = degrees
    gate.ask("acknowledge")


def stiff(gate, amps: float) -> None:
    """Both drives need so much to move."""
    read = type(gate).inputs

    def inputs():
        found = read(gate)
        return replace(found, motor_a=tuple(max(a, amps) if a else 0.0 for a in found.motor_a))

    gate.inputs = inputs


def test_the_temperature_of_learning_is_noted_and_survives(gate) -> None:
    """The panel says at what temperature of the board the load was learned, after a loss of power as well."""
    learn_at(gate, 15.0)
    assert gate.controller.panel().learned == "load learned with the board at 15 °C"
    gate.supply_v = 2.0
    gate.run(1.0)
    gate.supply_v = 27.3
    gate.run(1.0)
    assert gate.controller.panel().learned == "load learned with the board at 15 °C"


def test_each_direction_has_its_own(gate) -> None:
    """The load is learned per direction, and so is its temperature."""
    gate.board_c = 5.0
    gate.ask("learn")
    gate.until_shown(lambda shown: shown.message == "working cycle 2 of 2: closing", 400.0)
    gate.board_c = 9.0
    gate.until_shown(lambda shown: shown.message.startswith("learning finished"), 400.0)
    assert gate.controller.panel().learned == "load learned with the board at 5 °C opening, 9 °C closing"


@pytest.mark.parametrize(
    ("now", "said"),
    [
        (15.0 - FAR_K + 1.0, ""),
        (15.0 - FAR_K, "; now it is at 0 °C: it may need more effort than was learned"),
        (-12.0, "; now it is at -12 °C: it may need more effort than was learned"),
        (15.0 + FAR_K - 1.0, ""),
        (40.0, "; now it is at 40 °C: an obstacle may be noticed late"),
    ],
)
def test_another_season_is_said(gate, now: float, said: str) -> None:
    """Much colder or much warmer than on the day of learning, the panel says what that means."""
    learn_at(gate, 15.0)
    warm(gate, now)
    assert gate.controller.panel().learned == f"load learned with the board at 15 °C{said}"


@pytest.mark.parametrize(("now", "said"), [(14.0, ""), (-12.0, " (learned with the board at 15 °C, now -12 °C)")])
def test_effort_that_was_not_learned_names_the_cold(gate, now: float, said: str) -> None:
    """A drive that has grown stiff is taken for an obstacle, as ever; in the cold the reason names the learning. The
    margin stays as it was measured: what met something did meet it."""
    learn_at(gate, 15.0)
    gate.board_c = now
    stiff(gate, 4.5)
    gate.mark()
    gate.tap("open button")
    gate.until(lambda: any("needed more effort" in text for text in gate.plot()))
    told = next(text for text in gate.plot() if "needed more effort" in text)
    assert told == f"{LEAVES[0]} leaf: needed more effort than learned{said}, opening: backs off"


def test_what_is_forgotten_has_no_temperature(gate) -> None:
    """Nothing learned, nothing to say; a load that is learned anew has the temperature of that day."""
    learn_at(gate, 15.0)
    gate.write({"run speed": 80})
    gate.board_c = 2.0
    for name in ("open button", "close button") * 2:
        gate.tap(name)
        gate.until_state("open" if name == "open button" else "closed")
    assert gate.controller.panel().learned == "load learned with the board at 2 °C"
    gate.ask("reset to defaults")
    assert gate.controller.panel().learned == ""
