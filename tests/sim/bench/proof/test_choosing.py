"""What is chosen depends on the seed and on nothing else that a program does."""

from __future__ import annotations

import sys
import types
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from sim.bench.proof.choosing import either, numbers, pick


def drawn(strategy: st.SearchStrategy[object], number: int) -> list[object]:
    """What a seed draws."""
    seen: list[object] = []
    kept = settings(
        max_examples=200,
        database=None,
        deadline=None,
        phases=(Phase.generate,),
        suppress_health_check=list(HealthCheck),
    )

    @given(strategy)
    def look(value: object) -> None:
        seen.append(value)

    seed(number)(kept(look))()
    return seen


EVERY = st.tuples(pick("abcdefg"), numbers(3, 40), either(pick((1, 2)), numbers(50, 60)))


def test_every_option_comes_and_nothing_else() -> None:
    seen = [value for each in drawn(st.lists(numbers(-3, 9), min_size=5), 1) for value in each]  # type: ignore[attr-defined]
    assert set(seen) == set(range(-3, 10))
    assert {first for first, _, _ in drawn(EVERY, 2)} == set("abcdefg")  # type: ignore[misc]


def test_the_first_is_the_simplest() -> None:
    assert drawn(EVERY, 3)[0] == ("a", 3, 1)


def test_a_module_that_was_loaded_meanwhile_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A library that draws the constants it finds in loaded modules doesn't find any of ours."""
    before = drawn(EVERY, 4)
    file = tmp_path / "constants.py"
    file.write_text("\n".join(f"C{n} = {n}" for n in range(60)), encoding="utf-8")
    module = types.ModuleType("constants")
    module.__file__ = str(file)
    monkeypatch.setitem(sys.modules, "constants", module)
    assert drawn(EVERY, 4) == before


def test_nothing_can_not_be_chosen_from() -> None:
    with pytest.raises(ValueError, match="nothing to choose"):
        pick(())
