"""The two-pole tester: proving dead, both sources, both nets."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sim.devices.cabinet import Cabinet
from sim.errors import Refused
from sim.instruments.two_pole_tester import SPEC, Tips, lamps, place, prove, read

SUPPLY = Tips("board supply, plus", "board supply, minus")
MAINS = Tips("isolator outlet, live", "isolator outlet, neutral")


def shows(cabinet: Cabinet, tips: Tips) -> str:
    """Set the tips, look, take them off."""
    undo = place(cabinet, tips)
    text = read(cabinet, tips).text
    undo()
    return text


def test_dead_only_with_both_sources_gone(cabinet: Cabinet) -> None:
    """The battery is a second source (facts 5.8): the isolator alone leaves the low-voltage side live."""
    assert (shows(cabinet, MAINS), shows(cabinet, SUPPLY)) == ("lit to 230 V", "lit to 24 V")
    cabinet.isolate()
    assert (shows(cabinet, MAINS), shows(cabinet, SUPPLY)) == ("no lamp lights", "lit to 24 V")
    cabinet.remove_battery_link()
    assert shows(cabinet, SUPPLY) == "no lamp lights"
    assert shows(cabinet, Tips("isolator inlet, live", "isolator inlet, neutral")) == "lit to 230 V"


def test_all_pairs_of_the_isolated_side_are_dead(cabinet: Cabinet) -> None:
    """Live, neutral and earth against each other behind an open two-pole isolator."""
    cabinet.isolate()
    for red, black in (("live", "neutral"), ("live", "earth"), ("neutral", "earth")):
        ends = [f"isolator outlet, {pin}" if pin != "earth" else "earth bar, earth" for pin in (red, black)]
        assert shows(cabinet, Tips(*ends)) == "no lamp lights"


def test_a_floating_wire_lights_nothing(cabinet: Cabinet) -> None:
    """Between the two nets there is no path, so no lamp."""
    assert shows(cabinet, Tips("board supply, plus", "earth bar, earth")) == "no lamp lights"


def test_its_load_counts_and_leaves_no_trace(cabinet: Cabinet) -> None:
    """200 kΩ on an empty input behind 4.7 kΩ takes 24 · 4.7/205 ≈ 0.55 V; off again, all is as it was."""
    state = cabinet.state()
    before = cabinet.guard_volts()[1]
    undo = place(cabinet, Tips("inner beam, contact", "inner beam, common"))
    assert before - cabinet.guard_volts()[1] == pytest.approx(0.55, abs=0.02)
    undo()
    assert cabinet.state() == state


@pytest.mark.parametrize(
    ("volts", "text"),
    [(0.0, "no lamp lights"), (11.9, "no lamp lights"), (12.0, "lit to 12 V"), (27.3, "lit to 24 V")],
)
def test_live_from_twelve_volts(volts: float, text: str) -> None:
    """Below 12 V nothing lights. Common practice, no source."""
    assert lamps(volts).text == text


def test_a_broken_tester_shows_only_when_proved() -> None:
    """A tester that shows nothing on a known source is broken: without proving, dead and broken look alike."""
    broken = replace(SPEC, lights=False)
    assert prove().text == "lit to 24 V"
    assert prove(broken).text == lamps(0.0).text


def test_unknown_terminals_are_refused(cabinet: Cabinet) -> None:
    """With the nearest right name."""
    with pytest.raises(Refused, match="did you mean 'board supply, plus'"):
        place(cabinet, Tips("board supply, plus pole", "board supply, minus"))
