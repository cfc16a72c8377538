"""A job that gives only some instruments and parts: what isn't there is refused, and the tester always is."""

from __future__ import annotations

import pytest

from sim.errors import Refused
from sim.world.actions import checked
from trainer.session.van import Van

VAN = Van(frozenset({"multimeter"}), frozenset({"active leaf motor"}))


@pytest.mark.parametrize(
    ("kind", "given"),
    [
        ("measure", {"instrument": "multimeter", "function": "volts"}),
        ("place probes", {"function": "volts dc", "red": "a", "black": "b"}),
        ("measure", {"instrument": "two-pole tester", "function": "prove"}),
        ("prove tester", {}),
        ("replace", {"what": "Active leaf motor"}),
        ("clean", {"what": "outer beam lens"}),
    ],
)
def test_what_is_there_may_be_used(kind: str, given: dict[str, object]) -> None:
    """The tester is always in the bag: nobody is sent out without it."""
    VAN.check(checked(kind, given))


@pytest.mark.parametrize(
    ("kind", "given", "says"),
    [
        ("measure", {"instrument": "oscilloscope", "function": "volts"}, "the oscilloscope is not in your bag"),
        ("place force gauge", {"leaf": "active", "gap_mm": 50.0, "height_mm": 300.0, "rest": "rigid rest"}, "gauge"),
        ("replace", {"what": "board"}, "there is no new board in the van today; there are: active leaf motor"),
    ],
)
def test_what_is_not_there_is_refused(kind: str, given: dict[str, object], says: str) -> None:
    """In words that say what there is."""
    with pytest.raises(Refused, match=says):
        VAN.check(checked(kind, given))


def test_without_a_word_there_is_everything() -> None:
    """As a job says that names none."""
    Van().check(checked("replace", {"what": "board"}))
    with pytest.raises(Refused, match="nor any other part"):
        Van(parts=frozenset()).check(checked("replace", {"what": "board"}))
