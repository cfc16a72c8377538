"""The sheet offers exactly the kinds of drive that a site can hold: the controller may not read a site's list."""

from __future__ import annotations

from sim.controller.settings import CATALOGUE, NOT_STATED
from sim.site import DRIVE_KINDS


def test_the_sheet_offers_every_kind_of_drive_and_no_other() -> None:
    """A new kind of drive is entered in both places, or this says which one was forgotten."""
    first, *kinds = CATALOGUE["drive kind"].choices
    assert first == NOT_STATED
    assert tuple(kinds) == DRIVE_KINDS
