"""An apprentice commissions her first gate in the real window: the first five steps, with mouse and keyboard."""

from __future__ import annotations

import math
from typing import Any

import pytest

from trainer.window.plan.plan import Plan

pytestmark = [pytest.mark.display, pytest.mark.slow]

HAZARDS = {
    "meeting edges as they close": "active edge",
    "somebody between the leaves as they close": "outer beam",
    "somebody inside as the leaves open": "low motor effort, measured",
    "hinge gaps": "cover over the gap",
    "gap under the leaves": "level ground",
    "ram and its bracket": "fixed guard",
    "wall behind the open leaf": "gap of more than 500 mm",
}

PAPER_IS_LIGHT = 200
"""Every channel of the sheet's colour is above this; ink and leaves' outlines are far below."""


def plan_of(person: Any) -> Plan:
    """The yard's plan."""
    return next(w for w in person.app.work.walk() if isinstance(w, Plan))


def on_leaf(person: Any, leaf: str, along: float, angle: float | None = None) -> tuple[int, int]:
    """Where a point of a leaf is on the screen; at an angle [°] of one's own, if given."""
    plan, view = plan_of(person), person.view()
    index = 0 if leaf == "active" else 1
    theta = math.radians(view.leaves[index].angle_deg if angle is None else angle)
    x, y = along * math.cos(theta), along * math.sin(theta)
    shown = plan.port.to_screen(x if index == 0 else view.opening_m - x, y)
    return round(shown[0]), round(shown[1])


def ink_near(person: Any, at: tuple[int, int], reach: int = 5) -> bool:
    """Whether something dark is drawn within some pixels of a point."""
    points = [(at[0] + dx, at[1] + dy) for dx in range(-reach, reach + 1) for dy in range(-reach, reach + 1)]
    return any(max(person.colour(point)) < 90 for point in points)


def leaves_are_drawn_where_they_are(person: Any) -> None:
    """The picture agrees with the angles: ink where each leaf is, none where it isn't."""
    person.frames(3)
    for leaf, view in zip(("active", "inactive"), person.view().leaves, strict=True):
        assert ink_near(person, on_leaf(person, leaf, 1.3)), f"{leaf} leaf at {view.angle_deg:.0f}°"
        elsewhere = view.angle_deg + (35 if view.angle_deg < 45 else -35)
        assert not ink_near(person, on_leaf(person, leaf, 1.3, elsewhere), 3), f"nothing at {elsewhere:.0f}°"


def tab(person: Any, name: str) -> None:
    """Turn to a page of the folder."""
    person.click(name, "option", inside="folder")


def at_sheet(person: Any, setting: str, value: str) -> None:
    """Write a setting of the sheet, by its dropdown or by typing."""
    tab(person, "Sheet")
    person.frames(3)
    found = next(node for node in person.all(setting, inside="Sheet") if node["role"] != "label")
    if found["role"] == "dropdown":
        person.click(setting, "dropdown")
        person.click(value, "option")
    else:
        person.click(setting, found["role"])
        person.key("ctrl+a")
        person.type(value)
        person.key("Return")
    person.until(
        lambda: any(row.name == setting and row.value == value for row in person.view().settings),
        f"{setting} is {value} on the sheet",
    )


def test_she_commissions_the_gate_as_far_as_delays_and_slow_zones(person: Any) -> None:
    """Survey, free swing, a controller that will not move, directions, guards, learning, settings: seen and done."""
    # into the job
    person.reads("First run")
    person.click("First run", "job")
    person.click("Start the job", "button")
    person.reads("Orchard Row")
    person.reads("Isolated")
    leaves_are_drawn_where_they_are(person)

    _survey(person)
    _swing_by_hand(person)
    _power_and_the_inner_beam(person)
    _directions(person)
    _guards(person)
    at_sheet(person, "leaf delay, opening", "3")
    at_sheet(person, "leaf delay, closing", "12")
    at_sheet(person, "slow zone before stop", "25")
    _learn(person)
    at_sheet(person, "auto-close", "on")
    tab(person, "Acceptance")
    person.reads("Travel learned")
    person.picture("five-steps-done")


def _survey(person: Any) -> None:
    tab(person, "Survey")
    person.use("cordon")
    person.click("Instructed with public", "option")
    for hazard, protection in HAZARDS.items():
        person.click(hazard, "dropdown")
        person.click(protection, "option")
        person.until(lambda h=hazard: any(r.hazard == h and r.protection for r in person.view().survey), hazard)
    passed(person, "survey complete")
    assert not any(guard.by_hand for guard in person.view().guards), person.app.session.world.entries


def _swing_by_hand(person: Any) -> None:
    for leaf in ("Active", "Inactive"):
        person.choose("Leaves", f"{leaf} leaf: Release the drive")
        person.confirm("Release the drive")
    person.until(lambda: not any(leaf.engaged for leaf in person.view().leaves), "both drives released")
    # the free leaf is dragged with the mouse, the rest is taken from the menu
    person.drag(on_leaf(person, "active", 1.5), on_leaf(person, "active", 1.5, 100.0))
    person.until(lambda: person.view().leaves[0].angle_deg > 85, "the active leaf is open")
    leaves_are_drawn_where_they_are(person)
    for words in (
        "Inactive leaf: Push it fully open",
        "Inactive leaf: Push it shut",
        "Active leaf: Push it shut",
        "Active leaf: Push it half open",
        "Inactive leaf: Push it half open",
    ):
        person.choose("Leaves", words)
        person.frames(4)
    leaves_are_drawn_where_they_are(person)
    for leaf in ("Active", "Inactive"):
        person.choose("Leaves", f"{leaf} leaf: Engage the drive")
    passed(person, "leaves swing free")
    assert not any(guard.by_hand for guard in person.view().guards), person.app.session.world.entries


def _power_and_the_inner_beam(person: Any) -> None:
    _power_on(person)
    tab(person, "Why still")
    person.reads("Inner beam")
    blocking = {line.name for line in person.view().panel.inputs if line.blocks}
    assert "inner beam" in blocking
    person.picture("will-not-move")
    at_sheet(person, "inner beam", "not fitted")
    at_sheet(person, "outer beam", "reopen")
    at_sheet(person, "leaves fitted", "2")
    at_sheet(person, "drive kind", "linear ram")
    at_sheet(person, "opens first", "active")


def _power_on(person: Any) -> None:
    tab(person, "Cabinet")
    person.use("fit battery link")
    person.use("restore")
    person.until(lambda: person.view().board_on, "the board has power")
    person.through(2.0)


def _jog(person: Any, leaf: str, way: str, seconds: float) -> float:
    """Hold a jog button with the mouse for some seconds; returns how far the leaf went [°]."""
    index = 0 if leaf == "active" else 1
    before = person.view().leaves[index].angle_deg
    at = person.middle(person.find(way, "hold button", "Jog, while held", index))
    person.down(at)
    if not person.view().held:  # the caution came first: read it, then press again
        person.up()
        person.click(person.dialog_answers()[0], "button")
        person.down(at)
    person.until(lambda: person.view().held, "the jog button is held")
    person.through(seconds)
    person.up()
    person.until(lambda: not person.view().held, "the jog button is let go")
    person.through(2.0)
    return float(person.view().leaves[index].angle_deg - before)


def _directions(person: Any) -> None:
    _stop_under_jog(person)
    assert _jog(person, "active", "close", 2.0) < -0.3
    assert _jog(person, "inactive", "open", 2.0) < -0.3, "the inactive leaf turns the wrong way"
    leaves_are_drawn_where_they_are(person)
    tab(person, "Cabinet")
    person.use("isolate")
    person.use("remove battery link")
    tab(person, "Instruments")
    person.click("Two-pole tester", "option")
    person.use("prove tester")
    for red, black in (
        ("isolator outlet, live", "isolator outlet, neutral"),
        ("board supply, plus", "board supply, minus"),
        ("inactive leaf motor, plus", "inactive leaf motor, minus"),
    ):
        for lead, terminal in (("red lead", red), ("black lead", black)):
            person.click(lead, "dropdown")
            person.type(terminal)
            person.key("Return")
            person.until(lambda a=lead, b=terminal: person.find(a)["value"] == b, f"{lead} on {terminal}")
        person.use("test dead")
        person.frames(3)
    person.use("prove tester")
    tab(person, "Cabinet")
    person.use("swap motor leads", nth=1)
    _power_on(person)
    assert _jog(person, "inactive", "open", 3.0) > 0.3
    passed(person, "leaf directions proved")
    passed(person, "dead proved before work")


def _stop_under_jog(person: Any) -> None:
    """One hand holds the jog button with the mouse, the other is at the stop."""
    _jog(person, "active", "open", 0.5)
    person.down(person.middle(person.find("open", "hold button", "Jog, while held")))
    person.until(lambda: person.view().held, "the jog button is held")
    person.through(1.5)
    person.key("s")
    person.until(lambda: abs(person.view().leaves[0].motor_a) < 0.01, "the stop takes the current away")
    person.through(2.0)
    person.up()
    person.key("s")
    person.until(lambda: not person.view().guards[4].tripped, "the stop button is out again")
    person.through(1.0)
    passed(person, "stop circuit proved")


def passed(person: Any, check: str) -> None:
    """Wait until a check of the acceptance list has passed."""
    person.until(lambda: dict(person.view().acceptance)[check] == "passed", f"'{check}' passed")


def _guards(person: Any) -> None:
    for guard, cover, away in (
        ("Outer beam", "Hold a card before it", "Uncover it"),
        ("Active edge", "Press it", "Let it go"),
        ("Inactive edge", "Press it", "Let it go"),
    ):
        person.choose("Guards", f"{guard}: {cover}")
        person.until(lambda g=guard: any(v.tripped for v in person.view().guards if v.name == g.lower()), guard)
        person.choose("Guards", f"{guard}: {away}")
    tab(person, "Cabinet")
    for nth in range(4):
        person.use("unplug", nth=nth)
        person.until(lambda: not all(g.plugged for g in person.view().guards), f"plug {nth} is out")
        person.through(1.0)
        person.use("plug in")
        person.through(1.0)
    passed(person, "guards proved")


def _learn(person: Any) -> None:
    tab(person, "Sheet")
    person.use("learn travel")
    person.until(lambda: person.view().panel.state == "travel learning", "it learns")
    person.choose("Wait until…", "Learning ends")
    person.until(lambda: None not in person.view().panel.travel, "the learned travel")
    leaves_are_drawn_where_they_are(person)
    passed(person, "travel learned")
