"""The notebook: three kinds of notes, put right by their number, never lost."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.errors import Refused
from sim.units import Us
from sim.world.notebook import WRITTEN, Note, Notebook

ACTS = st.lists(
    st.tuples(st.sampled_from(["add", "told", "rewrite", "strike"]), st.integers(1, 5), st.sampled_from(WRITTEN)),
    max_size=30,
)


@given(ACTS)
def test_lines_are_added_and_never_lost(acts: list[tuple[str, int, str]]) -> None:
    """Whatever is put right, every line begun stays, in its order, with its number and the time it began."""
    book, begun = Notebook(), []
    for now, (act, number, entry) in enumerate(acts):
        if act in ("add", "told"):
            book.add(Us(now), f"line {now}", entry if act == "add" else "")  # type: ignore[arg-type]
            begun.append((Us(now), act == "add"))
        elif number > sum(by_hand for _, by_hand in begun):
            with pytest.raises(Refused):
                book.strike(number, Us(now))
        elif act == "rewrite":
            book.rewrite(number, Us(now), "anew", entry)  # type: ignore[arg-type]
            assert (book.by_hand(number).entry, book.by_hand(number).struck) == (entry, False)
        else:
            book.strike(number, Us(now))
            assert book.by_hand(number).struck
    assert [(note.at, note.number > 0) for note in book.lines] == begun
    assert [note.number for note in book.lines if note.number] == list(range(1, sum(hand for _, hand in begun) + 1))


def test_a_note_that_is_not_there_is_refused_in_words() -> None:
    """What was asked for, and what there is; a line that an act wrote has no number."""
    book = Notebook()
    book.add(Us(0), "proved dead")
    with pytest.raises(Refused, match="no note 1; nothing was written by hand yet"):
        book.by_hand(1)
    with pytest.raises(Refused, match="no note 0"):
        book.by_hand(0)
    book.add(Us(5), "lamp dark", "seen")
    with pytest.raises(Refused, match="no note 2; it has 1 to 1"):
        book.by_hand(2)
    assert book.by_hand(1) == Note(Us(5), "lamp dark", "seen", 1)
