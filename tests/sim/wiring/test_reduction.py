"""The small form the kernel runs on, held against the whole net solved in one piece."""

from __future__ import annotations

import random

import pytest

from sim.wiring.elements import Contact, Element, Resistor, VoltageSource
from sim.wiring.netlist import WiringError
from sim.wiring.reduction import LeafPorts, Superposition, operating_point, reduce_drive
from sim.wiring.solve import solve

CORE_OHM = 0.3325
"""One core of 25 m of 1.5 mm² class 5 [Ω]: half of facts C38."""

WINDING_OHM = 1.2
"""Motor set A, facts 5.3."""


def gate(
    *changes: Element, without: tuple[str, ...] = (), emf: tuple[float, float] = (0.0, 0.0)
) -> tuple[Element, ...]:
    """A supply with two bridges and two motors; elements of the same name are replaced."""
    net: dict[str, Element] = {}

    def put(element: Element) -> None:
        net[element.name] = element

    put(VoltageSource("supply", "supply.plus", "common.pin", 27.3, 0.12))
    put(Contact("fuse", "supply.plus", "bus.pin", True, 0.005))
    put(Resistor("logic", "bus.pin", "common.pin", 390.0))
    for leaf, name in enumerate("ab"):
        put(Resistor(f"{name} copper", "bus.pin", f"{name}.input", 0.004))
        put(Resistor(f"{name} plus core", f"{name} board.plus", f"{name} motor.plus", CORE_OHM))
        put(Resistor(f"{name} minus core", f"{name} board.minus", f"{name} motor.minus", CORE_OHM))
        put(VoltageSource(f"{name} winding", f"{name} motor.plus", f"{name} motor.minus", emf[leaf], WINDING_OHM))
    for change in changes:
        put(change)
    return tuple(net[name] for name in sorted(net) if name not in without)


def ports(signs: tuple[int, int]) -> tuple[LeafPorts, LeafPorts]:
    one, other = (
        LeafPorts(name, f"{name}.input", "common.pin", f"{name} driven" if sign else None, sign, f"{name} winding")
        for name, sign in zip("ab", signs, strict=True)
    )
    return one, other


def legs(signs: tuple[int, int]) -> list[Element]:
    found: list[Element] = []
    for name, sign in zip("ab", signs, strict=True):
        if sign:
            driven, other = ("plus", "minus") if sign > 0 else ("minus", "plus")
            found.append(VoltageSource(f"{name} driven", f"{name} board.{driven}", "common.pin", 0.0, 0.005))
            found.append(Contact(f"{name} return", f"{name} board.{other}", "common.pin", True, 0.005))
    return found


SWAPPED = (
    Resistor("a plus core", "a board.minus", "a motor.plus", CORE_OHM),
    Resistor("a minus core", "a board.plus", "a motor.minus", CORE_OHM),
)


@pytest.mark.parametrize("signs", [(1, 1), (1, -1), (-1, -1)])
def test_healthy_leads_transfer_plus_one(signs: tuple[int, int]) -> None:
    """A wired motor gets the bridge's volts the commanded way round; its loop is two cores and two legs."""
    drive = reduce_drive(gate(*legs(signs)), ports(signs))
    assert drive.alpha == pytest.approx((1.0, 1.0), abs=1e-12)
    assert drive.rth == pytest.approx((0.675, 0.675), rel=1e-9)
    assert drive.closed == (True, True)
    assert drive.g == pytest.approx((0.0, 0.0), abs=1e-12)


@pytest.mark.parametrize("signs", [(1, 1), (-1, 1)])
def test_exchanged_leads_transfer_minus_one(signs: tuple[int, int]) -> None:
    """Exchanged cores turn the volts round (facts 8.1, polarity) and change nothing else."""
    drive = reduce_drive(gate(*legs(signs), *SWAPPED), ports(signs))
    assert drive.alpha == pytest.approx((-1.0, 1.0), abs=1e-12)
    assert drive.rth == pytest.approx((0.675, 0.675), rel=1e-9)
    assert drive.closed == (True, True)


@pytest.mark.parametrize("core", ["a plus core", "a minus core"])
def test_an_open_core_transfers_nothing(core: str) -> None:
    """With one core gone no current can flow and nothing reaches the motor; the other leaf is as it was."""
    drive = reduce_drive(gate(*legs((1, 1)), without=(core,)), ports((1, 1)))
    assert drive.alpha == pytest.approx((0.0, 1.0), abs=1e-12)
    assert drive.closed == (False, True)


def test_a_bridge_that_is_off_drives_nothing() -> None:
    """Off means open: the loop isn't whole, whatever the cable."""
    drive = reduce_drive(gate(*legs((0, 1))), ports((0, 1)))
    assert drive.closed == (False, True)
    assert drive.alpha[0] == 0.0


def test_a_meter_across_a_broken_loop_does_not_close_it() -> None:
    """Ten megohms carry no motor current: the loop counts as open, and the bridge feels a leak at most."""
    meter = Resistor("meter", "a board.plus", "a motor.plus", 10e6)
    drive = reduce_drive(gate(meter, *legs((1, 1)), without=("a plus core",)), ports((1, 1)))
    assert drive.closed == (False, True)
    assert drive.alpha[0] == 0.0


def test_a_leak_across_the_output_shows_as_a_conductance() -> None:
    """100 Ω across a bridge's output draws D²·V/100: 0.01 S less the legs' share."""
    leak = Resistor("leak", "a board.plus", "a board.minus", 100.0)
    drive = reduce_drive(gate(leak, *legs((1, 1))), ports((1, 1)))
    assert drive.g[0] == pytest.approx(1.0 / 100.01, rel=1e-9)
    assert drive.alpha[0] == pytest.approx(100.005 / 100.01, rel=1e-4)


def test_both_motors_share_the_supply() -> None:
    """One leaf's current lowers the other's bus by the common resistance: 0.12 Ω, fuse and logic load beside."""
    drive = reduce_drive(gate(*legs((1, 1))), ports((1, 1)))
    shared = 1.0 / (1.0 / 0.125 + 1.0 / 390.0)
    assert drive.z[0][1] == pytest.approx(shared, rel=1e-9)
    assert drive.z[0][0] == pytest.approx(shared + 0.004, rel=1e-9)
    assert drive.z[0][1] == drive.z[1][0]
    assert drive.voc == pytest.approx((27.3 * 390.0 / 390.125,) * 2, rel=1e-12)


def test_a_motor_circuit_joined_to_another_is_refused() -> None:
    """A wire between the two motor circuits has no term in the small form: refused aloud, never left out."""
    wire = Resistor("wire", "a motor.plus", "b motor.plus", 1.0)
    with pytest.raises(WiringError, match="joined to another circuit"):
        reduce_drive(gate(wire, *legs((1, 1))), ports((1, 1)))


@pytest.mark.parametrize("signs", [(1, 1), (1, -1), (-1, 1)])
def test_small_form_equals_the_whole_net(signs: tuple[int, int]) -> None:
    """At full duty a bridge is two plain conductors: the whole net, motors and all, solved in one piece gives the
    currents and voltages that the small form and its superposition give."""
    rng = random.Random(7)
    for _ in range(50):
        emf = (rng.uniform(-25, 25), rng.uniform(-25, 25))
        leak = Resistor("leak", "a board.plus", "a board.minus", 10.0 ** rng.uniform(0.5, 4))
        plain: list[Element] = []
        for name, sign in zip("ab", signs, strict=True):
            driven, other = ("plus", "minus") if sign > 0 else ("minus", "plus")
            plain.append(Contact(f"{name} driven", f"{name} board.{driven}", f"{name}.input", True, 0.005))
            plain.append(Contact(f"{name} return", f"{name} board.{other}", "common.pin", True, 0.005))
        whole = solve(gate(leak, *plain, emf=emf))
        amps = tuple(whole.current(f"{name} winding").real for name in "ab")

        drive = reduce_drive(gate(leak, *legs(signs)), ports(signs))
        duty = (float(signs[0]), float(signs[1]))
        drawn = operating_point(drive, ports(signs), duty, (amps[0], amps[1]))
        look = Superposition(gate(leak, *legs(signs)), ports(signs), drive.closed)
        for leaf, name in enumerate("ab"):
            volts = duty[leaf] * drive.alpha[leaf] * (abs(drawn.output_v[leaf])) - drive.rth[leaf] * amps[leaf]
            assert volts == pytest.approx(emf[leaf] + WINDING_OHM * amps[leaf], abs=1e-7)
            assert drawn.input_a[leaf] == pytest.approx(whole.current(f"{name} driven").real * -1.0, abs=1e-7)
            for pin in ("board.plus", "board.minus", "motor.plus", "motor.minus"):
                node = f"{name} {pin}"
                assert look.volts(node, "common.pin", drawn) == pytest.approx(
                    whole.volts(node, "common.pin"), abs=1e-7
                )
        assert look.volts("bus.pin", "common.pin", drawn) == pytest.approx(
            whole.volts("bus.pin", "common.pin"), abs=1e-7
        )


def test_an_idle_motor_shows_its_back_emf() -> None:
    """With its bridge off a turning motor shows its back-EMF at both ends of the cable, and floats against common."""
    drive = reduce_drive(gate(), ports((0, 0)))
    look = Superposition(gate(), ports((0, 0)), drive.closed)
    drawn = operating_point(drive, ports((0, 0)), (0.0, 0.0), (0.0, 0.0), (7.5, 0.0))
    assert look.volts("a board.plus", "a board.minus", drawn) == pytest.approx(7.5, rel=1e-12)
    assert look.volts("b board.plus", "b board.minus", drawn) == pytest.approx(0.0, abs=1e-12)
    assert look.volts("a board.plus", "common.pin", drawn) is None
