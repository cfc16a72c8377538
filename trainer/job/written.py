"""Scenario files that the program writes itself."""

from __future__ import annotations

import io
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.representer import SafeRepresenter

from sim.world.arrival import Arrival


def as_yaml(data: dict[str, Any]) -> str:
    """Plain data as the text of a scenario file."""
    written = io.StringIO()
    yaml = YAML(typ="safe", pure=True)
    yaml.default_flow_style = False  # before the representer, which is made with what is set then
    yaml.representer.add_multi_representer(str, SafeRepresenter.represent_str)  # what is said is a text as any other
    yaml.width = 110
    yaml.dump(data, written)
    return written.getvalue()


def arrival_data(found: Arrival) -> dict[str, Any]:
    """How a gate with its power on is found, as far as its board goes: sheet, travel, transmitters."""
    return {
        "sheet": dict(found.sheet),
        "learned": found.learned,
        "transmitters": [{"tag": t, "holder": h, "function": f} for t, h, f in found.transmitters],
    }
