"""A stage that every test of this room plays on."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.bench.proof.play import Stage, everything_wired
from sim.site import load_site

SITE = Path(__file__).resolve().parents[4] / "scenarios" / "sites" / "reference_bench.yaml"


@pytest.fixture(scope="session")
def stage() -> Stage:
    """The teaching bench with the reference controller."""
    return Stage(everything_wired(load_site(SITE)))
