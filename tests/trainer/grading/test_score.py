"""Laws of the score: it never leaves 0 to 100, unsafe acts never raise it, and nothing in a history breaks it."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from types import MappingProxyType

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sim.errors import DataError
from sim.units import LEAVES, Us
from sim.world.actions import CATALOGUE, Action
from sim.world.history import Entry, Event, History, Standing
from trainer.grading import (
    GRADE_MODEL,
    WEIGHTS,
    acceptance_states,
    check_names,
    grade,
    guide_steps,
    regrade,
    step_names,
)
from trainer.grading.checks import catalogue
from trainer.grading.checks.check import Check
from trainer.grading.score import score
from trainer.grading.story import GUARDS, Story

LAST = 4_000_000_000
ANGLES = st.floats(-5, 130)
GUARD, LEAF = st.sampled_from(GUARDS), st.sampled_from(LEAVES)
SETTINGS = st.sampled_from(
    [
        *GUARDS,
        "opens first",
        "motor effort, closing",
        "motor effort, opening",
        "run speed",
        "auto-close",
        "drive kind",
    ]
)
VALUES = st.sampled_from(
    ["active", "inactive", "not fitted", "reopen", "on", "off", "100", "60", "60.0", "not stated"]
)


def _argument(argument):
    if argument.choices:
        return st.sampled_from(argument.choices)
    if argument.name == "setting":
        return SETTINGS
    if argument.name == "value":
        return VALUES
    if argument.type is str:
        return st.sampled_from(
            ["", "supply, plus", "blue tag", "outer beam while closing", "release, stop", "a link"]
        )
    if argument.type is bool:
        return st.booleans()
    least, most = int(argument.least or 0), int(argument.most or 10)
    return st.integers(least, most) if argument.type is int else st.integers(least, most).map(float)


@st.composite
def actions(draw) -> Action:
    kind = CATALOGUE[draw(st.sampled_from(sorted(CATALOGUE)))]
    return Action(kind.name, MappingProxyType({a.name: draw(_argument(a)) for a in kind.arguments}))


TRUTH = st.booleans()
EVENTS = {
    "power": {"mains": TRUTH, "battery": TRUTH, "board": TRUTH},
    "state": {
        "state": st.sampled_from(["open", "closed", "learning"]),
        "message": st.just("the outer beam reads open"),
    },
    "moving": {
        "leaf": LEAF,
        "direction": st.sampled_from(["open", "close"]),
        "by": st.sampled_from(["jog", "learning", "automatic", "hold-to-run", "hand"]),
        "angle_deg": ANGLES,
    },
    "resting": {"leaf": LEAF, "angle_deg": ANGLES, "from_deg": ANGLES},
    "stop reached": {"leaf": LEAF, "stop": st.sampled_from(["open stop", "closed stop"]), "speed_m_s": ANGLES},
    "guard": {
        "guard": GUARD,
        "tripped": TRUTH,
        "moving": st.sampled_from(["", "opening", "closing"]),
        "place": st.floats(0, 4) | st.just(math.nan),
    },
    "contact": {"leaf": LEAF, "body": st.just("test body"), "force_n": st.integers(0, 900)},
    "struck": {"leaf": LEAF, "body": st.sampled_from(["adult", "child"]), "force_n": st.integers(0, 900)},
    "clash": {"force_n": st.integers(0, 900)},
    "danger": {
        "what": st.sampled_from(["live work", "person in the arc", "guard bridged", "released on a slope"]),
        "detail": st.sampled_from(["adult", *GUARDS]),
        "by": st.sampled_from(["learning", "automatic", "jog", "restore"]),
    },
    "reading": {"instrument": st.just("two-pole tester"), "value": st.floats(-300, 300), "unit": st.just("V")},
    "force": {
        "leaf": LEAF,
        "gap_mm": st.sampled_from([50.0, 300.0, 600.0]),
        "height_mm": st.sampled_from([300.0, 1000.0]),
        "rest": st.sampled_from(["rigid rest", "by hand"]),
        "peak_n": st.floats(0, 2000),
        "above_150_s": st.floats(0, 6),
        "static_n": st.floats(0, 900),
        "residual_s": st.floats(0, 6),
    },
    "learned": {"active": st.integers(0, 900), "inactive": st.integers(0, 900)},
    "command": {"what": st.just("open"), "source": st.just("blue tag")},
    "refused": {"what": st.just("open"), "why": st.just("the outer beam reads open")},
    "note": {"text": st.just("noted")},
}


@st.composite
def events(draw, at: int, *, torn: bool = False) -> Event:
    kind = draw(st.sampled_from(sorted(EVENTS)))
    data = {name: draw(value) for name, value in EVENTS[kind].items() if not torn or draw(st.booleans())}
    return Event(Us(at), kind, f"{kind} happened", MappingProxyType(data), draw(st.integers(0, 40)))


@st.composite
def standings(draw) -> Standing:
    some = st.lists(GUARD, unique=True, max_size=2).map(tuple)
    leaves = st.lists(LEAF, unique=True).map(tuple)
    return Standing(
        sheet={name: draw(VALUES) for name in [*GUARDS, "opens first", "auto-close", "motor effort, closing"]},
        fitted={guard: draw(TRUTH) for guard in GUARDS},
        bridged=draw(some),
        unplugged=draw(some),
        swapped_wrong=draw(leaves),
        opens_first_truth=draw(LEAF),
        learned=draw(TRUTH),
        user_group_truth="anyone",
        user_group_stated=draw(st.sampled_from(["", "anyone", "instructed"])),
        survey=draw(st.dictionaries(st.sampled_from(["edge", "wall"]), st.sampled_from(["", "gap", "nothing"]))),
        survey_right={"edge": ("gap",), "wall": ("gap", "active edge")},
        mains_on=draw(TRUTH),
        battery_linked=draw(TRUTH),
        released=draw(leaves),
        sealed=draw(TRUTH),
        transmitters=draw(st.sampled_from([(), (("Ada", "open"),)])),
        angle_deg=(draw(ANGLES), draw(ANGLES)),
        slow_start_gap_m=draw(st.none() | st.floats(0, 3)),
        ended=draw(st.sampled_from(["", "handed over", "made safe"])),
        cordoned=draw(TRUTH),
    )


@st.composite
def histories(draw, *, torn: bool = False) -> History:
    times = sorted(draw(st.lists(st.integers(0, LAST // 10_000), max_size=30)))
    entries = tuple(Entry(n + 2, Us(at * 10_000), draw(actions())) for n, at in enumerate(times))
    moments = sorted(draw(st.lists(st.integers(0, LAST // 10_000), max_size=40)))
    happened = tuple(draw(events(at * 10_000, torn=torn)) for at in moments)
    end = max([0, *times[-1:], *moments[-1:]]) * 10_000
    return History(entries, happened, draw(standings()), Us(end))


LEVEL = st.sampled_from(sorted(WEIGHTS))
PAR = st.floats(-1, 200)


@settings(max_examples=150, deadline=None)
@given(histories(), LEVEL, PAR)
def test_any_history_is_graded(history: History, level: str, par: float) -> None:
    """Any well-formed history gets a grade in 0 to 100, no check crashes on it, and points lost add up."""
    made = grade(history, level, check_names(), par)
    assert 0.0 <= made.score <= 100.0
    assert "the check itself failed" not in " ".join(f.what for f in made.findings)
    assert all(0.0 <= got <= of + 0.01 for _, got, of in made.parts)
    assert sum(of for _, _, of in made.parts) == pytest.approx(100.0, abs=0.1)
    assert all(f.points >= -0.01 for f in made.findings)
    assert sum(f.points for f in made.findings) == pytest.approx(100.0 - sum(p[1] for p in made.parts), abs=0.3)
    if any(f.grave for f in made.findings):
        assert made.score <= 39.0
        assert made.result == "not yet competent"
    json.dumps(made.as_base_types())


@settings(max_examples=80, deadline=None)
@given(histories(torn=True), LEVEL)
def test_a_history_with_missing_data_is_graded(history: History, level: str) -> None:
    """Events that lack data never end in an error: grading, acceptance and guide all answer."""
    assert 0.0 <= grade(history, level, check_names(), 60.0).score <= 100.0
    assert len(acceptance_states(history, check_names())) == len(check_names())
    assert len(guide_steps(Story(history), [(name, name) for name in step_names()])) == len(step_names())


UNSAFE = st.sampled_from(
    ["struck", "person", "learning", "live", "bridged", "clash", "hand", "effort", "swap", "link"]
)


def worse(history: History, what: str, at: int) -> History:
    """The same history with one unsafe act in it, and nothing else changed."""
    happened = {
        "struck": ("struck", {"leaf": "active", "body": "adult", "force_n": 300}),
        "person": ("danger", {"what": "person in the arc", "detail": "child", "by": "automatic"}),
        "learning": ("danger", {"what": "person in the arc", "detail": "child", "by": "learning"}),
        "live": ("danger", {"what": "live work", "detail": "bridging"}),
        "bridged": ("danger", {"what": "guard bridged", "detail": "outer beam", "by": "automatic"}),
        "clash": ("clash", {"force_n": 300}),
        "hand": (
            "force",
            {"leaf": "active", "gap_mm": 300.0, "height_mm": 1000.0, "rest": "by hand", "peak_n": 1.0}
            | {"above_150_s": 0.0, "static_n": 0.0, "residual_s": 0.0},
        ),
    }
    if what in happened:
        kind, data = happened[what]
        event = Event(Us(at), kind, f"{what} added", MappingProxyType(data), 0)
        added = tuple(sorted((*history.events, event), key=lambda e: e.at))
        return replace(history, events=added)
    standing = history.standing
    if what == "link":
        return replace(history, standing=replace(standing, bridged=tuple({*standing.bridged, "active edge"})))
    at = history.end
    act = {
        "effort": Action("set", MappingProxyType({"setting": "motor effort, closing", "value": "100"})),
        "swap": Action("swap motor leads", MappingProxyType({"leaf": "active"})),
    }[what]
    if what == "effort":
        standing = replace(standing, sheet={**standing.sheet, "motor effort, closing": "100"})
    entry = Entry(99, at, act)
    return History((*history.entries, entry), history.events, standing, Us(at + CATALOGUE[act.kind].takes))


@settings(max_examples=200, deadline=None)
@given(histories(), LEVEL, UNSAFE, st.floats(0, 1))
def test_an_unsafe_act_never_raises_the_score(history: History, level: str, what: str, when: float) -> None:
    """Whatever else was done, one more unsafe act leaves the score as it is or lower."""
    before = grade(history, level, check_names(), 60.0)
    after = grade(worse(history, what, int(when * history.end)), level, check_names(), 60.0)
    assert after.score <= before.score


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data(), what=UNSAFE, when=st.floats(0, 1))
def test_nor_does_it_in_a_run_that_was_half_right(run, stages, first_run, data, what: str, when: float) -> None:
    """Runs with stages left out score anywhere; one more unsafe act never lifts any of them."""
    without = data.draw(st.sets(st.sampled_from(stages), max_size=6))
    history = run(without=without).history
    before = grade(history, "working", first_run, 60.0)
    after = grade(worse(history, what, int(when * history.end)), "working", first_run, 60.0)
    assert after.score <= before.score
    assert sum(f.points for f in after.findings) >= sum(f.points for f in before.findings) - 0.2


@pytest.mark.parametrize("what", ["struck", "person", "learning", "live", "clash", "effort", "link"])
def test_an_unsafe_act_costs_something_in_a_right_run(run, first_run, what: str) -> None:
    """In a run that had full marks each of them is seen and costs."""
    history = run().history
    made = grade(worse(history, what, history.end // 2), "working", first_run, 90.0)
    assert made.score < 100.0


def test_features_are_enough_to_grade_again(run, first_run) -> None:
    """Stored features go through JSON and give the same score; other weights give another."""
    made = grade(run(without=["force", "cordon"]).history, "senior", first_run, 60.0)
    stored = json.loads(json.dumps(made.as_base_types()))["features"]
    assert stored["grade_model"] == GRADE_MODEL
    assert regrade(stored).score == made.score
    heavier = replace(WEIGHTS["senior"], softness=0.5)
    assert regrade(stored, heavier).score < made.score


@pytest.mark.parametrize(("serious", "held"), [(1, False), (2, True), (3, True)])
def test_several_unsafe_acts_hold_the_sum_down(run, first_run, serious: int, held: bool) -> None:
    """Otherwise everything right: one serious act costs its points, two and more leave below half, none of them grave
    (common practice, no source: an instructor puts whoever works live and proves nothing below whoever guesses)."""
    features = grade(run().history, "working", first_run, 90.0).features
    breaches = [{"name": f"act {n}", "severity": "serious", "count": 1} for n in range(serious)]
    told = score({**features, "breaches": breaches}, WEIGHTS["working"])
    assert told.score == WEIGHTS["working"].unsafe_cap if held else told.score > 80.0
    assert (told.cap is not None) == held
    assert told.result != "competent" or not held


def test_features_of_another_model_are_refused(play, first_run) -> None:
    """A result of another model is never silently graded again."""
    features = {**grade(play.history, "learner", first_run, 60.0).features, "grade_model": "other/9"}
    with pytest.raises(DataError, match="other/9"):
        regrade(features)


def test_unknown_names_are_refused_with_the_nearest(play) -> None:
    """An unknown check or grade of job is named, with the right one beside it."""
    with pytest.raises(DataError, match="did you mean 'guards proved'"):
        grade(play.history, "learner", ["guard proved"], 60.0)
    with pytest.raises(DataError, match="learner, working, senior"):
        grade(play.history, "master", ["guards proved"], 60.0)


def test_a_check_that_crashes_is_charged_to_nobody(run, first_run, monkeypatch) -> None:
    """A crash is told as the product's own failure, and the trainee keeps full marks."""

    def crash(story):
        raise ZeroDivisionError("no such luck")

    name = "closing force measured"
    broken: dict[str, Check] = {**catalogue.ACCEPTANCE, name: replace(catalogue.ACCEPTANCE[name], judge=crash)}
    monkeypatch.setattr("trainer.grading.guide.ACCEPTANCE", broken)
    made = grade(run().history, "learner", first_run, 90.0)
    finding = next(f for f in made.findings if f.name == name)
    assert finding.outcome == "skipped"
    assert "the check itself failed: ZeroDivisionError: no such luck" in finding.what
    assert finding.points == 0.0
    assert made.score == 100.0


def test_dependent_check_is_skipped_with_a_reason(run, first_run) -> None:
    """Without learned travel what stands on it isn't judged, and the debrief says why."""
    late = ("learn", "transmitter", "beam", "receiver", "force")
    made = grade(run(without=late).history, "learner", first_run, 90.0)
    skipped = {f.name: f.what for f in made.findings if f.outcome == "skipped"}
    assert "transmitter opens" in skipped
    assert all("travel learned" in what for what in skipped.values())


def test_time_over_par_costs_economy_only(run, first_run) -> None:
    """Within the expected time nothing is lost; at twice the time the time share is gone (practice 1.3)."""
    history = run().history
    minutes = history.end / 60e6
    parts = [{n: g for n, g, _ in grade(history, "senior", first_run, par).parts} for par in (minutes, minutes / 2)]
    assert parts[0]["economy"] == 10.0
    assert parts[1]["economy"] == pytest.approx(3.0)
    assert {k: v for k, v in parts[0].items() if k != "economy"} == {
        k: v for k, v in parts[1].items() if k != "economy"
    }


def test_acts_that_told_nothing_are_counted(run, first_run) -> None:
    """Writing a value that stands, learning again for nothing: seen, named, and paid from economy."""

    def twice(p):
        p.learn()
        return p.set("run speed", 80).set("run speed", 80.0)

    made = grade(run(before={"sheet": twice}).history, "learner", first_run, 200.0)
    idle = next(f for f in made.findings if f.name == "acts that told nothing")
    assert made.features["redundant"] == 2
    assert idle.outcome == "failed"
    assert {text.split(":")[0].split(" to ")[0] for _, _, text in idle.evidence} == {"learn travel", "set run speed"}


def test_safety_falls_by_e_per_five_of_severity(play) -> None:
    """S = exp(−Σ w / 5) with w 1, 3, 10 (practice 1.3)."""
    features = grade(play.history, "learner", ["travel learned"], 60.0).features
    for severity, weight in (("minor", 1), ("serious", 3), ("grave", 10)):
        features["breaches"] = [{"name": "one", "severity": severity, "count": 1}]
        assert score(features, WEIGHTS["learner"]).safe == pytest.approx(math.exp(-weight / 5))
