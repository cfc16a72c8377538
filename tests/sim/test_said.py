"""A sentence that knows how it was put together: English to everyone, and its parts to whoever translates."""

from __future__ import annotations

import copy
import json
import pickle

import pytest

from sim.errors import Refused
from sim.said import Said, amid, begun, joined, listed, said


def test_it_is_the_english_text() -> None:
    """Compared, counted, written and logged as any text."""
    told = said("{guard} at {force_n:.1f} N", guard="Contact edge", force_n=149.96)
    assert told == "Contact edge at 150.0 N"
    assert (len(told), hash(told)) == (23, hash("Contact edge at 150.0 N"))
    assert f"{told}." == "Contact edge at 150.0 N."
    assert json.dumps([told]) == '["Contact edge at 150.0 N"]'


def test_its_parts_are_kept() -> None:
    """By copies too, and by an error made of it."""
    told = said("The {guard} is interrupted", guard=said("{place} beam", place="outer"))
    for each in (told, pickle.loads(pickle.dumps(told)), copy.deepcopy(told), str(told), str(Refused(told))):
        assert isinstance(each, Said)
        assert each == "The outer beam is interrupted"
        assert each.sentence == "The {guard} is interrupted"
        assert each.fields["guard"].fields == {"place": "outer"}


def test_a_gap_without_a_field_is_a_mistake_at_once() -> None:
    """Not when someone in another language looks."""
    with pytest.raises(KeyError, match="guard"):
        said("The {guard} is interrupted")


def test_several_after_each_other_keep_their_parts() -> None:
    """One alone is itself."""
    one, two = said("{n} is", n=1), "Two is."
    assert joined([one]) is one
    both = joined([one, two], ". ")
    assert both == "1 is. Two is."
    assert isinstance(both, Said)
    assert list(both.fields.values()) == [one, two]


def test_names_are_listed() -> None:
    """One alone is itself, none is nothing, and the last two are joined by a word."""
    guard = said("{place} beam", place="outer")
    assert listed([guard]) is guard
    assert (listed([]), listed(["a", "b"]), listed(iter("abc"))) == ("", "a and b", "a, b and c")
    told = listed([guard, "inner beam"])
    assert isinstance(told, Said)
    assert (told.sentence, told.fields["before"]) == ("{before} and {last}", guard)


def test_a_first_letter_is_large_or_small_where_the_text_stands() -> None:
    """Of a text with parts and of one without; the parts are kept, by copies too."""
    told = begun(said("{guard} is interrupted", guard="outer beam"))
    assert (told, begun("it is"), amid("It Is"), begun("")) == ("Outer beam is interrupted", "It is", "it Is", "")
    for each in (told, pickle.loads(pickle.dumps(told)), str(told)):
        assert isinstance(each, Said)
        assert (each, each.sentence) == ("Outer beam is interrupted", "{guard} is interrupted")
        assert each.shaped("è interrotta") == "È interrotta"
