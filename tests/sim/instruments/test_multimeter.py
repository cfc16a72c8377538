"""The multimeter: what it shows, what it does to the circuit, and what it can't tell."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sim.devices.cabinet import REST, Cabinet, Live
from sim.errors import Refused
from sim.instruments.multimeter import SPEC, MultimeterSpec, Probes, lift, place, read
from sim.instruments.shown import Shown

BEAM = ("outer beam, contact", "outer beam, common")
BEAM_PLUG = ("outer beam plug, contact", "outer beam plug, common")
EDGE = ("active edge, line", "active edge, common")
EDGE_PLUG = ("active edge plug, line", "active edge plug, common")
IDEAL = replace(SPEC, gain_error=0.0, noise_steps=0.0)


def measured(
    cabinet: Cabinet,
    function: str,
    red: str,
    black: str,
    *,
    live: Live = REST,
    seed: int = 1,
    index: int = 0,
    spec: MultimeterSpec = SPEC,
) -> Shown:
    """Place, read, take off."""
    probes = Probes(function, red, black)  # type: ignore[arg-type]
    undo = place(cabinet, probes, spec)
    shown = read(cabinet, probes, live, seed=seed, index=index, spec=spec)
    undo()
    return shown


def test_volts_of_a_healthy_gate(cabinet: Cabinet) -> None:
    """Supply 27.3 V, a clear beam 0 V, an empty input about 24 V (facts 8.1, 8.4), mains 230 V."""
    assert measured(cabinet, "volts dc", "board supply, plus", "board supply, minus").value == pytest.approx(
        27.3, abs=0.3
    )
    assert measured(cabinet, "volts dc", *BEAM).value == pytest.approx(0.0, abs=0.05)
    empty = measured(cabinet, "volts dc", "inner beam, contact", "inner beam, common")
    assert empty.value == pytest.approx(24.0, rel=0.02)
    mains = measured(cabinet, "volts ac", "isolator outlet, live", "isolator outlet, neutral")
    assert mains.value == pytest.approx(230.0, rel=0.02)


def test_ohms_of_guards_with_their_plug_withdrawn(cabinet: Cabinet) -> None:
    """Edge 8.2 kΩ (7.4 to 9.0), torn: open; stop loop below 1 Ω, pressed: open; beam contact about 1 Ω over its
    cable, cut: open (facts 8.4)."""
    for guard in ("active edge", "outer beam", "stop circuit"):
        cabinet.unplug(guard)
    edge = measured(cabinet, "ohms", *EDGE_PLUG)
    assert 7400 <= (edge.value or 0.0) <= 9000
    assert edge.flags == ()
    cabinet.netlist.remove("active edge, end resistor")
    assert measured(cabinet, "ohms", *EDGE_PLUG).flags == ("over range",)

    stop = ("stop circuit plug, contact", "stop circuit plug, common")
    assert (measured(cabinet, "ohms", *stop).value or 9.0) < 1.0
    cabinet.set_stop_pressed(True)
    assert measured(cabinet, "ohms", *stop).value is None

    assert (measured(cabinet, "ohms", *BEAM_PLUG).value or 9.0) < 1.5
    cabinet.set_beam_blocked("outer beam", True)
    assert measured(cabinet, "ohms", *BEAM_PLUG).text == "open, over range"


def test_a_pressed_edge_and_two_in_parallel(cabinet: Cabinet) -> None:
    """Pressed below 1 kΩ, a second end resistor beside the first 4.1 kΩ (facts 8.4)."""
    cabinet.unplug("active edge")
    cabinet.set_edge_pressed("active edge", True)
    assert (measured(cabinet, "ohms", *EDGE_PLUG).value or 9e9) < 1000.0
    cabinet.set_edge_pressed("active edge", False)
    cabinet.netlist.change("active edge, end resistor", ohm=4100.0)
    assert measured(cabinet, "ohms", *EDGE_PLUG).value == pytest.approx(4100.0, rel=0.02)


def test_a_bridge_is_found_with_the_device_unplugged(cabinet: Cabinet) -> None:
    """With the plug out a link across the input beeps where nothing should (facts 8.4), once the board is dead."""
    cabinet.unplug("outer beam")
    cabinet.isolate()
    cabinet.remove_battery_link()
    assert measured(cabinet, "continuity", *BEAM).text == "silent"
    cabinet.bridge("outer beam")
    assert measured(cabinet, "continuity", *BEAM).text.endswith("beeps")


def test_a_motor_loop_from_the_board(cabinet: Cabinet) -> None:
    """Cable 0.67 Ω and winding 1.2 Ω in series (facts 8.1, splice, and 5.3), plus the leads' 0.1 Ω."""
    cabinet.isolate()
    cabinet.remove_battery_link()
    shown = measured(cabinet, "ohms", "active leaf motor, plus", "active leaf motor, minus", spec=IDEAL)
    assert shown.value == pytest.approx(0.665 + 1.2 + 0.1, abs=0.1)


def test_ohms_on_a_live_circuit_are_worthless_and_say_so(cabinet: Cabinet) -> None:
    """A fed edge input doesn't show 8.2 kΩ; the misuse is flagged, and nothing is blown. The same on the mains."""
    edge = measured(cabinet, "ohms", *EDGE)
    assert "live circuit" in edge.flags
    assert edge.value is None or not 7400 <= edge.value <= 9000
    mains = measured(cabinet, "ohms", "isolator outlet, live", "isolator outlet, neutral")
    assert "live circuit" in mains.flags
    assert mains.value is None
    cabinet.isolate()
    dead = measured(cabinet, "ohms", "isolator outlet, live", "isolator outlet, neutral")
    assert dead.flags == ()
    assert dead.value == pytest.approx(1500.0, rel=0.02)


def test_floating_places_have_no_volts(cabinet: Cabinet) -> None:
    """Between the mains side and the low-voltage side, and on a wire whose far end is open, nothing stands still."""
    assert measured(cabinet, "volts dc", "board supply, plus", "earth bar, earth").flags == ("floating",)
    cabinet.unplug("stop circuit")
    lost = measured(cabinet, "volts dc", "stop circuit plug, contact", "stop circuit, common")
    assert (lost.value, lost.flags) == (None, ("floating",))


def test_two_opens_in_series_hide_each_other(cabinet: Cabinet) -> None:
    """Across one of two opens in a loop there is nothing to read; with the other one mended the source shows."""
    cabinet.set_stop_pressed(True)
    across = ("stop button, contact", "stop button, return")
    assert measured(cabinet, "volts dc", *across).value == pytest.approx(24.0, rel=0.02)
    undo = cabinet.netlist.remove("stop circuit, contact core")
    assert measured(cabinet, "volts dc", *across).value is None
    undo()
    assert measured(cabinet, "volts dc", *across).value == pytest.approx(24.0, rel=0.02)


def test_direct_and_alternating_are_not_mixed_up(cabinet: Cabinet) -> None:
    """Alternating volts on the low-voltage side and direct volts on the mains are nothing."""
    ac = measured(cabinet, "volts ac", "board supply, plus", "board supply, minus")
    dc = measured(cabinet, "volts dc", "isolator outlet, live", "isolator outlet, neutral")
    assert ac.value == pytest.approx(0.0, abs=0.01)
    assert dc.value == pytest.approx(0.0, abs=0.01)


def test_the_load_of_the_probes_counts(cabinet: Cabinet) -> None:
    """10 MΩ beside a 1 MΩ input behind 4.7 kΩ lowers it by 24 · 4.7/10 000 ≈ 11 mV; taking them off restores it."""
    state = cabinet.state()
    before = cabinet.guard_volts()[1]
    probes = Probes("volts dc", "inner beam, contact", "inner beam, common")
    undo = place(cabinet, probes)
    assert before - cabinet.guard_volts()[1] == pytest.approx(0.011, abs=0.002)
    undo()
    assert cabinet.state() == state


def test_reading_is_a_pure_look(cabinet: Cabinet) -> None:
    """Reading many times, in any function, leaves the cabinet as the placed probes left it."""
    for function in ("volts dc", "volts ac", "ohms", "continuity"):
        probes = Probes(function, *BEAM)  # type: ignore[arg-type]
        place(cabinet, probes)
        state = cabinet.state()
        for index in range(5):
            read(cabinet, probes, seed=1, index=index)
        assert cabinet.state() == state
        lift(cabinet)
    lift(cabinet)
    assert cabinet.guard_volts()[0] == pytest.approx(0.0, abs=0.05)


def test_noise_belongs_to_seed_and_reading(cabinet: Cabinet) -> None:
    """The same seed and index show the same; others differ by a few steps around it."""
    places = ("board supply, plus", "board supply, minus")
    once = measured(cabinet, "volts dc", *places, seed=4, index=9)
    assert measured(cabinet, "volts dc", *places, seed=4, index=9) == once
    probes = Probes("volts dc", *places)
    place(cabinet, probes)
    values = [read(cabinet, probes, seed=4, index=i).value or 0.0 for i in range(200)]
    assert 1 < len(set(values)) < 8
    assert max(values) - min(values) < 0.05
    meters = {
        read(cabinet, probes, seed=seed, index=0, spec=replace(SPEC, noise_steps=0.0)).value for seed in range(50)
    }
    assert len(meters) > 5


@pytest.mark.parametrize(
    ("duty", "amps", "at_leaf"), [(1.0, 5.0, 5.0 * 0.665), (-1.0, -5.0, -5.0 * 0.665), (0.5, 2.0, 2.0 * 0.665)]
)
def test_volts_lost_on_a_motor_cable(cabinet: Cabinet, duty: float, amps: float, at_leaf: float) -> None:
    """Board end less motor end is current times 0.665 Ω (facts C38, C39)."""
    cabinet.network((1 if duty > 0 else -1, 0))
    live = Live(duty=(duty, 0.0), motor_a=(amps, 0.0))
    ends = [
        measured(cabinet, "volts dc", f"{part}, plus", f"{part}, minus", live=live, spec=IDEAL).value or 0.0
        for part in ("active leaf motor", "active leaf motor at the leaf")
    ]
    assert ends[0] - ends[1] == pytest.approx(at_leaf, abs=0.02)


def test_resolution_follows_the_range(cabinet: Cabinet) -> None:
    """Four digits: millivolts below 4 V, hundredths below 40 V, tenths on the mains."""
    assert measured(cabinet, "volts dc", *EDGE).text == f"{measured(cabinet, 'volts dc', *EDGE).value:.3f} V"
    assert len(measured(cabinet, "volts dc", "battery, plus", "battery, minus").text.split(".")[1]) == len("00 V")
    mains = measured(cabinet, "volts ac", "isolator outlet, live", "isolator outlet, neutral")
    assert len(mains.text.split(".")[1]) == len("0 V")


def test_both_probes_on_one_terminal(cabinet: Cabinet) -> None:
    """No volts, and the resistance of the leads alone."""
    twice = ("board supply, plus", "board supply, plus")
    assert measured(cabinet, "volts dc", *twice, spec=IDEAL).value == 0.0
    assert measured(cabinet, "ohms", *twice, spec=IDEAL).value == pytest.approx(0.1)


def test_unknown_functions_and_terminals_are_refused(cabinet: Cabinet) -> None:
    """In words, with what there is."""
    with pytest.raises(Refused, match="no 'amps'; it has volts dc"):
        place(cabinet, Probes("amps", *BEAM))  # type: ignore[arg-type]
    with pytest.raises(Refused, match="did you mean 'outer beam, contact'"):
        place(cabinet, Probes("ohms", "outer beam, kontact", BEAM[1]))
