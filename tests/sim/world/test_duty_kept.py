"""A busy gate whose sheet holds the duty on its motors' plate keeps to it, and its windings stay cool enough."""

from __future__ import annotations

from pathlib import Path

from sim.mechanics import duty
from sim.site import load_site
from sim.units import SECOND
from sim.world.actions import Value, checked
from sim.world.arrival import Arrival
from sim.world.world import World

SITES = Path(__file__).parents[3] / "scenarios" / "sites"

SHEET: dict[str, Value] = {
    "leaves fitted": "2",
    "drive kind": "linear ram",
    "opens first": "active",
    "leaf delay, opening": 3.0,
    "leaf delay, closing": 4.0,
    "slow zone before stop": 20.0,
    "electric lock": "fitted",
}


def test_a_busy_gate_keeps_to_the_plate() -> None:
    """Commanded stroke after stroke for half an hour: every ten minutes keep to the share on the plate, judged by
    what the power stages drove (type S3 of IEC 60034-1, facts 5.4); what is too much is refused, and said."""
    site = load_site(SITES / "reference_bench.yaml")
    share = site.drives.pair[0].motor.warmth.duty_share
    assert share == 0.25
    world = World(site, seed=3, arrival=Arrival(sheet={**SHEET, "motor duty": 100 * share}, learned=True))
    world.run_to(world.now + 700 * SECOND)
    began, since = world.now, [-1.0, -1.0]
    runs: list[list[tuple[float, float]]] = [[], []]

    def look() -> None:
        outputs = world.host.outputs
        for leaf, drive in enumerate((outputs.active, outputs.inactive)):
            at = int(world.clock.now) / SECOND
            if drive.duty and since[leaf] < 0.0:
                since[leaf] = at
            elif not drive.duty and since[leaf] >= 0.0:
                runs[leaf].append((since[leaf], at))
                since[leaf] = -1.0

    world.host.changed.append(look)
    while world.now < began + 1800 * SECOND:
        for kind in ("press", "release"):
            world.do(checked(kind, {"control": "step button"}))
            world.run_to(world.now + SECOND // 5)
        world.run_to(world.now + 50 * SECOND)
    log = [text for _, text in world.controller.panel().log]
    assert any("has run enough for its duty" in text for text in log)
    for leaf in (0, 1):
        verdict = duty.judge(runs[leaf], share)
        assert verdict.is_within, str(verdict)
        assert verdict.running_s > 0.7 * verdict.allowed_s, str(verdict)
        assert not world.plant.cut_out_open(leaf)
