"""Scenario files that the program writes itself."""

from __future__ import annotations

import io
from typing import Any

from ruamel.yaml import YAML


def as_yaml(data: dict[str, Any]) -> str:
    """Plain data as the text of a scenario file."""
    written = io.StringIO()
    yaml = YAML(typ="safe", pure=True)
    yaml.default_flow_style = False
    yaml.width = 110
    yaml.dump(data, written)
    return written.getvalue()
