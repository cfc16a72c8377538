"""The wiring drawing lays itself out from data: every terminal has its place, nothing lies on another thing."""

from __future__ import annotations

from itertools import combinations, pairwise
from pathlib import Path

import pytest

from sim.site import load_site
from sim.world.world import World
from trainer.session.wiring import CoreView, WiringView, wiring_of, wiring_view
from trainer.window.canned import cabinet
from trainer.window.wiring.geometry import Layout, Line
from trainer.window.wiring.layout import lay_out

NOTHING = frozenset[str]()


def canned(**changed: object) -> WiringView:
    """The made-up cabinet."""
    stands: dict[str, object] = {"mains_on": True, "linked": True}
    for name in ("unplugged", "bridged", "swapped"):
        stands[name] = NOTHING
    return cabinet.wiring(**(stands | changed))  # type: ignore[arg-type]


def crowded(devices: int) -> WiringView:
    """A board with many devices of two to five cores, all fed from one block as well."""
    rows = [("accessory supply, plus", "accessory supply", "plus", False)]
    cores = []
    for n in range(devices):
        letters = chr(97 + n // 26) + chr(97 + n % 26)
        block, far = f"block {letters}", f"device {letters}"
        for pin in range(2 + n % 4):
            rows += [
                (f"{block}, pin {pin}", block, f"pin {pin}", False),
                (f"{far}, pin {pin}", far, f"pin {pin}", False),
            ]
            cores.append(CoreView(f"{block}, {pin} core", block, "core", f"{block}, pin {pin}", f"{far}, pin {pin}"))
        rows.append((f"{far}, feed", far, "feed", False))
        cores.append(CoreView(f"{block}, feed core", block, "core", "accessory supply, plus", f"{far}, feed"))
    return wiring_of(rows, tuple(cores))


def of_site(path: Path) -> WiringView:
    """The wiring of a real site."""
    return wiring_view(World(load_site(path), seed=0))


SITES = sorted((Path(__file__).resolve().parents[4] / "scenarios" / "sites").glob("*.yaml"))
WIRED = {path.stem: of_site(path) for path in SITES}
SCENES = [(wiring, sides) for wiring in WIRED.values() for sides in (1, 2)]
SCENES += [(canned(), sides) for sides in (1, 2)] + [(crowded(n), sides) for n in (1, 7, 40) for sides in (1, 2)]


def stretches(line: Line) -> list[tuple[bool, float, float, float]]:
    """(level, where it lies across, from, to) of each stretch."""
    found = []
    for (ax, ay), (bx, by) in pairwise(line.points):
        assert ax == pytest.approx(bx) or ay == pytest.approx(by), f"{line.core.name} is not square"
        level = ay == pytest.approx(by)
        low, high = sorted((ax, bx) if level else (ay, by))
        found.append((level, ay if level else ax, low, high))
    return found


@pytest.mark.parametrize(("wiring", "sides"), SCENES)
def test_every_terminal_and_every_core_has_its_place(wiring: WiringView, sides: int) -> None:
    """Nothing is left out, whatever the site holds, and all of it lies on the sheet."""
    layout = lay_out(wiring, sides)
    assert set(layout.spots) == {name for part in wiring.parts for name, _pin in part.pins}
    assert {line.core.name for line in layout.lines} == {core.name for core in wiring.cores if core.way != "plug"}
    for spot in layout.spots.values():
        assert 0 < spot.at[0] < layout.size[0], spot
        assert 0 < spot.at[1] < layout.size[1], spot
    ends = {line.core.name: {line.points[0], line.points[-1]} for line in layout.lines}
    for core in wiring.cores:
        if core.way != "plug":
            assert ends[core.name] == {layout.spots[core.a].at, layout.spots[core.b].at}


@pytest.mark.parametrize(("wiring", "sides"), SCENES)
def test_no_two_parts_overlap(wiring: WiringView, sides: int) -> None:
    """Blocks, plugs and devices lie apart."""
    for one, other in combinations(lay_out(wiring, sides).boxes, 2):
        (ax, ay, aw, ah), (bx, by, bw, bh) = one.area, other.area
        apart = ax + aw <= bx + 0.1 or bx + bw <= ax + 0.1 or ay + ah <= by + 0.1 or by + bh <= ay + 0.1
        assert apart, (one.part, other.part)


@pytest.mark.parametrize(("wiring", "sides"), SCENES)
def test_no_core_runs_along_another_one(wiring: WiringView, sides: int) -> None:
    """Two cores may cross; where they lie on one another they share a screw, else nobody could tell them apart."""
    layout = lay_out(wiring, sides)
    runs = [(line, part) for line in layout.lines for part in stretches(line)]
    for (one, a), (other, b) in combinations(runs, 2):
        if one is other or {one.core.a, one.core.b} & {other.core.a, other.core.b}:
            continue
        along = a[0] == b[0] and abs(a[1] - b[1]) < 0.9 and min(a[3], b[3]) - max(a[2], b[2]) > 0.9
        assert not along, (one.core.name, other.core.name, a, b)


def test_a_plug_that_is_out_stands_off_and_its_screws_with_it() -> None:
    """What can be measured at the plug is drawn at the plug."""
    within, out = lay_out(canned(), 1), lay_out(canned(unplugged=frozenset({"outer beam"})), 1)
    name = "outer beam plug, contact"
    assert out.spots[name].at[0] - within.spots[name].at[0] > 20
    assert out.spots["outer beam, contact"] == within.spots["outer beam, contact"]
    assert [box.part for box in out.boxes if box.kind == "plug" and not box.closed] == ["outer beam plug"]


def test_exchanged_cores_are_seen() -> None:
    """A core goes to the screw it sits under."""

    def from_screw(layout: Layout) -> tuple[float, float]:
        return next(li.points[0] for li in layout.lines if li.core.name == "active leaf motor, plus core")

    plain, swapped = lay_out(canned(), 1), lay_out(canned(swapped=frozenset({"active leaf motor"})), 1)
    assert from_screw(plain) == plain.spots["active leaf motor, plus"].at
    assert from_screw(swapped) == swapped.spots["active leaf motor, minus"].at


def test_the_mains_side_lies_apart() -> None:
    """Its frame holds its own terminals and no other one."""
    for sides in (1, 2):
        layout, wiring = lay_out(canned(), sides), canned()
        assert layout.mains is not None
        left, top, wide, high = layout.mains
        inside = {
            spot.name
            for spot in layout.spots.values()
            if left < spot.at[0] < left + wide and top < spot.at[1] < top + high
        }
        assert inside == {name for part in wiring.parts if part.where == "mains" for name, _pin in part.pins}


def test_a_loose_end_is_drawn_as_one() -> None:
    """A core off its screw hangs from its other end."""
    rows = [("block, pin", "block", "pin", False)]
    layout = lay_out(wiring_of(rows, (CoreView("block, first core", "block", "core", "block, pin", ""),)), 1)
    assert len(layout.lines) == 1
    assert layout.lines[0].points[0] == layout.spots["block, pin"].at
