"""A gate that can't work is tried all the same, and the result says why it can't."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from sim.bench.evidence import Evidence
from sim.bench.trial import Order, Result, Trial
from sim.kernel import compiler
from sim.site import load_site, with_changes
from sim.units import SECOND, Us
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.world import World

SITES = Path(__file__).resolve().parents[3] / "scenarios/sites"
Tried = Callable[..., Result]


@pytest.fixture(scope="module")
def tried() -> Tried:
    """The result of a shipped site with changes, after a time [s]."""
    compiler.load()

    def run(changes: Mapping[str, Any], seconds: int = 30, site: str = "mill_lane") -> Result:
        return Trial(Order(with_changes(load_site(SITES / f"{site}.yaml"), changes), Us(seconds * SECOND))).run()

    return run


def sole(sentences: tuple[str, ...]) -> str:
    assert len(sentences) == 1, sentences
    return sentences[0]


@pytest.mark.parametrize("site", ["mill_lane", "walnut_court", "ferry_terrace", "brick_field"])
def test_a_sound_gate_has_nothing_to_explain(tried: Tried, site: str) -> None:
    """Standing for a moment at the start, and at a stop until the board lets go, is no ill."""
    result = tried({}, 90, site)
    assert result.unready == ""
    assert [leaf.why for leaf in result.leaves] == [(), ()]
    assert all(leaf.most_motor_a > 0.0 for leaf in result.leaves)


def test_a_motor_too_weak_for_the_wind_shows_current_limit_and_torques(tried: Tried) -> None:
    """The gate is accepted and tried: the motor is held at the board's limit, the wind is greater than the drive."""
    result = tried({"weather.wind_m_s": 30.0, "leaves.active.solidity": 1.0, "leaves.inactive.solidity": 1.0})
    assert result.ended == "finished"
    assert "it hardly moved" in result.unready
    assert result.weather == "12 °C, wind 30.0 m/s from inside, violent storm"
    for leaf in result.leaves:
        why = sole(leaf.why)
        assert leaf.limit_a > 0.0
        assert f"A of the {leaf.limit_a:.1f} A that the board allows" in why
        drive = float(why.partition("gave at most ")[2].partition(" N·m")[0])
        wind = float(why.partition("mean wind ")[2].partition(" N·m")[0])
        # by hand: ½·1.25·30²·1.2·1.8·1.6 m² at 0.9 m, all but the share of a leaf pressed a little past shut
        assert wind == pytest.approx(0.5 * 1.25 * 900.0 * 1.2 * 1.8 * 1.6 * 0.9, rel=0.01)
        assert drive < wind


@pytest.mark.parametrize(
    ("changes", "holds"),
    [
        ({"drives.active.key": "sheared"}, "its motor turns for nothing, the key of its gear is sheared"),
        ({"drives.active.motor.winding_open": True}, "no current flows, the winding of its motor is broken"),
        ({"drives.active.motor.brush_ohm": 60.0}, "(its brushes add 60 Ω); about the hinge its drive gave at most"),
        ({"drives.active.slip_n": 50.0, "leaves.active.hinge_friction_n_m": 80.0}, "limiter gives way at 50 N"),
        # by hand: there and back 0.4 km of 0.5 mm² stranded at 39.0 Ω/km (IEC 60228): 15.6 Ω
        ({"cables.active_motor": {"length_m": 200.0, "section_mm2": 0.5}}, "(its cable has 15.6 Ω, more than its"),
        ({"leaves.active.hinge_friction_n_m": 400.0}, "against it stood hinges 400 N·m"),
    ],
)
def test_what_ails_a_drive_is_named(tried: Tried, changes: Mapping[str, Any], holds: str) -> None:
    """Each ill by itself on a sound gate: the leaf stands, and its cause is told of that leaf; the other one
    may have been in the way of its strip."""
    result = tried(changes)
    active, inactive = result.leaves
    assert "stood at" in sole(active.why)
    assert holds in active.why[0]
    assert all("against it stood hinges 4 N·m, the other leaf" in why for why in inactive.why)


def test_a_ridge_that_was_taken_for_a_stop_is_named(tried: Tried) -> None:
    """Travel learning finds a stop wherever a leaf stands; the gate says `open`, and the ground is in the way."""
    ridge = {"name": "heave", "at_deg": 62.0, "reach_deg": 12.0, "height_m": 0.09, "radius_m": 1.35}
    result = tried({"leaves.active.ground": [ridge]}, 90, "walnut_court")
    assert result.unready == ""
    assert "open: open" in [h.text for h in result.happened]
    active, inactive = result.leaves
    assert active.most_open_deg < 62.0
    assert "the ground, pressed with " in sole(active.why)
    assert inactive.why == ()


@pytest.mark.parametrize("kind", ["limit switches", "none"])
def test_a_leaf_that_nothing_counts_goes_by_running_time(tried: Tried, kind: str) -> None:
    """The sheet tells the truth, that no encoder counts; the gate learns and opens all the same."""
    result = tried({"drives.active.sensing.kind": kind}, 40)
    assert result.unready == ""
    assert "open: open" in [h.text for h in result.happened]
    assert [leaf.why for leaf in result.leaves] == [(), ()]


def test_a_board_that_cannot_count_is_named() -> None:
    """A sheet that says an encoder counts where there is none: the leaf moves and is not seen to move."""
    compiler.load()
    site = with_changes(load_site(SITES / "mill_lane.yaml"), {"drives.active.sensing.kind": "none"})
    world = World(site, arrival=Arrival(sheet={"leaves fitted": "2", "drive kind": "linear ram"}))
    evidence = Evidence(world)
    world.do(checked("jog press", {"leaf": "active", "direction": "open"}))
    world.run_to(world.now + SECOND // 5)
    evidence.look()
    (told,) = evidence.why(0, "encoder")
    assert told == "is sensed by nothing; the sheet says that an encoder counts, and so it counts nothing"
    assert evidence.why(0, "running time") == ()


def test_a_pump_that_runs_on_at_its_stop_is_named(tried: Tried) -> None:
    """A relief valve below what the motor can do: no stop is found, since the motor never stands."""
    result = tried({"drives.active.relief_bar": 25}, 130, "brick_field")
    assert "found no stop in 120 s" in result.unready
    why = sole(result.leaves[0].why)
    assert why.startswith("was driven against its open stop for ")
    assert why.endswith("its motor turns, and the oil goes through the relief valve, set to 25 bar")


def test_a_cut_out_that_opens_is_among_what_happened(tried: Tried) -> None:
    """A motor of little heat capacity on a hot day: when its cut-out opens is told, how warm it was, and what came of
    it."""
    warm = {"winding_j_k": 5.0, "winding_to_case_w_k": 0.02, "cut_out_opens_c": 60.0, "cut_out_closes_c": 50.0}
    changes = {f"drives.active.motor.warmth.{key}": value for key, value in warm.items()}
    result = tried({**changes, "weather.temperature_c": 45.0}, 130)
    assert [h.text for h in result.happened if h.kind == "cut-out"][:1] == [
        "cut-out of the active leaf's motor opens"
    ]
    assert 60.0 <= result.leaves[0].most_winding_c < 62.0
    assert "no current flows, its motor's cut-out is open (from 60 °C on)" in sole(result.leaves[0].why)
    times = [h.at_s for h in result.happened]
    assert times == sorted(times)
