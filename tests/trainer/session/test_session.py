"""A running job from outside: what is accepted is on disk, what is held is let go, the past can be gone back to."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from sim.errors import ActionError, JournalError
from sim.units import SECOND, Us
from trainer.grading.judge import Grader
from trainer.session.desk import Desk
from trainer.session.journal import read_journal
from trainer.session.lines import Line, decode, encode
from trainer.session.session import Session

FIRST_ACTS: list[tuple[str, dict[str, object]]] = [
    ("cordon", {}),
    ("fit battery link", {}),
    ("restore", {}),
    ("wait", {"seconds": 2}),
    ("jog press", {"leaf": "active", "direction": "open"}),
    ("wait", {"seconds": 4}),
    ("jog release", {"leaf": "active"}),
    ("wait", {"seconds": 2}),
]


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """A desk whose attempts are kept in a folder of the test."""
    return Desk(None, tmp_path)


@pytest.fixture
def begun(desk: Desk) -> Session:
    """First run with power on and the active leaf jogged a little."""
    session = desk.start("first_run", "practice", 0)
    for kind, arguments in FIRST_ACTS:
        assert session.do(kind, arguments).accepted
    return session


def test_an_accepted_act_is_on_disk_before_the_answer(begun: Session) -> None:
    """The line that the reply names is in the file, with what was done."""
    reply = begun.do("note", {"text": "hinges look sound"})
    lines = {line.number: line for line in read_journal(begun.journal.folder).lines}
    assert lines[reply.line].data["do"] == "note"
    assert lines[reply.line].data["with"] == {"text": "hinges look sound", "entry": "seen"}


def test_what_is_refused_is_not_in_the_journal(begun: Session) -> None:
    """A refusal says why and leaves no line."""
    before = len(begun.journal.entries())
    assert begun.do("restore").text == "the isolator is closed already"
    assert "did you mean" in begun.do("restor").text
    assert len(begun.journal.entries()) == before


def test_a_session_left_in_the_middle_is_resumed_where_it_was(desk: Desk, begun: Session) -> None:
    """Closed, opened again: the same state to the bit, and the same journal goes on."""
    begun.close()
    digest, now = begun.world.digest(), begun.clock_us
    again = desk.resume("first_run")
    assert (again.clock_us, again.world.digest()) == (now, digest)
    assert again.do("note", {"text": "back"}).accepted
    again.close()


def test_a_process_that_died_loses_nothing_acknowledged(desk: Desk, begun: Session) -> None:
    """Without a close, with a button still held: everything acknowledged is there, the button is let go."""
    begun.do("jog press", {"leaf": "active", "direction": "close"})
    begun.run_for(Us(SECOND))
    begun.journal.close()  # the process is gone: no release, no time reached beyond the last
    again = desk.resume("first_run")
    assert [e.action.kind for e in again.world.entries][-2:] == ["jog press", "jog release"]
    assert not again.world.held
    again.close()


def test_going_back_and_on_keeps_the_branch_that_was_left(begun: Session) -> None:
    """The world stands as it stood; the journal still holds what came after."""
    zero_angle = begun.observe().leaves[0].angle_deg
    mark = begun.clock_us
    begun.do("jog press", {"leaf": "active", "direction": "open"})
    begun.do("wait", {"seconds": 3})
    begun.do("jog release", {"leaf": "active"})
    begun.do("wait", {"seconds": 2})
    lines = len(begun.journal.entries())
    assert begun.observe().leaves[0].angle_deg > zero_angle + 2
    assert begun.go_on_from(mark).accepted
    assert begun.observe().leaves[0].angle_deg == pytest.approx(zero_angle, abs=1e-9)
    assert len(begun.journal.entries()) > lines


def test_gone_back_equals_never_gone_on(desk: Desk, begun: Session) -> None:
    """A restored run and a straight one have one digest."""
    mark, digest = begun.clock_us, begun.world.digest()
    begun.do("press", {"control": "open button"})
    begun.do("wait", {"seconds": 5})
    begun.do("release", {"control": "open button"})
    begun.go_on_from(mark)
    assert begun.world.digest() == digest


def test_an_assessed_attempt_can_look_back_but_not_go_back(desk: Desk) -> None:
    """Rewind only looks, and the look is on record."""
    session = desk.start("first_run", "assessed", 0)
    session.do("cordon")
    session.look_at(Us(10 * SECOND))
    assert session.observe().strip.shown_s == 10
    refused = session.go_on_from(Us(10 * SECOND))
    assert not refused.accepted
    assert "assessed" in refused.text
    session.look_at(None)
    assert [line.kind for line in session.journal.entries()][-1] == "look"


def test_an_assessed_attempt_does_not_say_which_answers_are_right(tmp_path: Path) -> None:
    """What compares the sheet with the truth stays open until the end; the guide is away."""
    for mode, told in (("practice", "passed"), ("assessed", "not yet")):
        session = Desk(Grader(), tmp_path / mode).start("first_run", mode, 0)  # type: ignore[arg-type]
        for kind in ("fit battery link", "restore"):
            session.do(kind)
        session.do("wait", {"seconds": 2})
        session.do("state user group", {"group": "instructed with public"})
        for row in session.world.site.hazards:
            session.do("survey hazard", {"hazard": row.hazard, "protection": row.covers[0]})
        for hazard, answers in session.world.site.right_answers().items():
            session.do("survey hazard", {"hazard": hazard, "protection": answers[0]})
        session.do("set", {"setting": "inner beam", "value": "not fitted"})
        view = session.observe()
        assert dict(view.acceptance)["survey complete"] == told
        assert bool(view.steps) is (mode == "practice")
        session.finish()
        assert dict(session.observe().acceptance)["survey complete"] == "passed"
        session.close()


def test_looking_back_changes_nothing(begun: Session) -> None:
    """Time stands still while the past is shown, and goes on as if nobody had looked."""
    digest = begun.world.digest()
    begun.look_at(Us(130 * SECOND))
    for _ in range(30):
        begun.tick(0.1)
    shown = begun.observe()
    begun.look_at(None)
    assert begun.world.digest() == digest
    assert shown.leaves[0].angle_deg != begun.observe().leaves[0].angle_deg


@pytest.mark.parametrize("leave", [lambda s: s.pause(True), lambda s: s.look_at(Us(0)), lambda s: s.release_all()])
def test_leaving_lets_go_of_what_is_held(begun: Session, leave: Callable[[Session], None]) -> None:
    """Pause, looking back and losing the focus are a release, and the release is in the journal."""
    begun.do("jog press", {"leaf": "active", "direction": "open"})
    assert begun.observe().held == ("jog active leaf",)
    leave(begun)
    assert begun.observe().held == ()
    assert begun.world.entries[-1].action.kind == "jog release"


def test_time_runs_no_faster_than_real_while_a_control_is_held(begun: Session) -> None:
    """Hold-to-run at sixteen times would be a gate nobody could stop."""
    begun.set_pace(16.0)
    start = begun.clock_us
    for _ in range(10):
        begun.tick(0.1)
    free = begun.clock_us - start
    begun.do("jog press", {"leaf": "active", "direction": "open"})
    start = begun.clock_us
    for _ in range(10):
        begun.tick(0.1)
    held = begun.clock_us - start
    assert (free, held) == (16 * SECOND, SECOND)


def test_a_late_frame_counts_for_a_tenth_of_a_second(begun: Session) -> None:
    """A machine that can't keep up makes time lag, not jump."""
    start = begun.clock_us
    begun.tick(7.5)
    assert begun.clock_us - start == SECOND // 10
    assert begun.observe().achieved_pace < 1.0


def test_paused_time_stands(begun: Session) -> None:
    """However long the pause, nothing happens in it."""
    begun.pause(True)
    digest = begun.world.digest()
    for _ in range(50):
        begun.tick(0.1)
    assert begun.world.digest() == digest


def test_only_paces_on_the_dial_can_be_set(begun: Session) -> None:
    """A pace that isn't offered is refused with the list."""
    with pytest.raises(ActionError, match=r"0\.25×, 1×, 4×, 16×"):
        begun.set_pace(3.0)


def test_the_journal_and_the_view_hold_nothing_of_the_hidden_draw(desk: Desk) -> None:
    """Which leaf turns the wrong way is nowhere to be read before the debrief: two draws look alike on arrival."""
    texts = []
    for seed in (0, 2, 3, 5):
        session = desk.start("first_run", "practice", seed)
        raw = (session.journal.folder / "journal.jsonl").read_text()
        view = repr(session.observe())
        assert "swapped" not in raw + view
        assert "wrong leaf" not in raw + view
        texts.append(raw)
        session.close()
    assert all("orchard" not in text or "wrong" not in text for text in texts)


def test_an_attempt_at_a_job_that_was_changed_is_not_replayed(desk: Desk, begun: Session) -> None:
    """Another job text, site or physics: it says so instead of replaying something else."""
    begun.close()
    path = begun.journal.folder / "journal.jsonl"
    first, rest = path.read_bytes().split(b"\n", 1)
    header = decode(first)
    changed = Line(1, header.at, "header", {**header.data, "physics": "0"})
    path.write_bytes(encode(changed) + rest)
    with pytest.raises(JournalError, match="another physics"):
        desk.reopen(begun.journal.folder)


def test_a_replay_that_differs_says_where_and_is_not_gone_on_with(desk: Desk, begun: Session) -> None:
    """A fingerprint that doesn't fit: looked at, yes; gone on with or graded, no."""
    begun.journal.digest(begun.world.now, "0" * 32)
    begun.close()
    again = desk.resume("first_run")
    refused = again.do("note", {"text": "never mind"})
    assert not refused.accepted
    assert "this replay differs from what was recorded" in refused.text
    again.finish()
    assert again.debrief() is None
    again.journal.close()


def test_fingerprints_are_written_while_time_runs(begun: Session) -> None:
    """A long session can be checked on the way, not only at its end."""
    for _ in range(40):
        begun.run_for(Us(SECOND))
    kinds = [line.kind for line in begun.journal.entries()]
    assert "digest" in kinds
    begun.close()
    assert begun.world.digest()


def test_after_its_first_pass_a_job_is_drawn_anew(tmp_path: Path) -> None:
    """The first time it is the job as it is taught; once finished, the next draw is offered."""
    desk = Desk(Grader(), tmp_path)
    draws = []
    for _ in range(3):
        card = next(c for c in desk.jobs() if c.name == "first_run")
        draws.append(card.draw)
        session = desk.start("first_run", "practice", card.draw)
        session.finish()
        session.debrief()
        session.close()
    assert draws == [0, 1, 2]


def test_the_desk_offers_to_go_on(desk: Desk, begun: Session) -> None:
    """An unfinished attempt is on its card; a finished one isn't."""
    begun.close()
    card = next(c for c in desk.jobs() if c.name == "first_run")
    assert card.unfinished
    again = desk.resume("first_run")
    again.finish()
    again.close()
    card = next(c for c in desk.jobs() if c.name == "first_run")
    assert not card.unfinished
    assert card.draw == 0, "without a judge no result is kept, so it is not done yet"
    with pytest.raises(JournalError, match="no unfinished attempt"):
        desk.resume("first_run")
