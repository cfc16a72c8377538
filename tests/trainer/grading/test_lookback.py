"""What a debrief lists beside its findings: measurements, the expert's way and one's own, one thing to practise."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.units import Us
from sim.world.actions import Action, checked
from sim.world.history import Entry, History, Standing
from trainer.grading import Grader
from trainer.grading.finding import Finding
from trainer.grading.measured import measured
from trainer.grading.practise import NOTHING, practise_next
from trainer.grading.story import Story
from trainer.grading.way import NO_ACT, way
from trainer.session.desk import Desk

PLAIN = ("cordon", "isolate", "restore", "fit battery link", "remove battery link", "prove tester", "wait")


def act(kind: str, **arguments: object) -> Action:
    """An act of the catalogue."""
    return checked(kind, {"seconds": 1} if kind == "wait" else arguments)


def story(acts: list[Action], like: History) -> Story:
    """These acts, ten minutes apart."""
    entries = tuple(Entry(n + 2, Us(n * 600_000_000), action) for n, action in enumerate(acts))
    return Story(replace(like, entries=entries, events=(), end=Us(len(acts) * 600_000_000)))


def test_the_same_acts_in_another_order_are_called_so(play) -> None:
    """Left out, besides, another time, both: each act of either list has its row and its moment."""
    solution = [act("cordon"), act("isolate"), act("prove tester"), act("restore")]
    done = [act("isolate"), act("restore"), act("cordon"), act("fit battery link")]
    rows = way(story(done, play.history), solution)
    told = [(row.kind, row.expert, row.done, None if row.at is None else row.at // 600_000_000) for row in rows]
    assert told == [
        ("at another time", "cordon", "", 2),
        ("both", "isolate", "isolate", 0),
        ("left out", "prove tester", "", None),
        ("both", "restore", "restore", 1),
        ("at another time", "", "cordon", 2),
        ("besides", "", "fit battery link", 3),
    ]


def test_where_exactly_makes_no_other_act_but_what_does(play) -> None:
    """A body a step further is the same act; another value in the sheet is another one."""
    solution = [
        act("place body", body="adult", x_m=1.0, y_m=-1.0),
        act("set", setting="inner beam", value="not fitted"),
    ]
    done = [
        act("place body", body="adult", x_m=1.3, y_m=-0.8),
        act("set", setting="inner beam", value="reopen"),
    ]
    rows = way(story(done, play.history), solution)
    assert [row.kind for row in rows] == ["both", "left out", "besides"]
    assert rows[0].done == "place body: adult"
    assert rows[1].expert == "set: inner beam, not fitted"


def test_a_job_without_a_solution_has_no_way(play) -> None:
    """Nothing is made up."""
    assert way(story([act("cordon")], play.history), ()) == ()


@given(
    done=st.lists(st.sampled_from(PLAIN), max_size=12),
    solution=st.lists(st.sampled_from(PLAIN), min_size=1, max_size=12),
)
def test_every_act_has_exactly_one_row(done: list[str], solution: list[str]) -> None:
    """Reading down one side of the rows gives that list again, without the waiting; `both` agree."""
    like = History((), (), _standing(), Us(0))
    rows = way(story([act(kind) for kind in done], like), [act(kind) for kind in solution])
    kept = [kind for kind in solution if kind not in NO_ACT]
    if not kept:
        assert rows == ()
        return
    assert [row.expert for row in rows if row.expert] == kept
    assert [row.done for row in rows if row.done] == [kind for kind in done if kind not in NO_ACT]
    for row in rows:
        assert (row.expert == row.done) == (row.kind == "both")
        assert (row.kind == "left out") == (row.at is None)
        if row.kind == "left out":
            assert row.expert not in done
        if row.kind == "besides":
            assert row.done not in kept


def _standing() -> Standing:
    """How the gate stands doesn't matter to the way."""
    return Standing(
        sheet={}, fitted={}, bridged=(), unplugged=(), swapped_wrong=(), opens_first_truth="active", learned=False,
        user_group_truth="", user_group_stated="", survey={}, survey_right={}, mains_on=False, battery_linked=False,
        released=(), sealed=False, transmitters=(), angle_deg=(0.0, 0.0), slow_start_gap_m=None, ended="",
    )  # fmt: skip


def test_measurements_say_what_they_showed(play) -> None:
    """In the order taken: a meter, a scale, a gauge; what is not a number shows its words."""
    play.do("isolate")
    play.tell("reading", instrument="multimeter", red="a", black="b", shown="24.1 V", value=24.1, unit="V")
    last = play.events[-1]
    play.events[-1] = replace(last, text="multimeter, volts dc, red on a, black on b: 24.1 V")
    play.wait(5)
    play.tell("force", leaf="active", gap_mm=300.0, height_mm=900.0, rest="rigid rest", peak_n=268.4,
              above_150_s=0.241, static_n=92.0, residual_s=1.2, verdict="within limits", index=1)  # fmt: skip
    play.wait(5)
    play.tell("reading", instrument="spring scale", red="active leaf", value=41.5, unit="N")
    rows = measured(Story(play.history))
    assert [(row.what, row.shown) for row in rows][:2] == [
        ("multimeter, volts dc, red on a, black on b", "24.1 V"),
        (
            "force gauge, active leaf closing, gap 300 mm, 900 mm up, rigid rest",
            "peak 268 N, 0.24 s above 150 N, then 92 N: within limits",
        ),
    ]
    assert rows[2].shown == "41.5 N"
    assert [row.at for row in rows] == sorted(row.at for row in rows)


def finding(title: str, outcome: str, points: float, grave: bool = False, instead: str = "Do it so.") -> Finding:
    """A finding that weighs so much."""
    return Finding("safety", outcome, title, title, "", "", instead, points, grave)  # type: ignore[arg-type]


def test_one_thing_to_practise(play) -> None:
    """A grave act goes before what cost more; what passed is no advice; nothing wrong is said as well."""
    cheap, dear = finding("Cheap", "failed", 2.0), finding("Dear", "marginal", 9.0)
    assert practise_next([cheap, dear]) == "Dear: do it so."
    assert practise_next([cheap, dear, finding("Grave", "failed", 0.0, grave=True)]) == "Grave: do it so."
    assert practise_next([finding("Fine", "passed", 5.0)]) == NOTHING
    assert practise_next([]) == NOTHING


@pytest.mark.slow
def test_the_reference_solution_is_its_own_way(tmp_path: Path) -> None:
    """Whoever does as the expert did sees the same on both sides, and every reading of the run."""
    session = Desk(Grader(), tmp_path).play("meet_the_gate", 0)
    session.finish()
    debrief = session.observe().debrief
    session.close()
    assert debrief is not None
    assert debrief.way
    assert {row.kind for row in debrief.way} == {"both"}
    assert debrief.practise


def test_the_way_is_asked_for_at_the_end_only(tmp_path: Path) -> None:
    """While the job runs nobody asks what the expert would do: it would give the draw away."""
    asked: list[str] = []
    session = Desk(Grader(), tmp_path).start("first_run", "assessed", 0)
    solution: Callable[[], tuple[Action, ...]] = session.assignment.solution

    def ask() -> tuple[Action, ...]:
        asked.append("asked")
        return solution()

    session.assignment = replace(session.assignment, solution=ask)
    session.do("cordon")
    assert session.observe().debrief is None
    assert asked == []
    session.finish()
    debrief = session.observe().debrief
    session.close()
    assert debrief is not None
    assert asked
    kinds = [row.kind for row in debrief.way]
    assert kinds[0] == "both"
    assert set(kinds[1:]) == {"left out"}


def test_a_past_that_was_left_is_told(tmp_path: Path) -> None:
    """Going on from an earlier moment twice: what was left each time, up to when, and how many acts."""
    session = Desk(Grader(), tmp_path).start("first_run", "practice", 0)
    for kind in ("cordon", "fit battery link", "restore"):
        session.do(kind)
    assert session.clock_us == 160_000_000
    assert session.go_on_from(Us(130_000_000)).accepted
    session.do("restore")
    assert session.go_on_from(Us(60_000_000)).accepted
    session.finish()
    debrief = session.observe().debrief
    session.close()
    assert debrief is not None
    assert [(left.since / 1e6, left.until / 1e6, left.acts) for left in debrief.left] == [
        (130.0, 140.0, 1),
        (60.0, 140.0, 2),
    ]
