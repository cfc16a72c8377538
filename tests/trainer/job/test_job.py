"""A job file: checked against its site, its draws, its solution, the sheet and the catalogue of actions."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import get_args

import pytest

from sim.errors import ScenarioError
from sim.site import read_text, validate
from sim.world.actions import CATALOGUE
from trainer.job import CHECK_NAMES, job_digest, job_files, load_job, load_named_job, schemas
from trainer.job.models import Job, Placed

Edit = Callable[[str, str, str], Path]
Said = Callable[[Callable[[], object]], str]

QUESTION = """\
questions:
- question: The outer beam is cut while closing. What then?
  guard: outer beam
  moving: closing
  answers: [it reopens, it stops]
  right: it reopens
  why: So that nobody is caught.
solution:"""


def test_a_job_knows_its_site_and_what_it_allows(folder: Path) -> None:
    """The site is read with the job, before anything is drawn."""
    job = load_job(folder / "jobs/small.yaml")
    assert job.base_site.name == "Test yard"
    assert job.path == folder / "jobs/small.yaml"
    assert job.allows("isolate")


@pytest.mark.parametrize(
    ("old", "new", "place", "reason"),
    [
        ("title: Small job\n", "", ":1:1:", "the key 'title' is missing"),
        ("brief:", "breif:", ":4:1 breif:", "did you mean 'brief'?"),
        ("site: yard.yaml", "site: yrad.yaml", ":3:1 site:", "no such file in sites; did you mean 'yard.yaml'?"),
        ("site: yard.yaml", "site: ../../etc/passwd", ":3:1 site:", "read '../../etc/passwd'; allowed:"),
        ("no bridge left]", "no bridge lft]", ":6:38 acceptance.1:", "did you mean 'no bridge left'?"),
        ("no bridge left]", "leaf directions proved]", ":6:38 acceptance.1:", "stands here twice"),
        ("[leaf directions proved, no", "[no", "steps.0.check:", "not in this job's acceptance"),
        ("check: leaf directions proved", "check: leaf direction", "steps.0.check:", "'leaf directions proved'?"),
        ('mains: "off"', "mains: maybe", ":7:11 arrival.mains:", "allowed: on, off"),
        ("swapped_leads: [inactive], sheet", "swaped_leads: [], sheet", "arrival.swaped_leads:", "'swapped_leads'?"),
        ("active: 20", "active: 95", "arrival.angles_deg.active:", "the open stop of that leaf stands at 92"),
        ('mains: "off"', "unplugged: [inner beam]", "arrival.unplugged.0:", "not fitted on Test yard"),
        ('mains: "off"', "battery_linked: true", "arrival.battery_linked:", "there is no battery"),
        ("auto-close:", "auto close:", "arrival.sheet.auto close:", "did you mean 'auto-close'?"),
        ('auto-close: "on"', "auto-close: maybe", "arrival.sheet.auto-close:", "allowed: off, on"),
        ('auto-close: "on"', "auto-close after: 3", "arrival.sheet.auto-close after:", "allowed: 5 to 300 s"),
        ('auto-close: "on"', "auto-close after: long", "arrival.sheet.auto-close after:", "a number [s]"),
        ("first: 1", "first: 2", ":14:3 draw.1.first:", "allowed: a position from 0 to 1"),
        ("- name: strip", "- name: wrong leaf", "draw.1:", "stands here twice"),
        ("values: {wrong leaf: active}", "values: {}", "draw.0.one_of.1.values:", "wrong leaf is not in all"),
        ("cover_strip.face: outside", "cover_strip.fase: x", ":17:13 draw.1.one_of.1.site", "'face'?"),
        ("cover_strip.face: outside", "opening_width_m: 9", "draw.1.one_of.1.site.opening_width_m:", "read 9, which"),
        ("teaching:", "allowed: [isolat]\nteaching:", ":5:11 allowed.0:", "did you mean 'isolate'?"),
        ("teaching:", "allowed: [isolate]\nteaching:", "small.yaml:5:3:", "is not allowed in this job"),
        ("solution:", QUESTION.replace("right: it re", "right: it ra"), "questions.0.right:", "mean 'it reopens'?"),
        ("solution:", QUESTION.replace("guard: outer", "guard: inner"), "questions.0.guard:", "it is not fitted"),
        ("solution:", QUESTION.replace("while closing", "now"), "questions.0.question:", "'closing' is not in it"),
    ],
)  # fmt: skip
def test_a_mistake_is_refused_at_its_own_place(
    edit: Edit, said: Said, old: str, new: str, place: str, reason: str
) -> None:
    """File, line, column, key, what was read and what is right, for every part of a job."""
    path = edit("jobs/small.yaml", old, new)
    sentences = said(lambda: load_job(path)).split("\n")
    assert any(place in sentence and reason in sentence for sentence in sentences), sentences


def test_a_mistake_in_the_site_is_told_at_the_site(edit: Edit, said: Said, folder: Path) -> None:
    """The sentence names the site's file and line, not the job's."""
    edit("sites/yard.yaml", "name: Test yard", "name: Test yard\nwether: {}")
    assert said(lambda: load_job(folder / "jobs/small.yaml")).startswith(f"{folder}/sites/yard.yaml:3:1 wether: ")


def test_a_mistake_in_the_solution_is_told_with_the_job(edit: Edit, said: Said, folder: Path) -> None:
    """A job whose solution can't be read is no job."""
    edit("jobs/solutions/small.yaml", "<wrong leaf>", "<wrong lef>")
    sentence = said(lambda: load_job(folder / "jobs/small.yaml"))
    assert "small.yaml:5:22 steps.1.swap motor leads.leaf: the job draws no <wrong lef>" in sentence
    assert "did you mean 'wrong leaf'?" in sentence


def test_every_outcome_of_the_draws_is_checked(edit: Edit, said: Said, folder: Path) -> None:
    """A guard that only one outcome takes away breaks the arrival of that outcome, whatever seed is asked for."""
    edit(
        "jobs/small.yaml", "cover_strip.face: outside", "guards.outer_beam: not fitted, guards.inner_beam: {y_m: 2.2}"
    )
    edit("jobs/small.yaml", 'mains: "off"', "unplugged: [outer beam]")
    assert "read 'outer beam'; it is not fitted on Test yard" in said(lambda: load_job(folder / "jobs/small.yaml"))


def test_a_job_digest_follows_job_and_site(edit: Edit, folder: Path) -> None:
    """An attempt begun on another text is not replayed silently on this one."""
    path = folder / "jobs/small.yaml"
    first = job_digest(load_job(path))
    assert job_digest(load_job(path)) == first
    edit("jobs/small.yaml", "Look first.", "Look twice.")
    second = job_digest(load_job(path))
    edit("sites/yard.yaml", "name: Test yard", "name: Test lane")
    assert len({first, second, job_digest(load_job(path))}) == 3


def test_a_job_is_found_by_file_name_title_and_path(folder: Path, said: Said) -> None:
    """However somebody types it; a slip names the nearest."""
    assert job_files(folder) == [folder / "jobs/small.yaml"]
    for name in ("small", "small.yaml", "Small job", "small job", str(folder / "jobs/small.yaml")):
        assert load_named_job(name, folder).title == "Small job"
    assert "did you mean 'small'?" in said(lambda: load_named_job("smal", folder))


def test_a_job_that_can_not_be_read_is_listed_last(folder: Path) -> None:
    """One broken file hides no other."""
    (folder / "jobs/aa.yaml").write_text("format: gudgeon-job/1\n")
    assert [path.name for path in job_files(folder)] == ["small.yaml", "aa.yaml"]


def test_schemas_cover_every_kind_of_file() -> None:
    """An editor can complete every kind; a job's checks are the fixed list."""
    found = schemas()
    assert set(found) == {"site", "job", "solution", "drill", "competences"}
    assert found["job"]["properties"]["acceptance"]["items"]["enum"] == list(CHECK_NAMES)
    assert all(schema["additionalProperties"] is False for schema in found.values())


def test_a_job_may_find_every_kind_of_body() -> None:
    """What can be placed by an act can be there at arrival, turned too."""
    kinds = get_args(Placed.model_fields["body"].annotation)
    body = next(each for each in CATALOGUE["place body"].arguments if each.name == "body")
    assert set(kinds) == set(body.choices)
    assert all(Placed(body=kind, turn_deg=45.0).turn_deg == 45.0 for kind in kinds)


def test_entries_that_are_wrong_themselves_do_not_make_a_list_too_short() -> None:
    """Two outcomes stand there, one of the wrong kind: that one is named, and nobody is told to write another."""
    text = "format: gudgeon-job/1\ntitle: x\ndraw:\n- name: which\n  one_of:\n  - label: this\n  - that\n"
    with pytest.raises(ScenarioError) as caught:
        validate(read_text(text, "job.yaml"), Job)
    assert "job.yaml:7:5 draw.0.one_of.1: read 'that'; allowed: a mapping" in str(caught.value)
    assert "of them" not in str(caught.value)


def test_a_list_that_is_too_short_is_still_told_so() -> None:
    """One outcome is no draw."""
    text = "format: gudgeon-job/1\ntitle: x\ndraw:\n- name: which\n  one_of:\n  - label: this\n"
    with pytest.raises(ScenarioError, match=r"draw\.0\.one_of: read a list of 1; allowed: at least 2 of them"):
        validate(read_text(text, "job.yaml"), Job)
