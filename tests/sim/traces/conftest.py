"""A small trace: a leaf that opens for three seconds, a guard that trips, a controller that says so."""

from __future__ import annotations

import numpy as np
import pytest

from sim.traces.signal import Changes, Signal, Trace


@pytest.fixture(scope="session")
def taken() -> Trace:
    second = 1_000_000
    return Trace(
        np.array([0, second, 2 * second, 3 * second, 5 * second], dtype=np.int64),
        (
            Signal("active leaf angle", "°", np.array([0.0, 0.1, 30.0, 90.0, 90.0])),
            Signal("any guard tripped", "", np.array([0.0, 0.0, 1.0, 0.0, 0.0])),
        ),
        (
            Changes.of("controller state", [(0, "closed"), (second, "opening"), (3 * second, "open")]),
            Changes.of("outer beam", [(0, "clear"), (1_500_000, "tripped"), (2_500_000, "clear")]),
        ),
    )
