"""The catalogue of actions and what each does: same names, arguments checked, messages that help."""

from __future__ import annotations

import pytest

from sim.errors import ActionError
from sim.world.actions import CATALOGUE, checked
from sim.world.effects import EFFECTS


def test_every_action_of_the_catalogue_has_an_effect_and_every_effect_an_entry() -> None:
    """One catalogue: nothing can be asked for that does nothing, nothing done that can't be asked for."""
    assert set(EFFECTS) == set(CATALOGUE)


@pytest.mark.parametrize("kind", CATALOGUE)
def test_every_entry_describes_itself(kind: str) -> None:
    """Panels and command line are made from the entries, so each must say what it and its arguments are."""
    entry = CATALOGUE[kind]
    assert entry.help.endswith(".")
    assert entry.takes >= 0
    assert all(argument.help for argument in entry.arguments)


def test_a_slip_gets_the_nearest_right_name() -> None:
    """A misspelt kind, argument or choice is answered with the one that was meant."""
    with pytest.raises(ActionError, match="did you mean 'isolate'"):
        checked("isolat")
    with pytest.raises(ActionError, match=r"takes no 'leav'.*did you mean 'leaf'"):
        checked("release drive", {"leav": "active"})
    with pytest.raises(ActionError, match="allowed: active, inactive; did you mean 'active'"):
        checked("release drive", {"leaf": "activ"})


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({}, "is missing"),
        ({"seconds": "soon"}, "a number is needed"),
        ({"seconds": True}, "a number is needed"),
        ({"seconds": -1}, "allowed: 0 to 7200"),
        ({"seconds": float("nan")}, "not a number"),
    ],
)
def test_arguments_are_checked_with_the_value_and_what_is_allowed(arguments: dict[str, object], said: str) -> None:
    """Bad arguments never reach a world."""
    with pytest.raises(ActionError, match=said):
        checked("wait", arguments)


def test_defaults_are_filled_in() -> None:
    """An argument with a default may be left out."""
    assert checked("press transmitter", {"transmitter": "red fob"})["button"] == 1
