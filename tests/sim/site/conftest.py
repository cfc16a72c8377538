"""Text of small sites, and the sentences with which they are refused."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from sim.errors import ScenarioError
from sim.site import Site, read_text, validate

HEAD = "format: gudgeon-site/1\nname: Test yard\n"


@pytest.fixture
def site_from() -> Callable[[str], Site]:
    """A site from text below the two first lines (format and name)."""
    return lambda text="": validate(read_text(HEAD + text, "yard.yaml"), Site)


@pytest.fixture
def refusals(site_from: Callable[[str], Site]) -> Callable[[str], list[str]]:
    """The sentences with which a text is refused; fails if it is accepted."""

    def refused(text: str) -> list[str]:
        with pytest.raises(ScenarioError) as caught:
            site_from(text)
        return caught.value.problems

    return refused
