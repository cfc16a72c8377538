"""The table of EN 12453 that says what must protect the main closing edge, written out once more and compared.

Facts 2.1. Sources as the fact sheet has them: *seen* in a published text that quotes the standard, or *from memory*;
the letters of the levels are from memory throughout.
"""

from __future__ import annotations

from itertools import chain, combinations

import pytest

from sim.site.activation import ACTIVATIONS, NEEDS, lacking

LETTERS = {
    "A": "held by push button",
    "B": "held by key switch",
    "C": "limited force",
    "D": "presence detection",
    "E": "no contact possible",
}
GROUPS = ("instructed", "instructed with public", "anyone")
TABLE = {
    # activation: one cell for each user group
    "hold-to-run": ("A", "B", "not allowed"),  # from memory
    "a press in sight": ("C or E", "C or E", "C and D, or E"),  # how many means: seen; letters from memory
    "a press out of sight": ("C or E", "C and D, or E", "C and D, or E"),  # second cell: seen; rest from memory
    "by itself": ("C and D, or E", "C and D, or E", "C and D, or E"),  # last two cells: seen; first from memory
}
CELLS = [(way, group, cell) for way, row in TABLE.items() for group, cell in zip(GROUPS, row, strict=True)]
SUBSETS = list(chain.from_iterable(combinations(LETTERS, count) for count in range(len(LETTERS) + 1)))


def enough(cell: str, present: set[str]) -> bool:
    """Whether a cell of the table, in its own words, is met by these letters; B is a better A."""
    if cell == "not allowed":
        return False
    if cell == "A":
        return bool(present & {"A", "B"})
    return any(set(way.strip().split(" and ")) <= present for way in cell.replace(", or ", " or ").split(" or "))


def test_the_table_is_complete() -> None:
    """Every kind of activation with every user group, and nothing else."""
    assert set(NEEDS) == {(way, group) for way in TABLE for group in GROUPS}
    assert set(ACTIVATIONS) == set(TABLE)


@pytest.mark.parametrize(("way", "group", "cell"), CELLS)
def test_each_cell_with_every_set_of_protections(way: str, group: str, cell: str) -> None:
    """All 32 sets of levels: what the table finds enough lacks nothing, and what it doesn't is told in words."""
    for letters in SUBSETS:
        told = lacking(way, group, [LETTERS[letter] for letter in letters])
        assert (told == "") is enough(cell, set(letters)), (letters, told)
        assert not told or group in told


@pytest.mark.parametrize("way", [way for way in TABLE if way != "hold-to-run"])
@pytest.mark.parametrize("group", GROUPS)
def test_noticing_people_never_replaces_a_limit_of_the_force(way: str, group: str) -> None:
    """Note 1 of facts 2.1 (seen): D lowers the chance of contact and is never enough by itself."""
    assert lacking(way, group, ["presence detection"])
    assert "limited force" in lacking(way, group, ["presence detection"])
