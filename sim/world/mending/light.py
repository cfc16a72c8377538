"""Repairs of photo beams and of what stands, grows and shines around them."""

from __future__ import annotations

from typing import Final

from sim.world.mending.row import Mend


def _of(guard: str) -> tuple[Mend, ...]:
    at = f"guards.{guard.replace(' ', '_')}"
    ends = ("emitter", "receiver")
    aims = tuple(f"{at}.{end}_{what}" for end in ends for what in ("aim_deg", "lean_deg"))
    return (
        Mend("align", guard, site=aims, seconds=900.0, dead=False),
        Mend("clean", f"{guard} lenses", site=tuple(f"{at}.{end}_dirt" for end in ends), seconds=300.0, dead=False),
        Mend("adjust", f"{guard} channel", site=(f"{at}.channel",), seconds=300.0, dead=False),
        Mend(
            "replace", f"{guard} hood", site=(f"{at}.hood_deg",), seconds=300.0, dead=False, parts=("receiver hood",)
        ),
        Mend(
            "replace",
            f"{guard} receiver",
            extras=(f"{guard} receiver, *",),
            seconds=1800.0,
            parts=("photo beam receiver",),
        ),
        Mend(
            "re-terminate",
            f"{guard} ends",
            elements=(f"{guard}, * core",),
            seconds=2400.0,
        ),
    )


ROWS: Final[tuple[Mend, ...]] = (
    *_of("outer beam"),
    *_of("inner beam"),
    Mend("prune", "what grows near the beams", site=("surroundings.foliage",), seconds=1200.0, dead=False),
    Mend("clear away", "bright cladding", site=("surroundings.mirrors",), seconds=3600.0, dead=False),
)
