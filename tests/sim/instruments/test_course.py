"""Least and most since an instrument was placed, against a look at every scan instant."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from sim.instruments.course import course_of, live_now
from sim.world.world import World

Watched = tuple[World, int, dict[str, list[float]]]

PLACES = {
    "motor": ("active leaf motor at the leaf, plus", "active leaf motor at the leaf, minus"),
    "other motor": ("inactive leaf motor, plus", "inactive leaf motor, minus"),
    "supply": ("board supply, plus", "board supply, minus"),
    "lamp": ("warning lamp, plus", "warning lamp, minus"),
}


@pytest.fixture(scope="module", params=["free", "held up"])
def watched(
    request: pytest.FixtureRequest, make_bench: Callable[..., Any]
) -> tuple[World, int, dict[str, list[float]]]:
    """A movement, free or against stiff hinges (the bridges at their limit), looked at at every scan instant."""
    bench = make_bench(learned=True)
    world: World = bench.world
    if request.param == "held up":
        for leaf in ("active", "inactive"):
            model = getattr(world.site.leaves, leaf)
            changed = model.model_copy(update={"hinge_friction_nm": 700.0})
            leaves = world.site.leaves.model_copy(update={leaf: changed})
            world.refit(world.site.model_copy(update={"leaves": leaves}))
    bench.place("multimeter", "volts dc", *PLACES["motor"])
    since = int(world.now)
    bench.do("press", control="open button")
    seen: dict[str, list[float]] = {name: [] for name in PLACES}
    limited = False
    for _ in range(2600):
        world.run_to(world.now + 10_000)
        limited = limited or abs(world.plant.driven(0)) < abs(world.plant.duty(0)) - 0.01
        for name, (red, black) in PLACES.items():
            seen[name].append(world.cabinet.volts(red, black, live_now(world)) or 0.0)
    assert limited, "the bridge never held its limit: the harder half of this was not tried"
    return world, since, seen


@pytest.mark.slow
@pytest.mark.parametrize("name", list(PLACES))
def test_extremes_are_those_of_every_instant(watched: Watched, name: str) -> None:
    """Without having looked at one of them. Within the last millisecond of a ramp a duty is known to 0.0005 only."""
    world, since, seen = watched
    red, black = (world.cabinet.terminal(each).node for each in PLACES[name])
    least, most = course_of(world).extremes(since, lambda stretch, live: stretch.look.volts(red, black, live))
    assert least == pytest.approx(min(seen[name]), abs=0.015)
    assert most == pytest.approx(max(seen[name]), abs=0.015)
