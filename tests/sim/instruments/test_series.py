"""The current ranges: in series they show what flows, across a supply they are a short that a fuse ends."""

from __future__ import annotations

from typing import Any

import pytest

from sim.errors import Refused

SUPPLY = ("board supply, plus", "board supply, minus")
MAINS = ("isolator outlet, live", "isolator outlet, neutral")


def test_current_in_a_core_is_what_the_load_takes(bench: Any) -> None:
    """A receiver of 800 Ω at 24 V takes 30 mA (facts 8); the meter's 1.8 Ω take hardly any of it."""
    shown = bench.value("multimeter", "milliamps in a core", "outer beam, receiver plus core")
    assert shown == pytest.approx(0.030, rel=0.02)
    assert bench.told("danger") == []


def test_current_through_the_gap_of_a_link(bench: Any) -> None:
    """With the link out the battery's charge goes through the meter; the sum of burden and link is in the loop."""
    bench.do("remove battery link")
    bench.measure("multimeter", "amps", "battery, plus", "board battery, plus")
    assert bench.told("danger") == []
    assert abs(float(bench.last().data["value"])) < 0.5


def test_ten_amps_of_fuse_end_a_short_across_the_supply(bench: Any) -> None:
    """The supply drives far more through 0.03 Ω than the fuse bears: danger told, fuse gone, board still running."""
    assert abs(bench.value("multimeter", "amps", *SUPPLY)) < 0.003
    assert bench.told("danger") == ["current range across a supply"]
    assert bench.told("damage") == ["meter fuse blown"]
    text = bench.last("danger").text
    amps = float(text.split(": ")[1].split(" A")[0])
    assert 100.0 < amps < 27.3 / 0.03, "no more than the voltage over the meter alone, by Ohm's law"
    bench.do("wait", seconds=1.0)
    assert bench.world.host.on


def test_a_blown_fuse_shows_nothing_until_it_is_replaced(bench: Any) -> None:
    """Wherever the meter is put afterwards, and it says so itself; volts and ohms go on."""
    bench.measure("multimeter", "amps", *SUPPLY)
    meter = bench.bag.instruments["multimeter"]
    assert meter.state_words == "fuse blown: amps"
    assert abs(bench.value("multimeter", "amps in a core", "outer beam, receiver plus core")) < 0.003
    assert bench.value("multimeter", "milliamps in a core", "outer beam, receiver plus core") > 0.02
    assert bench.value("multimeter", "volts dc", *SUPPLY) == pytest.approx(27.3, rel=0.01)
    bench.do("replace meter fuse", instrument="multimeter")
    assert meter.state_words == ""
    assert bench.value("multimeter", "amps in a core", "outer beam, receiver plus core") == pytest.approx(
        0.03, abs=2e-3
    )
    assert "whole" in bench.do("replace meter fuse", instrument="multimeter")


def test_across_the_mains_too(bench: Any) -> None:
    """230 V through 0.49 Ω of circuit and meter: some 470 A, and the breaker never hears of it."""
    bench.measure("multimeter", "amps", *MAINS)
    assert bench.told("danger") == ["current range across a supply"]
    assert bench.world.cabinet.is_switched_on("distribution breaker")


def test_a_core_goes_back_under_its_screw(bench: Any) -> None:
    """Lifted off, both nets are as before, bit for bit."""
    before = bench.world.cabinet.wiring()
    bench.measure("multimeter", "amps in a core", "warning lamp, plus core")
    assert bench.world.cabinet.wiring() == before


def test_only_meters_have_fuses(bench: Any) -> None:
    """Refused in words."""
    said = bench.do("replace meter fuse", instrument="clamp meter")
    assert "has no fuse" in said
    with pytest.raises(Refused, match="no instrument"):
        bench.bag.renew("clamp metre x")
