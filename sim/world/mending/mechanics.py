"""Repairs of leaves, hinges, posts, rams and of what lies in the way."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Final

from sim.errors import Refused
from sim.said import said
from sim.units import LEAVES
from sim.world.mending.row import Mend

if TYPE_CHECKING:
    from sim.world.world import World

Ready = Callable[["World"], None]


def carried(leaf: int) -> Ready:
    """Something else must carry or hold the leaf while its hinges, its post or its drive are undone."""

    def ready(world: World) -> None:
        if world.site.leaves.pair[leaf].secured == "free":
            raise Refused(
                said("nothing holds the {leaf} leaf: prop or rope it before this is undone", leaf=LEAVES[leaf])
            )

    return ready


def _of(leaf: int) -> Iterator[Mend]:
    name = LEAVES[leaf]
    hung, held, driven = f"leaves.{name}", carried(leaf), f"drives.{name}"
    hinges = f"hinges of the {name} leaf"
    wear = tuple(f"{hung}.{key}" for key in ("sag_m", "hinge_friction_n_m", "hinge_viscous_n_m_s", "hinge_bolts_n_m"))
    yield Mend("replace", hinges, site=wear, seconds=7200.0, parts=("pair of hinges",), ready=held)
    greased = (f"{hung}.hinge_friction_n_m", f"{hung}.hinge_viscous_n_m_s", f"{hung}.grease_per_k")
    yield Mend("grease", hinges, site=greased, seconds=2400.0, ready=held)
    lines = tuple(f"{hung}.{key}" for key in ("sag_m", "hinge_tilt_deg", "hinge_tilt_towards_deg", "hinge_rise_m"))
    yield Mend("adjust", hinges, site=lines, seconds=3600.0, parts=("shims",), ready=held)
    yield Mend("tighten", f"hinge bolts of the {name} leaf", site=(f"{hung}.hinge_bolts_n_m",), seconds=900.0)
    yield Mend("adjust", f"post of the {name} leaf", site=(f"{hung}.post",), seconds=28_800.0, ready=held)
    yield Mend("adjust", f"frame of the {name} leaf", site=(f"{hung}.out_of_square_m",), seconds=10_800.0, ready=held)
    stop = (f"{hung}.open_stop_fitted", f"{hung}.open_stop_deg")
    yield Mend("adjust", f"open stop of the {name} leaf", site=stop, seconds=1800.0, parts=("ground stop",))
    yield Mend("clear away", f"ground under the {name} leaf", site=(f"{hung}.ground",), seconds=1800.0)
    yield Mend("replace", f"infill of the {name} leaf", site=(f"{hung}.solidity",), seconds=7200.0)
    yield Mend("replace", f"rod of the {name} leaf", site=(f"{driven}.rod_bow",), seconds=3600.0, ready=held)
    yield Mend(
        "replace", f"bracket of the {name} leaf", site=(f"{driven}.bracket_play_m",), seconds=5400.0, ready=held
    )
    yield Mend("grease", f"gear of the {name} leaf", site=(f"{driven}.grease_per_k",), seconds=3600.0, ready=held)
    key = f"release key of the {name} leaf"
    yield Mend("replace", key, site=(f"{driven}.release_key",), seconds=300.0, dead=False, parts=("release key",))


ROWS: Final[tuple[Mend, ...]] = (
    *_of(0),
    *_of(1),
    Mend("adjust", "meeting gap", site=("opening_width_m",), seconds=7200.0),
    Mend("adjust", "cover strip", site=("cover_strip",), seconds=2400.0),
    Mend("adjust", "seal of the lock", site=("lock.pressed_n",), seconds=1200.0),
)
"""Both leaves, and what they share."""

CALM: Final = Mend(
    "clear away", "wind", site=("weather.wind_m_s", "weather.gust_intensity"), seconds=3600.0, dead=False
)
"""Nobody mends the weather; one comes back when it is as it usually is here."""
