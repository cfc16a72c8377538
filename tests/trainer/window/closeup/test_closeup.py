"""Close-ups: opened by mouse and by keys, with figures that closed formulas give, drawn to scale."""

from __future__ import annotations

import math

import pygame
import pytest

from trainer.window.closeup.subject import MEETING, Subject
from trainer.window.kit.style import STOP_WASH


def told(work) -> dict[str, str]:
    """The figures beside the close-up, by what they are."""
    work.frame()
    return {each["label"]: each["value"] for each in work.hand.all("figure")}


def first_number(words: str) -> float:
    return float(words.split()[0].replace("−", "-"))


@pytest.mark.parametrize("degrees", [0.0, 30.0, 60.0, 90.0])
def test_the_hinge_tells_its_gap(work, degrees: float) -> None:
    """gap(θ) = s + x·cos θ − y·sin θ with (60, 50) and s 70 mm (facts 6.3): 130, 97, 57, 20 mm; never wider after."""
    work.session.angles = [degrees, 0.0]
    work.frame()
    work.screen.plan.look(Subject("hinge", "active"))
    turn = math.radians(degrees)
    assert first_number(told(work)["gap now"]) == round(70 + 60 * math.cos(turn) - 50 * math.sin(turn))
    assert first_number(told(work)["gap with the leaf shut"]) == 130
    stop = math.radians(work.session.observe().leaves[0].open_stop_deg)
    least = min(70 + 60 * math.cos(stop * n / 999) - 50 * math.sin(stop * n / 999) for n in range(1000))
    assert first_number(told(work)["narrowest on its way"]) == pytest.approx(least, abs=0.6)


@pytest.mark.parametrize(("name", "at"), [("active", 0), ("inactive", 1)])
@pytest.mark.parametrize("degrees", [0.0, 30.0, 60.0, 90.0])
def test_the_drive_tells_its_lever_arm(work, name: str, at: int, degrees: float) -> None:
    """h = rA·rB·sin γ/d and d² = rA² + rB² − 2·rA·rB·cos γ (facts 6.4), with this gate's four offsets."""
    work.session.angles[at] = degrees
    work.frame()
    work.screen.plan.look(Subject("drive", name))
    mounting = work.session.observe().leaves[at].drive.mounting
    a, b = -mounting.post[0], mounting.post[1]
    along, off = mounting.bracket
    near, far = math.hypot(a, b), math.hypot(along, off)
    gamma = math.pi - math.atan2(b, a) - math.radians(degrees) - math.atan2(off, along)
    apart = math.sqrt(near**2 + far**2 - 2 * near * far * math.cos(gamma))
    figures = told(work)
    assert first_number(figures["lever arm now"]) == pytest.approx(
        1000 * near * far * math.sin(gamma) / apart, abs=0.6
    )
    assert first_number(figures["pivot to pivot"]) == pytest.approx(1000 * apart, abs=0.6)


def test_the_meeting_edge_tells_gap_strip_and_who_opens_first(work) -> None:
    """Opening less both widths; two tips that hang apart by the law of cosines would be far, shut they are that gap.
    The strip lies on the side the leaves open to, so its carrier opens first (common practice, facts 6.5)."""
    work.screen.plan.look(MEETING)
    view = work.session.observe()
    shut = 1000 * (view.opening_m - view.leaves[0].width_m - view.leaves[1].width_m)
    figures = told(work)
    assert first_number(figures["between the edges when shut"]) == pytest.approx(shut, abs=0.6)
    assert first_number(figures["between the edges now"]) == pytest.approx(shut, abs=0.6)
    assert figures["cover strip"] == "on the active leaf, inside face"
    assert figures["it reaches over the other leaf"] == "50 mm"
    assert figures["must open first"] == "the active leaf; it closes last"
    work.session.angles = [90.0, 0.0]
    tip = (0.0, view.leaves[0].width_m)
    other = (view.opening_m - view.leaves[1].width_m, 0.0)
    work.frame()
    assert first_number(told(work)["between the edges now"]) == pytest.approx(1000 * math.dist(tip, other), abs=0.6)


def test_in_an_assessed_attempt_the_order_is_for_the_person_to_see(open_job) -> None:
    """The strip is told, what follows from it is not."""
    work = open_job(mode="assessed")
    work.screen.plan.look(MEETING)
    assert "must open first" not in told(work)
    assert "cover strip" in told(work)


def test_a_leaf_from_the_front_tells_clearance_and_heights(work) -> None:
    """Facts 1.4 for 1.6 m: 50, 800, 1300 mm above the lower edge, and the clearance on top of each."""
    work.screen.plan.look(Subject("leaf", "inactive"))
    figures = told(work)
    assert figures["clearance to the ground"] == "60 mm, at the hinge"
    assert figures["force gauge above the ground at"] == "110, 860, 1360 mm"


def wash_width(work) -> int:
    """How wide the coloured gap of the hinge is drawn, on the row where it is widest [px]."""
    work.frame()
    surface, rect = work.app.window, work.screen.plan.closeup.detail.rect
    rows = range(rect.top, rect.bottom, 2)
    return max(sum(surface.get_at((x, y))[:3] == STOP_WASH for x in range(rect.left, rect.right)) for y in rows)


def test_the_gap_is_drawn_as_wide_as_it_is(work) -> None:
    """The picture keeps one scale, so that coloured widths are to one another as the gaps: 97 to 130 (facts 6.3)."""
    work.screen.plan.look(Subject("hinge", "active"))
    shut = wash_width(work)
    work.session.angles = [30.0, 0.0]
    assert shut > 40
    assert wash_width(work) == pytest.approx(shut * 97 / 130, abs=4)


def test_a_click_on_a_hinge_looks_closely(work) -> None:
    """Its pin opens its close-up; the cross closes it, and the plan has the keys again."""
    plan = work.screen.plan
    pin = tuple(map(round, plan.port.to_screen(0.0, 0.0)))
    work.hand.click_at(pin)
    work.frame()
    assert work.hand.find("dropdown", "close-up of")["value"] == "Hinge of the active leaf"
    work.hand.click("button", "×")
    work.frame()
    assert not plan.closeup.visible
    assert work.hand.focus == ("drawing", "plan of the yard")


def test_every_close_up_is_reached_by_keys_alone(work) -> None:
    """Page Down steps from thing to thing, Enter lists what can be done, Esc goes back step by step."""
    plan = work.screen.plan
    work.app.root.set_focus(plan, shows=True)
    work.hand.key(pygame.K_PAGEDOWN)
    work.frame()
    assert plan.help.startswith("Active leaf, 0.0°")
    work.hand.key(pygame.K_PAGEDOWN)
    assert plan.help.startswith("Hinge of the active leaf: its gap is 130 mm now")
    work.hand.key(pygame.K_RETURN)
    work.frame()
    assert plan.closeup.detail.subject == Subject("hinge", "active")
    work.hand.key(pygame.K_RETURN, pygame.K_DOWN, pygame.K_RETURN)
    work.frame()
    assert plan.closeup.detail.subject == Subject("drive", "active")
    work.hand.key(pygame.K_ESCAPE)
    assert not plan.closeup.visible
    work.hand.key(pygame.K_PAGEUP, pygame.K_RETURN)
    work.hand.key(pygame.K_END, pygame.K_RETURN)
    work.frame()
    assert plan.closeup.detail.subject == MEETING


def test_the_lens_lists_every_close_up(work) -> None:
    """Three of each leaf, and the meeting edge."""
    work.hand.click("button", "Close-up")
    work.frame()
    names = [option["label"] for option in work.hand.all("option")]
    assert len([name for name in names if "leaf" in name]) == 6
    assert "Meeting edge" in names


@pytest.mark.parametrize(("size", "scale"), [((1280, 800), 1.0), ((1920, 1080), 1.0), ((1280, 800), 2.0)])
def test_it_lies_inside_the_plan_and_its_words_inside_it(open_job, size, scale) -> None:
    """At every size; where the plan is small it takes all of it."""
    work = open_job(size, scale=scale)
    work.screen.turn_to("Yard")
    for subject in (Subject("hinge", "active"), Subject("drive", "inactive"), MEETING, Subject("leaf", "active")):
        work.screen.plan.look(subject)
        work.frame()
        pane = work.screen.plan.closeup
        assert work.screen.plan.rect.contains(pane.rect)
        assert pane.rect.contains(pane.detail.rect)
        assert pane.detail.rect.height > 100 * scale
        assert pane.rect.contains(pane.told.rect)
        assert pane.detail.rect.bottom <= pane.told.rect.top
