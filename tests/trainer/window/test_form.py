"""Forms of actions: how their fields are named, and the unit behind each."""

from __future__ import annotations

import pytest

from trainer.window.form import plain_name, unit_of


@pytest.mark.parametrize(
    ("argument", "name", "unit"),
    [
        ("gap_mm", "gap", "mm"),
        ("x_m", "x", "m"),
        ("speed_m_s", "speed", "m/s"),
        ("at_most_s", "at most", "s"),
        ("to_deg", "to", "°"),
        ("seconds", "seconds", "s"),
        ("leaf", "leaf", ""),
    ],
)
def test_a_field_has_a_plain_name_and_its_unit_behind_it(argument, name, unit) -> None:
    """Arguments end in their unit (common practice, no source); a person reads the two apart."""
    assert (plain_name(argument), unit_of(argument)) == (name, unit)
