"""Debrief and the calm panel."""

from __future__ import annotations


def test_the_debrief_comes_when_the_job_ends(work) -> None:
    """Result, the three questions, parts, findings by weight, each with its journal lines and the report's place."""
    work.session.do("make safe", {"reason": "no parts"})
    work.frame()
    assert work.hand.all("screen", "debrief")
    verdicts = {told["label"]: told["value"] for told in work.hand.all("verdict")}
    assert verdicts == {"Safe?": "no", "Right?": "nearly", "Systematic?": "yes"}
    assert {told["label"]: told["value"] for told in work.hand.all("part")} == {
        "outcome": "26 / 30",
        "safety": "0 / 20",
        "verification": "13 / 20",
        "record": "8.5 / 10",
    }
    assert [told["label"] for told in work.hand.all("finding")] == [
        "A guard was left bridged",
        "One force reading is not a verdict",
        "Monthly checks were not shown",
        "Both leaves turn the right way",
    ]
    texts = work.hand.texts()
    for words in ("journal line 23 · 4:12 · bridge: inner beam", "attempts/first-run/debrief.html", "grave · failed"):
        assert words in texts


def test_a_screen_that_fails_becomes_a_calm_panel(work, caplog) -> None:
    """What to do, that nothing is lost, the error itself; time is held; trying again works."""

    def fail(view: object) -> None:
        raise RuntimeError("made up")

    work.screen.time.show = fail
    work.frame()
    assert work.hand.all("screen", "trouble")
    texts = work.hand.texts()
    for words in ("Nothing is lost", "RuntimeError: made up"):
        assert words in texts
    assert "made up" in caplog.text
    now = work.session.now
    work.frame(3, wall_s=0.1)
    assert work.session.now == now
    work.hand.click("button", "Try again")
    work.frame()
    assert work.hand.all("screen", "work")
    work.frame(3, wall_s=0.1)
    assert work.session.now > now


def test_trouble_leads_to_the_front_desk_as_well(work, caplog) -> None:
    """The session is closed, to be resumed."""

    def fail(pen: object) -> None:
        raise ValueError("made up")

    work.screen.plan.draw_over = fail
    work.frame()
    work.hand.click("button", "To the front desk")
    work.frame()
    assert work.hand.all("screen", "front desk")
    assert work.session.closed
    assert "made up" in caplog.text
