"""Steps of solutions and drills: what they mean, and where a mistake in them is told."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.errors import ScenarioError
from sim.site import read_text
from sim.world.actions import CATALOGUE, checked
from trainer.job import load_drill, load_job, load_solution, reference_solution, resolve
from trainer.job.conditions import EVENT_KINDS
from trainer.job.script import (
    ActionDone,
    After,
    At,
    Clear,
    ControllerSays,
    EventSeen,
    Freeze,
    FullyIs,
    GateIs,
    Inject,
    LeafPasses,
    Message,
    Step,
    When,
)
from trainer.job.solution import solution_in

Edit = Callable[[str, str, str], Path]
Said = Callable[[Callable[[], object]], str]

HEAD = "format: gudgeon-solution/1\njob: small.yaml\nsteps:\n"


def steps(text: str, **values: str | int | float | bool) -> tuple[Step, ...]:
    return solution_in(
        read_text(HEAD + text, "s.yaml"), {key.replace("_", " "): v for key, v in values.items()}
    ).steps


def only(text: str) -> Step:
    (step,) = steps(text)
    return step


def test_a_step_is_an_act_under_its_own_name() -> None:
    """A bare word, a word with nothing, or a word with what it takes; defaults are filled in."""
    assert only("- isolate\n").act == checked("isolate")
    assert only("- isolate:\n").act == checked("isolate")
    found = only("- press transmitter: {transmitter: red fob}\n").act
    assert found == checked("press transmitter", {"transmitter": "red fob", "button": 1})


@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("- at: 12.5\n  isolate:\n", At(12_500_000)),
        ("- after: 2\n  isolate:\n", After(2_000_000)),
        (
            "- when: {leaf: active, passes_deg: 40, going: open, within: 60}\n",
            When(LeafPasses("active", 40.0, "open"), 60_000_000),
        ),
        ("- when: {leaf: inactive, passes_deg: 5.5}\n", When(LeafPasses("inactive", 5.5, "either"))),
        ("- when: {the controller says: learning}\n", When(ControllerSays("learning"))),
        (
            "- when: {event: guard, with: {guard: outer beam, tripped: true}}\n",
            When(EventSeen("guard", {"guard": "outer beam", "tripped": True})),
        ),
        ("- when: {action: isolate}\n", When(ActionDone("isolate", {}))),
        (
            "- when: {action: unplug, with: {guard: outer beam}}\n",
            When(ActionDone("unplug", {"guard": "outer beam"})),
        ),
        ("- when: {gate: rests, within: 0.01}\n", When(GateIs("rests"), 10_000)),
        ("- when: {fully: closed}\n", When(FullyIs("closed"))),
    ],
)
def test_a_step_waits_for_one_moment(text: str, moment: object) -> None:
    """Times are whole microseconds; a condition is data with the words of the catalogue."""
    assert only(text).moment == moment


def test_a_step_says_where_it_stands() -> None:
    """File, line and column, for whoever has to say that it could not be done."""
    assert [step.place for step in steps("- isolate\n- restore\n")] == ["s.yaml:4:3", "s.yaml:5:3"]


def test_what_was_drawn_is_filled_in() -> None:
    """A name alone becomes the value with its type; inside a text it becomes words."""
    first, second, third = steps(
        "- push leaf: {leaf: <wrong leaf>, to_deg: <angle>}\n"
        "- note: {text: The <wrong leaf> leaf stands at <angle>.}\n"
        "- when: {leaf: <wrong leaf>, passes_deg: 3}\n",
        wrong_leaf="active",
        angle=12.5,
    )
    assert first.act == checked("push leaf", {"leaf": "active", "to_deg": 12.5})
    assert second.act == checked("note", {"text": "The active leaf stands at 12.5."})
    assert third.moment == When(LeafPasses("active", 3.0))


def test_a_sign_that_opens_no_name_is_left_alone() -> None:
    """Less than is a sign people write."""
    assert only("- note: {text: 'gap < 500 mm'}\n").act == checked("note", {"text": "gap < 500 mm"})


@pytest.mark.parametrize(
    ("text", "place", "reason"),
    [
        ("- isolat\n", "4:3 steps.0.isolat:", "there is no action 'isolat'; did you mean 'isolate'?"),
        ("- zzz\n", "4:3 steps.0.zzz:", "allowed: state user group, "),
        ("- 5\n", "4:3 steps.0:", "read 5; allowed: an action's name"),
        ("- isolate:\n  restore:\n", "5:3 steps.0.restore:", "a step is one act; it has isolate, restore"),
        ("- at: 1\n  after: 2\n", "5:3 steps.0.after:", "a step waits for one thing; it has at, after"),
        ("- at: -1\n", "4:3 steps.0.at:", "read -1; allowed: seconds from 0 to 7200"),
        ("- after: soon\n", "4:3 steps.0.after:", "read 'soon'; allowed: seconds"),
        ("- after: true\n", "4:3 steps.0.after:", "read true; allowed: seconds"),
        ("- unplug: outer beam\n", "4:3 steps.0.unplug:", "allowed: a mapping of what it takes (guard)"),
        ("- unplug: {guard: outer bean}\n", "4:3 steps.0.unplug:", "did you mean 'outer beam'?"),
        ("- unplug: {gard: outer beam}\n", "4:3 steps.0.unplug:", "takes no 'gard'; it takes guard; did you mean"),
        ("- unplug\n", "4:3 steps.0.unplug:", "guard is missing (which guard, or which other cable)"),
        ("- push leaf: {leaf: active, to_deg: 200}\n", "4:3 steps.0.push leaf:", "allowed: -5 to 130"),
        ("- message: hello\n", "4:3 steps.0.message:", "'message' is the instructor's"),
        ("- note: {text: <nobody>}\n", "4:10 steps.0.note.text:", "the job draws no <nobody>; allowed: none"),
        ("- when: soon\n", "4:3 steps.0.when:", "allowed: a mapping with one of leaf, the controller says"),
        ("- when: {leef: active}\n", "4:3 steps.0.when:", "it has leef; did you mean 'leaf'?"),
        ("- when: {gate: rests, fully: open}\n", "4:3 steps.0.when:", "it has gate, fully"),
        ("- when: {gate: sleeps}\n", "4:10 steps.0.when.gate:", "read 'sleeps'; allowed: rests, moves"),
        ("- when: {gate: rests, witin: 3}\n", "4:23 steps.0.when.witin:", "did you mean 'within'?"),
        ("- when: {gate: rests, within: x}\n", "4:23 steps.0.when.within:", "read 'x'; allowed: seconds"),
        ("- when: {leaf: active}\n", "4:3 steps.0.when:", "the key 'passes_deg' is missing"),
        ("- when: {leaf: active, passes_deg: 200}\n", "4:24 steps.0.when.passes_deg:", "degrees from 0 to 130"),
        ("- when: {leaf: actve, passes_deg: 2}\n", "4:10 steps.0.when.leaf:", "did you mean 'active'?"),
        ("- when: {event: gard}\n", "4:10 steps.0.when.event:", "did you mean 'guard'?"),
        ("- when: {event: guard, with: [1]}\n", "4:24 steps.0.when.with:", "allowed: names with values"),
        ("- when: {action: unplg}\n", "4:10 steps.0.when.action:", "did you mean 'unplug'?"),
        ("- when: {action: unplug, with: {gard: x}}\n", "4:33 steps.0.when.with.gard:", "did you mean 'guard'?"),
        ("- when: {action: unplug, with: {guard: x}}\n", "4:33 steps.0.when.with.guard:", "allowed: outer beam"),
        ("- when: {the controller says: ''}\n", "4:10 steps.0.when.the controller says:", "a text of 1 to 2000"),
    ],
)
def test_a_mistake_in_a_step_is_told_at_its_line(text: str, place: str, reason: str, said: Said) -> None:
    """Kinds and arguments come from the catalogue of actions, conditions from their own words."""
    sentence = said(lambda: steps(text))
    assert sentence.startswith(f"s.yaml:{place}"), sentence
    assert reason in sentence


def test_every_action_of_the_catalogue_can_stand_in_a_step() -> None:
    """Adding an action to the catalogue touches no reader."""
    for kind in CATALOGUE.values():
        given_ = {
            a.name: a.choices[0] if a.choices else {str: "x", bool: True}.get(a.type, a.least or 1)
            for a in kind.arguments
        }
        if "setting" in given_:
            given_["setting"] = "auto-close"
        shown = ", ".join(
            f"{name}: {str(value).lower() if isinstance(value, bool) else value}" for name, value in given_.items()
        )
        found = only(f"- {kind.name}: {{{shown}}}\n").act
        assert found == checked(kind.name, given_)


# solutions


def test_a_reference_solution_follows_what_is_drawn(folder: Path) -> None:
    """The same file serves every seed."""
    job = load_job(folder / "jobs/small.yaml")
    swapped = set()
    for seed in range(20):
        resolved = resolve(job, seed)
        solution = reference_solution(resolved)
        assert solution is not None
        act = solution.steps[1].act
        assert act == checked("swap motor leads", {"leaf": resolved.arrival.swapped_leads[0]})
        swapped.add(resolved.arrival.swapped_leads)
    assert swapped == {("active",), ("inactive",)}


def test_a_solution_of_another_job_is_refused(edit: Edit, said: Said, folder: Path) -> None:
    """A file that was copied and not changed."""
    edit("jobs/solutions/small.yaml", "job: small.yaml", "job: other.yaml")
    sentence = said(lambda: load_job(folder / "jobs/small.yaml"))
    assert "solutions/small.yaml:2:1 job: read 'other.yaml'; allowed: small.yaml" in sentence


def test_a_solution_may_only_write_what_the_sheet_can_hold(edit: Edit, said: Said, folder: Path) -> None:
    """A setting is looked up in the controller's own catalogue."""
    edit("jobs/solutions/small.yaml", "- isolate", "- set: {setting: auto close, value: x}")
    sentence = said(lambda: load_job(folder / "jobs/small.yaml"))
    assert "small.yaml:4:3: set: the sheet has no setting 'auto close'; did you mean 'auto-close'?" in sentence


def test_a_key_without_a_colon_is_explained(folder: Path, said: Said) -> None:
    """The slip that short steps invite."""
    path = folder / "jobs/solutions/small.yaml"
    path.write_text(HEAD + "- after: 2\n  isolate\n- restore\n")
    assert "a key needs a colon after it" in said(lambda: load_solution(path))


# drills


def test_a_drill_has_the_instructors_acts(edit: Edit, folder: Path) -> None:
    """Messages, changes under a name of their own, taking them back, and time standing still."""
    edit(
        "drills/small.yaml",
        "- clear: dark",
        "- clear: dark\n- freeze: Why?\n- inject: {name: wind, site: {weather.wind_m_s: 9}}\n- restore",
    )
    drill = load_drill(folder / "drills/small.yaml")
    assert [step.act for step in drill.steps] == [
        Message("Go ahead."),
        Inject("dark", "cover", "outer beam"),
        Clear("dark"),
        Freeze("Why?"),
        Inject("wind", "site", "", {"weather.wind_m_s": 9}),
        checked("restore"),
    ]
    assert drill.solution is None
    assert drill.resolved.seed == 0


@pytest.mark.parametrize(
    ("old", "new", "place", "reason"),
    [
        ("job: small.yaml", "job: smal.yaml", ":3:1 job:", "no such file in jobs; did you mean 'small.yaml'?"),
        ("seed: 0", "seed: -1", ":4:1 seed:", "greater than or equal to 0"),
        ("seed: 0", "sed: 0", ":4:1 sed:", "did you mean 'seed'?"),
        ("seed: 0", "solution: none.yaml", ":4:1 solution:", "no such file in solutions"),
        ("cover: outer beam", "cover: outer edge", "steps.1.inject.cover:", "allowed: outer beam, inner beam"),
        ("cover: outer beam", "cover: inner beam", "small.yaml:8:3:", "no inner beam is fitted on Test yard"),
        ("cover: outer beam", "covr: outer beam", "steps.1.inject:", "did you mean 'cover'?"),
        ("name: dark, ", "", "steps.1.inject:", "needed: 'name' and one of"),
        ("cover: outer beam", "site: {wether: 1}", "small.yaml:8:3 inject: wether:", "did you mean 'weather'?"),
        ("cover: outer beam", "site: {weather.wind_m_s: x}", "inject: weather.wind_m_s:", "allowed: a number"),
        ("cover: outer beam", "weather: {wind_ms: 9}", "inject.weather.wind_ms:", "did you mean 'wind_m_s'?"),
        ("cover: outer beam", "weather: {wind_m_s: 99}", "inject: weather.wind_m_s:", "less than or equal to 40"),
        ("cover: outer beam", "weather: gale", "steps.1.inject.weather:", "allowed: keys of the weather"),
        ("- clear: dark", "- clear: drak", "small.yaml:10:3: clear:", "did you mean 'dark'?"),
        ("- clear: dark", "- inject: {name: dark, swap: active}", "small.yaml:10:3: inject:", "is there already"),
        ("steps:", "acceptance: [everything]\nsteps:", ":5:14 acceptance.0:", "read 'everything'; allowed: survey"),
    ],
)  # fmt: skip
def test_a_mistake_in_a_drill_is_told_at_its_line(
    edit: Edit, said: Said, old: str, new: str, place: str, reason: str
) -> None:
    """Acts are checked against the site that the drill's seed gives."""
    path = edit("drills/small.yaml", old, new)
    sentence = said(lambda: load_drill(path))
    assert place in sentence
    assert reason in sentence


def test_a_drill_may_ask_for_something_else_than_its_job(edit: Edit, folder: Path) -> None:
    """Brief, acceptance and allowed acts are the drill's where it gives them, the job's where not."""
    edit(
        "drills/small.yaml",
        "seed: 0",
        "seed: 0\nbrief: It went dark.\nacceptance: [no bridge left]\nallowed: [isolate]",
    )
    drill = load_drill(folder / "drills/small.yaml")
    job = load_job(folder / "jobs/small.yaml")
    assert (drill.job.brief, drill.job.acceptance) == ("It went dark.", ("no bridge left",))
    assert drill.job.steps == ()
    assert drill.job.teaching == job.teaching
    assert drill.job.allows("isolate")
    assert not drill.job.allows("restore")
    assert job.allows("restore")
    assert drill.job.base_site == job.base_site


def test_a_drills_solution_keeps_to_what_is_allowed(edit: Edit, folder: Path, said: Said) -> None:
    """A solution that a trainee could not play proves nothing."""
    (folder / "drills/solutions").mkdir()
    (folder / "drills/solutions/s.yaml").write_text(HEAD + "- isolate\n- swap motor leads: {leaf: <wrong leaf>}\n")
    path = edit("drills/small.yaml", "seed: 0", "seed: 0\nsolution: s.yaml")
    assert load_drill(path).solution == folder / "drills/solutions/s.yaml"
    edit("drills/small.yaml", "seed: 0", "seed: 0\nallowed: [isolate]")
    assert "s.yaml:5:3: 'swap motor leads' is not allowed in this drill" in said(lambda: load_drill(path))


WORDS = st.sampled_from(
    ["isolate", "unplug", "at", "after", "when", "leaf", "gate", "within", "with", "event", "guard", "active",
     "inject", "name", "cover", "site", "clear", "note", "text", "<x>", "<", *EVENT_KINDS[:3]]
)  # fmt: skip
TREE = st.recursive(
    st.none() | st.booleans() | st.integers(-5, 9000) | st.floats(-1, 200) | WORDS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(WORDS, inner, max_size=3),
    max_leaves=8,
)


@given(st.lists(TREE, max_size=4))
@settings(max_examples=400, deadline=None)
def test_no_list_of_steps_breaks_the_reader(tree: list[object]) -> None:
    """Whatever stands under `steps`: steps come out, or sentences."""
    from sim.site import Document

    document = Document("s.yaml", {"format": "gudgeon-solution/1", "job": "a.yaml", "steps": tree})  # type: ignore[dict-item]
    try:
        found = solution_in(document, {"x": 3})
    except ScenarioError as error:
        problems = error.problems
    else:
        problems = []
        assert len(found.steps) == len(tree)
    assert all(problem.startswith("s.yaml") for problem in problems)
