"""What is shipped can be used: every site, job, solution and drill, and the reference site is as it is described."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from sim.site import Site, load_site
from sim.world.actions import Action
from trainer.job import job_files, load_drill, load_job, reference_solution, resolve, scenarios_folder
from trainer.job.draw import every_outcome

ROOT = scenarios_folder()


@pytest.fixture
def orchard() -> Site:
    return load_site(ROOT / "sites/orchard_row.yaml")


def names(paths: list[Path]) -> list[str]:
    return [path.name for path in paths]


def test_meet_the_gate_comes_first_then_first_run() -> None:
    """The list of jobs begins with five minutes in which nothing can be broken."""
    assert names(job_files())[:2] == ["meet_the_gate.yaml", "first_run.yaml"]


@pytest.mark.parametrize("path", sorted(ROOT.glob("jobs/*.yaml")), ids=lambda path: path.stem)
def test_every_job_reads_and_has_a_solution(path: Path) -> None:
    """Loading checks every outcome of its draws; a job without a solution proves nothing."""
    job = load_job(path)
    assert reference_solution(resolve(job, 0)) is not None
    assert job.cautions
    assert job.brief.strip()


@pytest.mark.parametrize("path", sorted(ROOT.glob("drills/*.yaml")), ids=lambda path: path.stem)
def test_every_drill_reads(path: Path) -> None:
    """Timed and conditional steps both stand in it, and a solution to play against it."""
    drill = load_drill(path)
    kinds = {type(step.moment).__name__ for step in drill.steps}
    assert {"At", "When"} <= kinds
    assert drill.solution is not None


def test_the_reference_site(orchard: Site) -> None:
    """Leaf 120 kg, 2.0 × 1.8 m, 25 m of 1.5 mm² stranded cable, low outer beam, both edges, stop, no inner beam."""
    for leaf, drive in zip(orchard.leaves.pair, orchard.drives.pair, strict=True):
        assert (leaf.mass_kg, leaf.width_m, leaf.height_m) == (120, 2.0, 1.8)
        assert (drive.post_across_m, drive.post_inside_m) == (0.15, 0.15)
        assert (drive.bracket_along_m, drive.bracket_offset_m) == (0.85, 0.05)
        assert (drive.motor.resistance_ohm, drive.motor.constant_v_s_rad, drive.motor.no_load_a) == (1.2, 0.05, 0.7)
    for cable in (orchard.cables.active_motor, orchard.cables.inactive_motor):
        assert (cable.length_m, cable.section_mm2, cable.conductor) == (25, 1.5, "stranded")
    assert [name for name, fitted in orchard.guards.fitted.items() if not fitted] == ["inner beam"]
    assert orchard.guards.outer_beam != "not fitted"
    assert orchard.guards.outer_beam.height_m == 0.25
    assert len(orchard.transmitters) == 2
    assert len(orchard.right_answers()) == 7


def test_first_run_is_drawn_from_a_seed() -> None:
    """Which leaf turns the wrong way, which guard is absent, where the strip is: all sixteen gates come up."""
    job = load_job(ROOT / "jobs/first_run.yaml")
    assert len(list(every_outcome(job))) == 16
    seen = set()
    for seed in range(300):
        found = resolve(job, seed)
        absent = [name for name, fitted in found.site.guards.fitted.items() if not fitted]
        strip = found.site.cover_strip
        seen.add((found.arrival.swapped_leads, *absent, strip.carrier, strip.face))
        assert found.values["first leaf"] == found.site.opens_first
        assert found.values["absent guard"] == absent[0]
        assert (found.values["wrong leaf"],) == found.arrival.swapped_leads
        assert found.site.guards.fitted[str(found.values["fitted beam"])]
    assert len(seen) == 16


def test_first_run_arrives_dead_at_defaults_and_unlearned() -> None:
    """Supply isolated, battery not linked, the sheet as it came out of its box."""
    arrival = resolve(load_job(ROOT / "jobs/first_run.yaml"), 0).arrival
    assert (arrival.mains, arrival.battery_linked, arrival.learned) == ("off", False, False)
    assert arrival.sheet == {}
    assert arrival.transmitters == ()


def test_meet_the_gate_asks_for_each_guard_both_ways() -> None:
    """Predict, then see: each fitted guard while opening and while closing, and the solution answers rightly."""
    job = load_job(ROOT / "jobs/meet_the_gate.yaml")
    fitted = [name for name, there in job.base_site.guards.fitted.items() if there]
    asked = {(question.guard, question.moving) for question in job.questions}
    assert asked == {(guard, way) for guard in fitted for way in ("opening", "closing")}
    solution = reference_solution(resolve(job, 0))
    assert solution is not None
    acts = [step.act for step in solution.steps if isinstance(step.act, Action) and step.act.kind == "predict"]
    given = {act["question"]: act["answer"] for act in acts}
    assert given == {question.question: question.right for question in job.questions}


def test_no_brief_gives_the_cause_away() -> None:
    """A customer says what is seen and wanted; labels of outcomes stand in no text a trainee reads."""
    for path in job_files():
        job = load_job(path)
        texts = " ".join([job.brief, *job.points, *job.cautions, *(step.text for step in job.steps)]).lower()
        labels = [choice.label.lower() for draw in job.draw for choice in draw.one_of if choice.label]
        assert not [label for label in labels if re.search(rf"\b{re.escape(label)}\b", texts)]
