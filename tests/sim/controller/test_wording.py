"""Sentences by command: whole ones, each the same in English as the general one would be."""

from __future__ import annotations

from itertools import product

import pytest

from sim.controller import commands, guards, log, transmitters, wording
from sim.controller.ports import COMMAND_TERMINALS, GUARD_TERMINALS
from sim.controller.records import Note
from sim.controller.service import _ACTS as REQUESTS
from sim.controller.settings import defaults
from sim.controller.starting import WAYS
from sim.said import Said


@pytest.mark.parametrize(
    ("table", "general"),
    [
        (wording.GIVEN, "{what} given by {by}"),
        (wording.GIVEN_INSTEAD, "{what} given by {by} instead"),
        (wording.REFUSED, "{what} refused: {why}"),
        (wording.DONE, "done: {what}"),
        (wording.READS, "{guard} reads {what}"),
        (wording.ENROLLED, "enrolled for {holder}: {what}"),
    ],
)
def test_each_is_the_general_sentence_with_its_word_in_place(table, general) -> None:
    """English is what it always was; only the word is no gap any more."""
    for what, sentence in table.items():
        assert sentence == general.replace("{what}", what)


def test_every_command_and_request_has_its_own() -> None:
    """Whatever can be given, refused or done, by any control and any button."""
    given = {commands.given(defaults(), control) for control in COMMAND_TERMINALS} | {*transmitters.FUNCTIONS}
    assert given | {*commands.HELD, "learn"} == set(wording.GIVEN)
    assert set(WAYS) - {"learn"} == set(wording.GIVEN_INSTEAD)
    assert set(WAYS) | (set(REQUESTS) - {"set", "acknowledge"}) == set(wording.REFUSED)
    assert set(REQUESTS) - {"set"} == set(wording.DONE)
    assert set(transmitters.FUNCTIONS) == set(wording.ENROLLED)


def test_every_way_a_guard_reads_has_its_own() -> None:
    """Beams and stop by open and closed, edges by what their line says."""
    read = product(range(len(GUARD_TERMINALS)), guards.Reading)
    assert {str(guards.short_words(index, reading.value)) for index, reading in read} == set(wording.READS)


def test_a_line_of_the_log_keeps_its_parts() -> None:
    """And a setting, which has no sentence of its own, stands in a gap."""
    line = log.sentence(Note(1, 0, "command", "open", "step button"))
    assert (line, isinstance(line, Said)) == ("open given by step button", True)
    assert dict(line.fields)["by"] == "step button"
    assert log.sentence(Note(2, 0, "refused", "run speed", "it is sealed")) == "run speed refused: it is sealed"
    assert log.sentence(Note(3, 0, "power", "motors", "")) == "motors"
