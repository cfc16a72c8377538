"""What somebody came with: the instruments in the bag and the spare parts in the van, if a job doesn't give all."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from sim.errors import Refused
from sim.said import listed, said
from sim.world.actions import Action

ALWAYS: Final = frozenset({"two-pole tester", "look", "service panel"})
"""Nobody is sent out without what proves a circuit dead; eyes and the gate's own panel are always there."""

TAKES: Final[Mapping[str, str]] = MappingProxyType(
    {"place probes": "multimeter", "read meter": "multimeter", "place force gauge": "force gauge"}
)
"""Acts that need an instrument and don't name it."""


@dataclass(frozen=True, slots=True)
class Van:
    """Instruments and spare parts; None stands for all there are."""

    tools: frozenset[str] | None = None
    parts: frozenset[str] | None = None

    def check(self, action: Action) -> None:
        """Raise Refused where an act needs what isn't there."""
        tool = TAKES.get(action.kind) or str(action.arguments.get("instrument", ""))
        if self.tools is not None and tool and tool not in self.tools | ALWAYS:
            there = listed(sorted(self.tools | ALWAYS))
            raise Refused(said("the {tool} is not in your bag today; there are: {there}", tool=tool, there=there))
        if self.parts is None or action.kind != "replace":
            return
        part = str(action["what"]).strip().lower()
        if part not in {each.lower() for each in self.parts}:
            raise Refused(
                said(
                    "there is no new {part} in the van today; there are: {there}",
                    part=part,
                    there=listed(sorted(self.parts)),
                )
                if self.parts
                else said("there is no new {part} in the van today, nor any other part", part=part)
            )
