"""How a search chooses: by booleans alone, so that a seed settles what is drawn whatever else a program has loaded.

Hypothesis now and then puts a constant that it read in the program's own modules in the place of a drawn integer, and
`sampled_from` and `one_of` are integers to it; booleans are left alone. What comes first is the simplest.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from hypothesis import strategies as st

T = TypeVar("T")


def pick(options: Sequence[T]) -> st.SearchStrategy[T]:
    """One of these, each nearly as likely as any other. Raises ValueError if there is none."""
    if not options:
        raise ValueError("there is nothing to choose from")
    bits = (len(options) - 1).bit_length()
    chosen = tuple(options)

    def at(drawn: tuple[bool, ...]) -> T:
        place = sum(bit << (bits - 1 - index) for index, bit in enumerate(drawn))
        return chosen[place * len(chosen) >> bits]

    return st.tuples(*[st.booleans()] * bits).map(at)


def numbers(least: int, most: int) -> st.SearchStrategy[int]:
    """A whole number from `least` to `most`."""
    return pick(range(least, most + 1))


def either(*strategies: st.SearchStrategy[T]) -> st.SearchStrategy[T]:
    """What one of these draws."""
    return pick(strategies).flatmap(lambda strategy: strategy)
