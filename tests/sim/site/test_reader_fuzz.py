"""Whatever text is thrown at the reader, only ScenarioError comes out, and what is accepted comes back the same."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from sim.errors import ScenarioError
from sim.site import Document, Site, dump_site, read_text, restore_site, validate

SITES = Path(__file__).resolve().parents[3] / "scenarios" / "sites"
ORCHARD = (SITES / "orchard_row.yaml").read_text(encoding="utf-8")

PIECES = st.sampled_from(
    ["a", ": ", "- ", "\n", "  ", "[", "]", "{", "}", ",", "&x", "*x", "!!int ", "!t ", "'", '"', "|", ">", "?", "#",
     "%", "@", "`", "---\n", "...\n", "~", "-_", "0b_", "0x", "0o8", ".", "_", "1e9", ".inf", ".nan", "2026-02-31",
     "9" * 40, "true", "no", "<<", "=", "\t", "\\", "\\x", "\x00", "\x85", "\u2028", "\ufeff", "é", "leaves",
     "active", "mass_kg", "format: gudgeon-site/1\n", "name: x\n", "guards", "not fitted"]
)  # fmt: skip


def refused(read: Callable[[], object]) -> list[str]:
    """The sentences of a refusal, or none; any other exception goes through and fails the test."""
    try:
        read()
    except ScenarioError as error:
        return error.problems or ["a refusal without a sentence"]
    return []


def read(text: str) -> None:
    """Read as far as it goes: only ScenarioError may stop it; what is accepted is plain and comes back the same."""
    found: list[Document] = []
    problems = refused(lambda: found.append(read_text(text, "fuzz.yaml")))
    assert all(problem.startswith(("fuzz.yaml", "...")) for problem in problems)
    for document in found:
        json.dumps(document.data, allow_nan=False).encode("ascii")
        sites: list[Site] = []
        problems = refused(lambda document=document, sites=sites: sites.append(validate(document, Site)))
        assert all(problem.startswith(("fuzz.yaml", "...")) for problem in problems)
        assert bool(problems) != bool(sites)
        assert all(restore_site(dump_site(site)) == site for site in sites)


@given(st.lists(PIECES, max_size=25).map("".join))
@example("a: -_")
@example("0b_: 1")
@example("&x [*x]")
@example("a: !!timestamp 2026-02-31")
@settings(max_examples=600, deadline=None)
def test_scraps_of_yaml(text: str) -> None:
    """Grammar scraps in any order."""
    read(text)


@given(st.text(max_size=80))
@settings(max_examples=400, deadline=None)
def test_any_text(text: str) -> None:
    """Characters of any kind."""
    read(text)


@given(st.binary(max_size=200))
@settings(max_examples=200, deadline=None)
def test_any_bytes(junk: bytes) -> None:
    """Bytes of any kind, read as Latin so that every one becomes a character."""
    read(junk.decode("latin-1"))


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_the_reference_site_with_a_bite_taken_out(data: st.DataObject) -> None:
    """A real file with some characters cut, doubled or replaced is read or refused, never worse."""
    at = data.draw(st.integers(0, len(ORCHARD)))
    cut = data.draw(st.integers(0, 30))
    put = data.draw(st.lists(PIECES, max_size=3).map("".join))
    read(ORCHARD[:at] + put + ORCHARD[at + cut :])


KEYS = st.sampled_from([*Site.model_fields, "active", "y_m"])
SCALARS = (
    st.none()
    | st.booleans()
    | st.integers(-10, 5000)
    | st.floats(allow_nan=False, allow_infinity=False, width=32)
    | st.sampled_from(["active", "inside", "not fitted", "linear ram", "x"])
)
TREES = st.recursive(
    SCALARS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=4), max_leaves=12
)


@given(st.dictionaries(st.sampled_from(list(Site.model_fields)), TREES, max_size=6))
@settings(max_examples=300, deadline=None)
def test_right_keys_with_wrong_values(tree: dict[str, object]) -> None:
    """Every type of value in the place of every other."""
    read(json.dumps({"format": "gudgeon-site/1", "name": "x", **tree}))


@pytest.mark.parametrize("path", sorted(SITES.glob("*.yaml")), ids=lambda path: path.stem)
def test_shipped_sites_survive_the_way_out_and_in(path: Path) -> None:
    """Site to text of base types to site is the identity for every site that is shipped."""
    site = validate(read_text(path.read_text(encoding="utf-8"), path.name), Site)
    text = json.dumps(dump_site(site))
    assert validate(read_text(text, "again.yaml"), Site) == site
