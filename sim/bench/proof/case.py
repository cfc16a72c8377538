"""What is tried on a gate: how it is found, and what is done to it when. Plain data, equal by value, kept as JSON."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from sim.world.actions import Value

WAITS: Final = (
    "",
    "it opens",
    "it closes",
    "the gate rests",
    "fully open",
    "fully closed",
    "learning ends",
    "something is met",
)
"""What may be waited for after an act, before its seconds begin; empty is nothing. It opens or closes when a leaf is
driven that way; something is met when a leaf touches a body."""


@dataclass(frozen=True, slots=True)
class Step:
    """One act, and how long it is until the next one."""

    act: str
    """A kind of `sim.world.actions.CATALOGUE`, or of `sim.world.prompt.BEYOND`."""
    arguments: tuple[tuple[str, Value], ...] = ()
    wait: str = ""
    """One of `WAITS`, waited for at most a minute and a half."""
    seconds: float = 0.1
    """Time after that until the next step [s]."""

    def argument(self, name: str) -> Value:
        """One of its arguments. Raises KeyError if it has none of that name."""
        return dict(self.arguments)[name]


@dataclass(frozen=True, slots=True)
class Case:
    """One play from beginning to end."""

    steps: tuple[Step, ...]
    sheet: tuple[tuple[str, Value], ...] = ()
    """Settings that differ from those of the gate it is played on; found so, nothing goes stale by them."""
    faults: tuple[tuple[str, float], ...] = ()
    """(name, how grave from 0 to 1) of what ails the gate from the beginning."""
    tail_s: float = 8.0
    """How long it is watched after the last step [s]."""

    def as_base_types(self) -> dict[str, Any]:
        """As dictionaries, lists, text and numbers."""
        return {
            "sheet": dict(self.sheet),
            "faults": [list(each) for each in self.faults],
            "steps": [
                {"act": s.act, "arguments": dict(s.arguments), "wait": s.wait, "seconds": s.seconds}
                for s in self.steps
            ],
            "tail_s": self.tail_s,
        }

    @classmethod
    def from_base_types(cls, data: Mapping[str, Any]) -> Case:
        """The case that `as_base_types` took apart."""
        return cls(
            steps=tuple(
                Step(s["act"], tuple(s["arguments"].items()), s["wait"], float(s["seconds"])) for s in data["steps"]
            ),
            sheet=tuple(data["sheet"].items()),
            faults=tuple((str(name), float(share)) for name, share in data["faults"]),
            tail_s=float(data["tail_s"]),
        )

    def id_of(self, property: str) -> str:
        """Twelve hexadecimal digits that stand for this case as a counterexample to a property."""
        text = json.dumps([property, self.as_base_types()], sort_keys=True)
        return hashlib.sha256(text.encode()).hexdigest()[:12]
