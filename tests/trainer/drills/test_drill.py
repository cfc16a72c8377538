"""A drill played headless: steps come at their moments; changes are physical, journalled, and nobody's act."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from sim.kernel import compiler
from sim.units import SECOND, Us
from sim.world.actions import checked
from sim.world.meddling import Meddling
from trainer.drills import DrillResult, Instructor, begin, finish, play
from trainer.grading import Grader
from trainer.job import load_drill, scenarios_folder
from trainer.job.script import ActionDone, After, At, Clear, ControllerSays, Freeze, Inject, Message, Step, When
from trainer.session.desk import Desk
from trainer.session.play import ScriptFailed

FILE = scenarios_folder() / "drills" / "beam_goes_dark.yaml"


@pytest.fixture(scope="module", autouse=True)
def compiled() -> None:
    """The quick form of the kernel; its bits are the same."""
    compiler.load()


@pytest.fixture
def desk(tmp_path) -> Desk:
    """A front desk with a folder of its own."""
    return Desk(judge=Grader(), folder=tmp_path)


@pytest.fixture
def session(desk):
    """The main job just begun: power off, nothing learned, quick to build."""
    made = desk.start("first_run", "practice", 0)
    yield made
    made.close()


@pytest.fixture(scope="module")
def played(tmp_path_factory) -> tuple[DrillResult, Desk]:
    """The shipped drill, played with its solution."""
    at = Desk(judge=Grader(), folder=tmp_path_factory.mktemp("drill"))
    return play(load_drill(FILE), at), at


def step(moment, act, place: str = "drill.yaml:1:1") -> Step:
    return Step(moment, act, place)


@pytest.mark.slow
def test_the_shipped_drill_is_passed_by_its_solution(played) -> None:
    """Every step of the drill comes, in order, and the solution is competent."""
    result, _ = played
    assert result.failure == ""
    assert result.unplayed == 0
    assert not [done for done in result.log if done.kind == "skipped"]
    assert [done.at for done in result.log] == sorted(done.at for done in result.log)
    assert result.passed
    assert result.grade.score == 100.0


@pytest.mark.slow
def test_result_as_json_and_as_text(played) -> None:
    """JSON holds base types only and comes back equal; the text names the result and every finding."""
    result, _ = played
    stored = json.loads(json.dumps(result.as_base_types()))
    assert stored["passed"] is True
    assert stored["grade"]["features"] == result.grade.features
    assert len(stored["log"]) == len(result.log)
    text = result.as_text()
    assert "The beam goes dark" in text
    assert "competent, 100 of 100" in text
    for finding in result.grade.findings:
        assert finding.title in text


@pytest.mark.slow
def test_replay_of_a_drill_has_the_instructors_changes_in_it(desk) -> None:
    """Played again from its journal alone, without the instructor, the world comes to the same state."""
    drill = load_drill(FILE)
    session, instructor = begin(drill, desk)
    session.do("press", {"control": "open button"})
    session.run_for(Us(SECOND // 2))
    session.do("release", {"control": "open button"})
    session.run_for(Us(40 * SECOND))
    session.do("press", {"control": "close button"})
    session.run_for(Us(SECOND // 2))
    session.do("release", {"control": "close button"})
    session.do("wait", {"seconds": 60.0})
    assert "inject" in [done.kind for done in instructor.log]
    meddled = [line for line in session.journal.living() if line.kind == "meddling"]
    assert [dict(line.data) for line in meddled] == [{"what": "cover", "target": "outer beam", "on": True}]
    digest, now = session.world.digest(), session.world.now
    session.replay()
    assert session.world.now == now
    assert session.world.digest() == digest
    finish(drill, session, instructor)


def test_steps_come_at_their_instants_also_inside_an_act(session) -> None:
    """`at` counts from the start, `after` from the step before; an act that takes minutes hides nothing."""
    steps = (
        step(At(Us(5 * SECOND)), Message("five")),
        step(After(Us(7 * SECOND)), Message("twelve")),
        step(At(Us(20 * SECOND)), Message("twenty")),
        step(None, Freeze("what now?")),
    )
    instructor = Instructor(session, steps)
    assert session.do("cordon").accepted  # two minutes
    assert [(done.at, done.text) for done in instructor.log] == [
        (5 * SECOND, "five"),
        (12 * SECOND, "twelve"),
        (20 * SECOND, "twenty"),
        (20 * SECOND, "what now?"),
    ]
    assert instructor.finished
    assert instructor.frozen == "what now?"
    instructor.go_on()
    assert instructor.frozen == ""
    assert [text for _, text in instructor.messages] == ["five", "twelve", "twenty", "what now?"]


def test_an_act_counts_when_it_is_done(session) -> None:
    """A step that waits for an act comes after the act's effect, not at its beginning."""
    session.do("fit battery link")
    wanted = ActionDone("unplug", {"guard": "outer beam"})
    instructor = Instructor(session, (step(When(wanted), Message("out")),))
    session.do("unplug", {"guard": "active edge"})
    session.run_for(Us(SECOND))
    assert not instructor.log
    began = session.clock_us
    session.do("unplug", {"guard": "outer beam"})
    session.run_for(Us(SECOND))
    assert [done.text for done in instructor.log] == ["out"]
    assert instructor.log[0].at >= began + 10 * SECOND


def test_a_condition_that_never_comes_is_skipped_aloud(session) -> None:
    """After its time a step is skipped, the log says so, and the next step goes on."""
    never = When(ControllerSays("no such words"), Us(3 * SECOND))
    instructor = Instructor(session, (step(never, Message("never")), step(None, Message("next"))))
    session.run_for(Us(10 * SECOND))
    assert [(done.kind, done.at // SECOND) for done in instructor.log] == [("skipped", 3), ("message", 3)]


@pytest.mark.parametrize(
    ("what", "target"),
    [("unplug", "outer beam"), ("bridge", "inner beam"), ("cover", "outer beam"), ("swap", "active")],
)
def test_injected_and_cleared_leaves_the_gate_as_it_was(session, what: str, target: str) -> None:
    """A change is there while it is injected, is no act of anybody, and clearing puts back what was."""
    steps = (step(At(Us(SECOND)), Inject("it", what, target)), step(At(Us(3 * SECOND)), Clear("it")))
    session.run_for(Us(120 * SECOND))  # what was charged has run empty
    state = session.world.cabinet.wiring(), set(session.world.people.covered)
    Instructor(session, steps)
    session.run_for(Us(2 * SECOND))
    assert (session.world.cabinet.wiring(), set(session.world.people.covered)) != state
    session.run_for(Us(2 * SECOND))
    assert (session.world.cabinet.wiring(), set(session.world.people.covered)) == state
    assert session.history().entries == ()


def test_a_fault_comes_and_goes_and_stands_in_the_journal(session) -> None:
    """By name and share; cleared, the wiring is as it was; mended meanwhile, clearing does nothing."""
    name = "corroded splice in a buried motor cable"
    inject = Inject("it", "fault", name, {"share": 0.5})
    session.run_for(Us(120 * SECOND))  # what was charged has run empty
    state = session.world.cabinet.wiring()
    Instructor(session, (step(At(Us(SECOND)), inject), step(At(Us(3 * SECOND)), Clear("it"))))
    session.run_for(Us(2 * SECOND))
    assert session.world.faults.present == ((name, 0.5),)
    assert session.world.cabinet.wiring() != state
    session.run_for(Us(2 * SECOND))
    assert session.world.faults.present == ()
    assert session.world.cabinet.wiring() == state
    told = [line.data for line in session.journal.living() if line.kind == "meddling"]
    assert [(line["what"], line["target"], line["on"]) for line in told] == [
        ("fault", name, True),
        ("fault", name, False),
    ]


def test_clearing_what_was_cured_already_does_nothing(session) -> None:
    """Somebody who pushed the plug back before it was cleared finds it in."""
    session.do("fit battery link")
    steps = (step(At(Us(SECOND)), Inject("it", "unplug", "outer beam")), step(At(Us(90 * SECOND)), Clear("it")))
    Instructor(session, steps)
    session.run_for(Us(30 * SECOND))
    assert session.do("plug in", {"guard": "outer beam"}).text.startswith("The outer beam's plug is in")
    session.run_for(Us(120 * SECOND))
    assert session.standing().unplugged == ()


def test_what_was_injected_is_nobodys_unsafe_act(session) -> None:
    """A link the instructor laid is blamed on nobody; left in, it is."""
    Instructor(session, (step(At(Us(SECOND)), Inject("it", "bridge", "inner beam")),))
    session.run_for(Us(5 * SECOND))
    made = Grader().graded(session.history(), session.assignment)
    assert [f.name for f in made.findings if f.grave] == ["bridge left"]
    assert session.standing().bridged == ("inner beam",)


@pytest.mark.parametrize(
    ("act", "said"),
    [
        (checked("isolate"), "an act of whoever is at work"),
        (Inject("it", "site", "", {"opening_width_m": 4.0}), "can't be changed while the gate stands"),
    ],
)
def test_steps_nobody_can_carry_out_are_refused_before_anything_happens(session, act, said: str) -> None:
    """The place and what is allowed instead are named."""
    with pytest.raises(ScriptFailed, match=said) as caught:
        Instructor(session, (step(None, Message("hello")), step(None, act, "drill.yaml:9:5")))
    assert "drill.yaml:9:5" in str(caught.value)


def test_a_drill_for_a_person_needs_one(desk) -> None:
    """Without a solution a drill can't be played headless, and says so."""
    with pytest.raises(ScriptFailed, match="for a person"):
        play(replace(load_drill(FILE), solution=None), desk)


def test_meddling_with_what_is_not_there_is_refused(session) -> None:
    """A change there is none of is refused in words, before it is journalled."""
    from sim.errors import Refused

    lines = len(session.journal.entries())
    with pytest.raises(Refused, match="nobody can meddle"):
        session.meddle(Meddling("melt", "outer beam", True))  # type: ignore[arg-type]
    assert len(session.journal.entries()) == lines


def test_weather_comes_and_goes_and_is_in_the_journal(session) -> None:
    """A squall is in the view while it lasts, a session played again from its journal alone has it too, and clearing
    it brings the weather of the day back."""
    squall = {"wind_m_s": 14.0, "gust_intensity": 0.3, "wind_from_deg": 180.0, "temperature_c": -5.0}
    steps = (step(At(Us(2 * SECOND)), Inject("squall", "weather", "", squall)),)
    Instructor(session, steps)
    calm = session.observe().weather
    session.run_for(Us(10 * SECOND))
    blown = session.observe().weather
    assert (calm.mean_m_s, blown.mean_m_s, blown.gust_intensity, blown.temperature_c) == (0.0, 14.0, 0.3, -5.0)
    assert blown.wind_m_s != blown.mean_m_s
    (line,) = [line for line in session.journal.living() if line.kind == "meddling"]
    assert line.data["values"] == squall
    now, digest = session.world.now, session.world.digest()
    session.replay()
    assert (session.world.now, session.world.digest()) == (now, digest)
    assert session.observe().weather == blown


def test_a_squall_that_is_cleared_leaves_the_weather_of_the_day(session) -> None:
    """What was injected under a name is undone under that name."""
    steps = (
        step(None, Inject("squall", "weather", "", {"wind_m_s": 9.0})),
        step(After(Us(5 * SECOND)), Clear("squall")),
    )
    Instructor(session, steps)
    session.run_for(Us(3 * SECOND))
    assert session.observe().weather.mean_m_s == 9.0
    session.run_for(Us(5 * SECOND))
    assert session.observe().weather.mean_m_s == 0.0
    assert session.observe().weather.wind_m_s == 0.0
