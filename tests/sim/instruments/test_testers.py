"""Testers with a source of their own: insulation, low ohms, earth, residual current, leakage, capacitance."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from sim.wiring.elements import Contact, Resistor

LIVE, NEUTRAL, EARTH = "isolator outlet, live", "isolator outlet, neutral", "earth bar, earth"


@pytest.fixture
def dead(bench: Any) -> Any:
    """A bench with both sources off."""
    bench.do("isolate")
    bench.do("remove battery link")
    bench.do("wait", seconds=1.0)
    return bench


def board_lives(bench: Any) -> bool:
    """Whether the board's feed track is whole."""
    track = bench.world.cabinet.netlist["board, feed track"]
    return isinstance(track, Contact) and track.closed


# -- insulation ----------------------------------------------------------------------------------------


def test_sound_insulation_is_beyond_the_scale(dead: Any) -> None:
    """Gigaohms of a single sound cable; at least 1 MΩ is asked for (facts 5.8)."""
    dead.do("unplug", guard="active leaf motor")
    dead.measure("insulation tester", "500 volts", "active leaf motor at the leaf, plus", EARTH)
    assert dead.last().data["shown"] == "more than 1000 MΩ"


@pytest.mark.parametrize("ohm", [30e3, 0.4e6, 5e6, 80e6])
def test_a_leak_is_read_as_what_it_is(dead: Any, ohm: float) -> None:
    """A resistor from the core to earth, beside both cores' sound insulation, within a few per cent."""
    dead.do("unplug", guard="active leaf motor")
    net = dead.world.cabinet.netlist
    net.add(Resistor("nick in the sheath", "active leaf motor at the leaf.plus", "earth bar.earth", ohm))
    dead.world.rewired()
    shown = dead.value("insulation tester", "500 volts", "active leaf motor at the leaf, plus", EARTH)
    assert shown == pytest.approx(1.0 / (1.0 / ohm + 2.0 / 5e9), rel=0.04)
    assert board_lives(dead)


def test_the_boards_own_insulation_under_250_volts(dead: Any) -> None:
    """Common to frame below what its arrester strikes at: it lives, and reads its cables in parallel."""
    shown = dead.value("insulation tester", "250 volts", "board supply, minus", EARTH)
    assert shown > 0.5e6
    assert board_lives(dead)


def test_500_volts_on_a_connected_board_kill_it(dead: Any) -> None:
    """The arrester strikes, the board's copper goes, for good: no power brings it back, only a new board."""
    dead.measure("insulation tester", "500 volts", "board supply, minus", EARTH)
    assert dead.told("damage") == ["board destroyed by an insulation test"]
    assert not board_lives(dead)
    dead.do("restore")
    dead.do("fit battery link")
    dead.do("wait", seconds=2.0)
    assert not dead.world.host.on


def test_on_a_live_circuit_it_shows_nothing_and_is_told(bench: Any) -> None:
    """Once, and as what it is."""
    bench.measure("insulation tester", "500 volts", LIVE, EARTH)
    assert bench.last().data["shown"] == "circuit is live"
    assert bench.told("danger") == ["insulation test on a live circuit"]


# -- ohms ----------------------------------------------------------------------------------------------


def test_a_loop_is_measured_from_one_end_with_the_other_joined(dead: Any) -> None:
    """25 m of 1.5 mm² flexible there and back: 2 × 25 × 13.3/1000 = 0.665 Ω (IEC 60228)."""
    dead.do("unplug", guard="active leaf motor")
    far = ("active leaf motor at the leaf, plus", "active leaf motor at the leaf, minus")
    dead.place("shorting lead", "join", *far)
    near = ("active leaf motor plug, plus", "active leaf motor plug, minus")
    assert dead.value("low-ohm tester", "resistance", *near) == pytest.approx(0.665, abs=0.02)
    dead.do("lift instrument", instrument="shorting lead")
    assert dead.value("low-ohm tester", "resistance", *near) == pytest.approx(0.665 + 1.2, abs=0.05)


def test_a_lead_across_the_battery_is_told(bench: Any) -> None:
    """Clipped across a live circuit; off again nothing stays."""
    bench.measure("shorting lead", "join", "battery, plus", "battery, minus")
    assert bench.told("danger") == ["short circuit made by hand"]


def test_ohms_of_a_live_circuit_are_flagged_by_every_ohmmeter(bench: Any) -> None:
    """Multimeter and low-ohm tester alike."""
    for instrument, function in (("multimeter", "ohms"), ("low-ohm tester", "resistance")):
        bench.measure(instrument, function, "board supply, plus", "board supply, minus")
    assert bench.told("danger") == ["ohms on a live circuit"] * 2
    bench.measure("low-ohm tester", "resistance", "accessory supply, plus", "accessory supply, minus")
    assert bench.told("danger") == ["ohms on a live circuit"] * 3, "a rail that folds back under it was live too"


def test_a_battery_under_load(bench: Any) -> None:
    """25.3 V behind 0.055 Ω and its wires, some 10 A: at least 23.5 V when healthy (facts 8.1)."""
    bench.do("isolate")
    bench.do("remove battery link")
    shown = bench.value("load tester", "volts under load", "battery, plus", "battery, minus")
    assert 23.5 <= shown < 25.3


# -- earth and residual current ------------------------------------------------------------------------


def test_protective_conductors(bench: Any) -> None:
    """Sound: at most 0.5 Ω (facts 8.1). Left off, the soil alone is far above it."""
    post = ("active post, earth", EARTH)
    for instrument, function in (("earth tester", "earth continuity"), ("low-ohm tester", "resistance")):
        assert bench.value(instrument, function, *post) < 0.5
    bench.world.cabinet.mains.change("protective conductor, active post", closed=False)
    bench.world.rewired()
    for instrument, function in (("earth tester", "earth continuity"), ("low-ohm tester", "resistance")):
        assert bench.value(instrument, function, *post) > 10.0


def test_residual_current_device(bench: Any) -> None:
    """Holds half of its rating, trips within 0.3 s at it and 0.04 s at five times (facts 5.8); a ramp finds where."""
    assert "holds" in bench.measure("residual-current tester", "half of rated", LIVE, EARTH)
    for function, most in (("rated", 0.3), ("five times rated", 0.04)):
        assert 0.0 < bench.value("residual-current tester", function, LIVE, EARTH) <= most
        assert not bench.world.cabinet.is_switched_on("residual-current device")
        bench.do("reset", what="residual-current device")
    assert 0.015 < bench.value("residual-current tester", "ramp", LIVE, EARTH) <= 0.030
    bench.measure("residual-current tester", "rated", LIVE, EARTH)
    assert bench.last().data["shown"] == "no voltage to test with"


def test_what_leaks_already_comes_on_top_of_the_test(bench: Any) -> None:
    """12 mA of a wet joint and 15 mA of the tester trip it, and the clamp sees the first."""
    net = bench.world.cabinet.mains
    net.add(Resistor("wet joint", "power supply inlet.live", "earth bar.earth", complex(230.0 / 0.012)))
    bench.world.rewired()
    leak = bench.value("leakage clamp", "live and neutral together", "supply lead")
    assert leak == pytest.approx(0.012, rel=0.03)
    assert "tripped" in bench.measure("residual-current tester", "half of rated", LIVE, EARTH)


def test_a_sound_gate_leaks_nothing_worth_a_figure(bench: Any) -> None:
    """The working current cancels between live and neutral; round one of them it doesn't."""
    assert bench.value("leakage clamp", "live and neutral together", "supply lead") < 1e-4
    assert 0.15 <= bench.value("clamp meter", "amps ac", "supply lead, live") <= 0.25, "35 W and what the board takes"


def test_the_residual_test_is_no_toy_with_somebody_in_the_arc(bench: Any) -> None:
    """The supply goes and comes back on them."""
    bench.do("place body", body="adult", x_m=1.0, y_m=1.0)
    bench.measure("residual-current tester", "half of rated", LIVE, EARTH)
    assert bench.told("danger") == ["person in the arc"]


# -- capacitance ---------------------------------------------------------------------------------------


def test_a_run_capacitor_alone(make_bench: Callable[..., Any]) -> None:
    """12.5 µF ± 5 % with its leads off (facts 8.2); beside its windings it can't be told."""
    bench = make_bench(site="brick_field")
    ends = ("active run capacitor, first", "active run capacitor, second")
    bench.do("isolate")
    beside = bench.measure("capacitance meter", "capacitance", *ends)
    bench.do("unplug", guard="active run capacitor")
    assert bench.value("capacitance meter", "capacitance", *ends) == pytest.approx(12.5e-6, rel=0.05)
    assert bench.last().data["shown"] not in beside


# -- categories ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("instrument", "place", "told"),
    [
        ("pocket meter", (LIVE, NEUTRAL), ["wrong category on mains"]),
        ("pocket meter", ("power supply inlet, live", "power supply inlet, neutral"), []),
        ("pocket meter", ("board supply, plus", "board supply, minus"), []),
        ("multimeter", (LIVE, NEUTRAL), []),
    ],
)
def test_a_category_is_a_fact_of_meter_and_place(
    bench: Any, instrument: str, place: tuple[str, str], told: list[str]
) -> None:
    """Category III in fixed mains wiring, II at what is fed through it (IEC 61010-2-030, facts 5.9); dead: none."""
    bench.measure(instrument, "volts ac", *place)
    assert bench.told("danger") == told
    bench.do("isolate")
    bench.measure(instrument, "volts ac", *place)
    assert bench.told("danger") == told


def test_a_core_of_the_mains_asks_for_its_category_too(bench: Any) -> None:
    """The pocket meter led into a live supply lead; dead, it is only a bad choice."""
    bench.measure("pocket meter", "milliamps in a core", "supply lead, live")
    assert bench.told("danger") == ["wrong category on mains"]
    bench.do("isolate")
    bench.measure("pocket meter", "milliamps in a core", "supply lead, live")
    assert bench.told("danger") == ["wrong category on mains"]


def test_the_clamp_touches_nothing_and_is_blind_to_the_other_kind(bench: Any) -> None:
    """Its zero drifts by hundredths; alternating current in a direct one's core is none."""
    before = bench.world.cabinet.wiring()
    bench.place("clamp meter", "amps dc", "outer beam, receiver plus core")
    assert bench.world.cabinet.wiring() == before
    bench.do("lift instrument", instrument="clamp meter")
    assert bench.value("clamp meter", "amps ac", "outer beam, receiver plus core") == 0.0
    readings = {bench.value("clamp meter", "amps dc", "warning lamp, plus core") for _ in range(6)}
    assert len(readings) > 1
    assert max(abs(each) for each in readings) < 0.15
