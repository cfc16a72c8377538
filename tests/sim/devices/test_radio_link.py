"""The link budget: everything that makes a transmitter weaker makes it weaker, and no more than that."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.devices import radio_link
from sim.site import Receiver


def test_cells_fall_and_stiffen() -> None:
    """A fresh lithium cell has 3 V and more, a flat one under 2.5 V; it sags more the emptier it is."""
    charges = [n / 50.0 for n in range(51)]
    assert radio_link.cell_v(1.0) == pytest.approx(3.05)
    assert radio_link.cell_v(0.06) < 2.5
    assert all(radio_link.cell_v(a) <= radio_link.cell_v(b) for a, b in pairwise(charges))
    assert all(radio_link.cell_ohm(a) >= radio_link.cell_ohm(b) for a, b in pairwise(charges))
    assert radio_link.droop_db(1.0) == pytest.approx(0.0)
    assert radio_link.droop_db(0.0) is None
    droops = [d for d in map(radio_link.droop_db, charges) if d is not None]
    assert droops == sorted(droops)


@given(one=st.floats(0.5, 300.0), more=st.floats(1.01, 4.0), height=st.floats(0.3, 10.0))
def test_farther_is_weaker(one: float, more: float, height: float) -> None:
    """By six to twelve decibels a doubling, wherever one stands."""
    step = radio_link.open_field_db(one * more, 433.92, height) - radio_link.open_field_db(one, 433.92, height)
    assert 20.0 * math.log10(more) - 1e-9 <= step <= 40.0 * math.log10(more) + 1e-9


def test_a_quarter_wave_is_the_best_of_short_wires() -> None:
    """A stub is worth little, a whole quarter wave most, one a good deal too long less again."""
    levels = [radio_link.aerial_db(mm, 433.92) for mm in (10, 20, 40, 80, 120, 160)]
    assert levels == sorted(levels)
    assert radio_link.aerial_db(172.72, 433.92) == pytest.approx(0.0, abs=0.01)
    assert radio_link.aerial_db(300.0, 433.92) < -3.0


def test_an_interferer_takes_range_and_lights_the_lamp() -> None:
    """What stands on the channel all the time must be beaten by 10 dB; weak, it changes nothing."""
    quiet, loud = Receiver(), Receiver(interferer_dbm=-70.0)
    faint = Receiver(interferer_dbm=-120.0)
    assert not radio_link.is_busy(quiet)
    assert radio_link.is_busy(loud)
    assert radio_link.range_m(-15.0, 1.0, loud) < 5.0 < radio_link.range_m(-15.0, 1.0, quiet)
    assert radio_link.range_m(-15.0, 1.0, faint) == pytest.approx(radio_link.range_m(-15.0, 1.0, quiet), abs=1.0)


def test_powers_add_up() -> None:
    """Noise and an equal interferer are three decibels more."""
    both = Receiver(noise_dbm=-100.0, interferer_dbm=-100.0)
    assert radio_link.quiet_dbm(both) == pytest.approx(-96.99, abs=0.01)


def test_the_range_is_where_the_margin_ends() -> None:
    """Within it the margin is there, half a metre beyond it isn't."""
    receiver = Receiver()
    reached = radio_link.range_m(-15.0, 0.25, receiver)
    for at, has in ((reached, True), (reached + 0.6, False)):
        margin = radio_link.margin_db(radio_link.hand_way(-15.0, 0.25, at, receiver).level_dbm(receiver), receiver)
        assert margin is not None
        assert (margin >= 0.0) is has
    assert radio_link.range_m(-15.0, 0.0, receiver) == 0.0
