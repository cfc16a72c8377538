"""Every safety rule, by name."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from trainer.grading.safety import bridges, cordon, effort, leaves, measuring, meter, people, power, proofs
from trainer.grading.safety.rule import Rule


def catalogue(rules: tuple[Rule, ...]) -> Mapping[str, Rule]:
    """Rules by name. Raises ValueError when a name stands twice."""
    found: dict[str, Rule] = {}
    for rule in rules:
        if rule.name in found:
            raise ValueError(f"there are two safety rules named '{rule.name}'")
        found[rule.name] = rule
    return MappingProxyType(found)


RULES: Final = catalogue(
    (
        *power.RULES,
        *people.RULES,
        *bridges.RULES,
        *effort.RULES,
        *meter.RULES,
        *measuring.RULES,
        *leaves.RULES,
        *proofs.RULES,
        *cordon.RULES,
    )
)
