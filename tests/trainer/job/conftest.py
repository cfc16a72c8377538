"""A small folder of scenarios that a test may change."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from sim.errors import ScenarioError

SITE = """\
format: gudgeon-site/1
name: Test yard
transmitters: [{tag: red fob, serial: "1"}]
hazards:
- {hazard: gap, covers: [outer beam, inner beam], choices: [outer beam, inner beam, nothing]}
"""

JOB = """\
format: gudgeon-job/1
title: Small job
site: yard.yaml
brief: It does not go.
teaching: Look first.
acceptance: [leaf directions proved, no bridge left]
arrival: {mains: "off", swapped_leads: [inactive], sheet: {auto-close: "on"}, angles_deg: {active: 20}}
draw:
- name: wrong leaf
  one_of:
  - {arrival: {swapped_leads: [inactive]}, values: {wrong leaf: inactive}}
  - {arrival: {swapped_leads: [active]}, values: {wrong leaf: active}}
- name: strip
  first: 1
  one_of:
  - {site: {cover_strip.face: inside}, values: {first leaf: active, height: 5}}
  - {site: {cover_strip.face: outside}, values: {first leaf: inactive, height: 7.5}}
steps:
- {text: Swap them., check: leaf directions proved}
solution: small.yaml
"""

SOLUTION = """\
format: gudgeon-solution/1
job: small.yaml
steps:
- isolate
- swap motor leads: {leaf: <wrong leaf>}
"""

DRILL = """\
format: gudgeon-drill/1
title: Small drill
job: small.yaml
seed: 0
steps:
- at: 5
  message: Go ahead.
- when: {fully: closed, within: 60}
  inject: {name: dark, cover: outer beam}
- clear: dark
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """`sites/yard.yaml`, `jobs/small.yaml` with its solution, `drills/small.yaml`."""
    for place, text in (
        ("sites/yard.yaml", SITE),
        ("jobs/small.yaml", JOB),
        ("jobs/solutions/small.yaml", SOLUTION),
        ("drills/small.yaml", DRILL),
    ):
        path = tmp_path / place
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path


@pytest.fixture
def edit(folder: Path) -> Callable[[str, str, str], Path]:
    """Replace a piece of a file that must be there; the file's path."""

    def edited(place: str, old: str, new: str) -> Path:
        path = folder / place
        text = path.read_text(encoding="utf-8")
        assert old in text, f"{old!r} is not in {place}"
        path.write_text(text.replace(old, new, 1), encoding="utf-8")
        return path

    return edited


@pytest.fixture
def said() -> Callable[[Callable[[], object]], str]:
    """The sentences with which something is refused; fails if it is accepted."""

    def of(read: Callable[[], object]) -> str:
        with pytest.raises(ScenarioError) as caught:
            read()
        return str(caught.value)

    return of
