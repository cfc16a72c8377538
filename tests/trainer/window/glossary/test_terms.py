"""The words of the trade: each has one plain sentence, is found where it stands, and stands where it is found."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.language import speak
from trainer.window.glossary.terms import matching, read, terms, terms_in

DESIGNED = (
    *("leaf", "active leaf", "inactive leaf", "hinge", "stop", "meeting edge", "cover strip", "photo beam"),
    *("safety edge", "stop circuit", "key switch", "presence loop", "transmitter", "hold-to-run", "auto-close"),
    *("leaf delay", "slow zone", "travel learning", "force gauge", "isolator", "manual release", "relief push"),
    *("seating push", "guard", "reopen", "hold", "back off", "halt", "job", "sheet", "journal", "residual force"),
)
"""The words that the design's section 8 lists as ours, and those of the force limits (facts 1.2)."""


def test_every_word_of_the_design_is_there() -> None:
    """And each only once, however it is written."""
    names = [term.name for term in terms()]
    assert set(DESIGNED) <= set(names)
    forms = [form for term in terms() for form in (term.name, *term.also)]
    assert sorted(forms) == sorted(set(forms))


@pytest.mark.parametrize("term", terms(), ids=lambda term: term.name)
def test_each_word_has_one_plain_sentence(term) -> None:
    """One full stop, at the end; short enough to be read at a glance; no name of letters and digits."""
    assert re.fullmatch(r"[A-Z][^.!?]*\.", term.text)
    assert 30 <= len(term.text) <= 140
    assert not re.search(r"\b[A-Z]+\d", term.text)
    assert term.name == term.name.lower()


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("The active leaf stays where it is.", ["active leaf"]),
        ("A leaf, then the Active Leaf, then leaves.", ["leaf", "active leaf"]),
        ("leaflet, beamed and unstoppable: no words of ours", []),
        ("Pull the battery link; the isolator alone is not enough.", ["battery link", "isolator"]),
        ("hold-to-run is not hold", ["hold-to-run", "hold"]),
        ("", []),
    ],
)
def test_words_are_found_whole_and_the_longest_wins(text: str, found: list[str]) -> None:
    """In the order in which they stand."""
    assert [term.name for term in terms_in(text)] == found


@given(st.lists(st.sampled_from(terms()), max_size=6))
def test_what_is_written_is_found(written) -> None:
    """Words set apart by other marks are all found, in their order, each once."""
    text = " / ".join(term.name for term in written)
    assert terms_in(text) == list(dict.fromkeys(written))


def test_a_query_finds_in_words_and_in_sentences_the_words_first() -> None:
    """Every word of the query has to stand there."""
    found = [term.name for term in matching("leaf delay", terms())]
    assert found == ["leaf delay"]
    by_strip = [term.name for term in matching("strip", terms())]
    assert by_strip[0] == "cover strip"
    assert "inactive leaf" in by_strip
    assert matching("zebra", terms()) == []
    assert matching("", terms()) == list(terms())


def test_words_are_found_in_the_language_of_the_window() -> None:
    """Names, other forms and sentences go through the catalogue."""
    spanish = {"leaf": "hoja", "leaves": "hojas"}
    try:
        speak(lambda text: spanish.get(text, text))
        assert [term.name for term in terms_in("Las hojas, una hoja")] == ["leaf"]
        assert [term.name for term in matching("hojas", terms())] == ["leaf"]
    finally:
        speak(str)


def test_a_file_of_another_shape_is_refused() -> None:
    """Instead of being read as an empty glossary."""
    with pytest.raises(TypeError, match="read as str; it has to be a list of tables"):
        read({"group": "leaf"})
    with pytest.raises(KeyError):
        read({"group": [{"name": "x", "word": [{"name": "leaf"}]}]})
