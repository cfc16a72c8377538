"""An instrument that only looks changes nothing: the gate goes on as if nobody had looked."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

LOOKS = [
    ("clamp meter", "amps dc", "active leaf motor, plus core"),
    ("clamp meter", "amps ac", "supply lead, live"),
    ("leakage clamp", "live and neutral together", "supply lead"),
    ("stopwatch", "movement", "active"),
    ("look", "stops", "active"),
]


def lived(bench: Any, look: tuple[str, str, str] | None) -> tuple[bytes, object, str, list[object]]:
    """Half a minute of an opening, with an instrument in place or without; then everything physical of it."""
    takes = 0
    if look is not None:
        began = bench.world.now
        assert not bench.place(*look).startswith("not done")
        takes = bench.world.now - began
    bench.world.run_to(bench.world.now + 60_000_000 - takes)
    bench.do("press", control="open button")
    bench.world.run_to(bench.world.now + 7_000_000)
    settles = 0
    if look is not None:
        began = bench.world.now
        assert not bench.do("read instrument", instrument=look[0]).startswith("not done")
        bench.do("lift instrument", instrument=look[0])
        settles = bench.world.now - began
    bench.world.run_to(bench.world.now + 25_000_000 - settles)
    bench.world.feel_motors()
    told = [(e.at, e.kind, e.text) for e in bench.world.events if e.kind != "reading"]
    return bench.world.plant.physical(), bench.world.cabinet.wiring(), repr(bench.world.controller.panel()), told


@pytest.fixture(scope="module")
def alone(make_bench: Callable[..., Any]) -> tuple[bytes, object, str, list[object]]:
    """Nobody looks."""
    return lived(make_bench(learned=True), None)


@pytest.mark.slow
@pytest.mark.parametrize("look", LOOKS, ids=[f"{name}, {function}" for name, function, _ in LOOKS])
def test_looking_changes_not_a_bit(
    make_bench: Callable[..., Any], alone: tuple[bytes, object, str, list[object]], look: tuple[str, str, str]
) -> None:
    """Plant, nets, panel and everything that was told, but for the reading itself."""
    assert lived(make_bench(learned=True), look) == alone


def test_a_meter_may_change_what_it_looks_at(bench: Any) -> None:
    """Its 10 MΩ are in the net while it is on, and the board's input sees them: so this comparison can fail."""
    bench.do("unplug", guard="inner beam")
    free = bench.world.cabinet.guard_volts()
    before = bench.world.cabinet.wiring()
    bench.place("multimeter", "volts dc", "inner beam, contact", "inner beam, common")
    assert bench.world.cabinet.wiring() != before
    assert bench.world.cabinet.guard_volts() != free
    bench.do("lift instrument", instrument="multimeter")
    assert bench.world.cabinet.wiring() == before
