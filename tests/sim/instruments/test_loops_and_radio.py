"""Loop tester, radio level reader and service panel, against what the models say."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from sim.devices import loop as loops
from sim.devices import radio_link
from sim.site import with_changes


@pytest.fixture
def bench(make_bench: Callable[..., Any]) -> Any:
    return make_bench()


def change(bench: Any, **facts: object) -> None:
    bench.world.refit(with_changes(bench.world.site, facts))


def test_the_loop_alone_is_98_microhenry_and_its_feeder_10(bench: Any) -> None:
    """The bench's loop (facts 8: 98 µH; feeder 0.72 µH/m), with its plug withdrawn; plugged in it can't be had."""
    assert "unsteady" in bench.measure("loop tester", "inductance")
    bench.do("unplug", guard="presence loop")
    assert bench.value("loop tester", "inductance") == pytest.approx(98.4 + 10.8, rel=0.02)


def test_frequency_and_neighbour(bench: Any) -> None:
    """The detector runs where L and C say; the neighbour is as far off as the site says."""
    loop = bench.world.site.access.loop
    own = loops.frequency_hz(loop, 0.0) / 1000.0
    assert bench.value("loop tester", "frequency") == pytest.approx(own, abs=0.15)
    assert bench.value("loop tester", "apart from the neighbour") == pytest.approx(65.0 - own, abs=0.2)
    change(bench, **{"access.loop.neighbour_khz": None})
    assert "no other detector" in bench.measure("loop tester", "apart from the neighbour")


def test_a_car_reads_as_a_change(bench: Any) -> None:
    """Nothing at rest; with a car of 1.8 m over half of the 2 m loop, nine twentieths of what a car takes."""
    assert bench.value("loop tester", "change since tuned") == pytest.approx(0.0, abs=0.03)
    bench.do("place body", body="car", x_m=2.0, y_m=6.8)
    part = loops.missing_share(bench.world.site.access.loop, [("car", 0.45)]) * 100.0
    assert bench.value("loop tester", "change since tuned") == pytest.approx(-part, abs=0.03)


def test_a_broken_loop_does_not_swing(bench: Any) -> None:
    """Neither with its detector nor with the tester."""
    bench.world.cabinet.netlist.change("presence loop, turns", ohm=1e9)
    bench.world.rewired()
    for function in ("frequency", "apart from the neighbour", "change since tuned"):
        assert "nothing swings" in bench.measure("loop tester", function)
    bench.do("unplug", guard="presence loop")
    assert "nothing swings" in bench.measure("loop tester", "inductance")


def test_levels_follow_the_budget(bench: Any) -> None:
    """A fresh transmitter at five metres; noise alone with nobody sending; an interferer instead of noise."""
    receiver = bench.world.site.access.receiver
    wanted = radio_link.hand_way(-15.0, 1.0, 5.0, receiver).level_dbm(receiver)
    assert bench.value("radio level reader", "level of a transmitter", "red fob") == pytest.approx(wanted, abs=4.0)
    assert bench.value("radio level reader", "quiet level") == pytest.approx(-105.0, abs=4.0)
    change(bench, **{"access.receiver.interferer_dbm": -70.0})
    assert bench.value("radio level reader", "quiet level") == pytest.approx(-70.0, abs=4.0)
    assert "lit" in bench.measure("service panel", "busy light")


def test_range_and_code(bench: Any) -> None:
    """Thirty metres and more when all is well; what a copy sends is the same word each time."""
    assert bench.value("radio level reader", "range of a transmitter", "red fob") >= 30.0
    assert "another word" in bench.measure("radio level reader", "code of a transmitter", "red fob")
    assert "the same word" in bench.measure("radio level reader", "code of a transmitter", "copied fob")
    change(bench, **{"transmitters.0.charge": 0.0})
    assert "nothing is sent" in bench.measure("radio level reader", "level of a transmitter", "red fob")


def test_measuring_a_transmitter_is_pressing_it(bench: Any) -> None:
    """Its counter moves on, and a gate that is awake hears it."""
    bench.measure("radio level reader", "level of a transmitter", "red fob")
    assert bench.world.counters["red fob"] == 1
    assert bench.world.controller.panel().heard[-1].verdict == "not enrolled"
    bench.do("isolate")
    bench.do("remove battery link")
    bench.measure("radio level reader", "code of a transmitter", "red fob")
    assert bench.world.counters["red fob"] == 3
    assert len(bench.world.controller.panel().heard) == 1


def test_the_panel_is_dark_without_power(bench: Any) -> None:
    """Nothing can be read off it then."""
    bench.do("isolate")
    bench.do("remove battery link")
    said = bench.do("place instrument", instrument="service panel", function="transmitters enrolled")
    assert "dark" in said


def test_a_cell_reads_with_any_meter(bench: Any) -> None:
    """3 V at the holder of a hand transmitter (facts 8.4)."""
    assert bench.value("multimeter", "volts dc", "red fob cell, plus", "red fob cell, minus") == pytest.approx(
        3.05, abs=0.05
    )


def test_an_insulation_test_with_the_detector_connected_breaks_things(bench: Any) -> None:
    """500 V go through the detector into the board; with the plug withdrawn they stay in the ground (facts 8.4)."""
    for act in ("isolate", "remove battery link"):
        bench.do(act)
    places = ("presence loop plug, start", "earth bar, earth")
    bench.do("unplug", guard="presence loop")
    bench.measure("insulation tester", "500 volts", *places)
    assert not [e for e in bench.world.events if e.kind == "damage"]
    bench.do("plug in", guard="presence loop")
    bench.measure("insulation tester", "500 volts", *places)
    assert [e for e in bench.world.events if e.kind == "damage"]


def test_what_the_eye_sees(bench: Any) -> None:
    """Sound first; then a stub, a dark light, a cut; and the detector's lights by feed, loop and presence."""
    assert "173 mm" in bench.measure("look", "receiver's aerial")
    assert "bright" in bench.measure("look", "transmitter's light", "red fob")
    assert "whole and dry" in bench.measure("look", "profile of an edge", "active edge")
    assert "presence light off" in bench.measure("look", "loop detector's lights")
    change(
        bench,
        **{
            "access.receiver.aerial_mm": 20.0,
            "transmitters.0.charge": 0.05,
            "guards.active_edge.dead_from_m": 0.4,
            "guards.active_edge.dead_to_m": 0.9,
            "guards.active_edge.water": 0.5,
            "access.loop.stray_metal": 0.005,
        },
    )
    assert "broken off at 20 mm" in bench.measure("look", "receiver's aerial")
    assert "weak" in bench.measure("look", "transmitter's light", "red fob")
    seen = bench.measure("look", "profile of an edge", "active edge")
    assert "between 400 and 900 mm" in seen
    assert "water" in seen
    assert "presence light on" in bench.measure("look", "loop detector's lights")
    bench.do("unplug", guard="presence loop")
    assert "fault light" in bench.measure("look", "loop detector's lights")
    bench.do("unplug", guard="accessory supply")
    assert "dark" in bench.measure("look", "loop detector's lights")
