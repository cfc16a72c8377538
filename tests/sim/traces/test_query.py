"""Questions to a trace: rose, held, never while."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from sim.traces.query import Span, held, never_while, rose, spans, spans_of
from sim.traces.signal import Trace

SECOND = 1_000_000
SPANS = st.lists(st.integers(0, 30), unique=True, max_size=8).map(
    lambda edges: [Span(a, b) for a, b in zip(sorted(edges)[::2], sorted(edges)[1::2], strict=False)]
)


def test_a_play_read_from_its_trace(taken: Trace) -> None:
    """Spans of a sampled and of a change-only signal, when they rose, how long they held."""
    wide = spans(taken, "active leaf angle", lambda angle: angle > 10)
    assert wide == [Span(2 * SECOND, 5 * SECOND)]
    opening = spans_of(taken, "controller state", lambda state: state == "opening")
    assert opening == [Span(SECOND, 3 * SECOND)]
    assert rose(opening) == [SECOND]
    assert rose(spans_of(taken, "controller state", lambda state: state == "closed")) == []
    assert held(opening, 2 * SECOND)
    assert not held(opening, 2 * SECOND + 1)


def test_never_while_names_the_first_time_it_was(taken: Trace) -> None:
    """A tripped beam while opening is found, with when; a tripped beam while open never was."""
    tripped = spans_of(taken, "outer beam", lambda beam: beam == "tripped")
    opening = spans_of(taken, "controller state", lambda state: state == "opening")
    resting = spans_of(taken, "controller state", lambda state: state == "open")
    assert never_while(tripped, opening) == Span(1_500_000, 2_500_000)
    assert never_while(tripped, resting) is None
    assert resting == [Span(3 * SECOND, 5 * SECOND)]


@given(one=SPANS, two=SPANS)
def test_never_while_agrees_with_looking_at_every_instant(one: list[Span], two: list[Span]) -> None:
    """It finds an overlap exactly when some instant lies in both, and says the first; order is no matter."""
    both = [t for t in range(31) if any(s.start <= t < s.end for s in one) and any(s.start <= t < s.end for s in two)]
    found = never_while(one, two)
    assert (found is None) == (not both)
    assert found == never_while(two, one)
    if found is not None:
        assert found.start == both[0]
        assert set(range(found.start, found.end)) <= set(both)
