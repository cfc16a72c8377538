"""The steps of commissioning *First run*, done with mouse and keyboard, up to a gate that has learned its travel."""

from __future__ import annotations

from typing import Any

from tests.journeys.sight import leaves_are_drawn_where_they_are, on_leaf

HAZARDS = {
    "meeting edges as they close": "active edge",
    "somebody between the leaves as they close": "outer beam",
    "somebody inside as the leaves open": "low motor effort, measured",
    "hinge gaps": "cover over the gap",
    "gap under the leaves": "level ground",
    "ram and its bracket": "fixed guard",
    "wall behind the open leaf": "gap of more than 500 mm",
}


def at_sheet(person: Any, setting: str, value: str) -> None:
    """Write a setting of the sheet, by its dropdown or by typing."""
    person.tab("Sheet")
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


def survey(person: Any) -> None:
    person.tab("Survey")
    person.use("cordon")
    person.click("Instructed with public", "option")
    for hazard, protection in HAZARDS.items():
        person.click(hazard, "dropdown")
        person.click(protection, "option")
        person.until(lambda h=hazard: any(r.hazard == h and r.protection for r in person.view().survey), hazard)
    person.passed("survey complete")
    assert not any(guard.by_hand for guard in person.view().guards), person.app.session.world.entries


def swing_by_hand(person: Any) -> None:
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
    person.passed("leaves swing free")
    assert not any(guard.by_hand for guard in person.view().guards), person.app.session.world.entries


def power_and_the_inner_beam(person: Any) -> None:
    power_on(person)
    person.tab("Why still")
    person.reads("Inner beam")
    blocking = {line.name for line in person.view().panel.inputs if line.blocks}
    assert "inner beam" in blocking
    person.picture("will-not-move")
    at_sheet(person, "inner beam", "not fitted")
    at_sheet(person, "outer beam", "reopen")
    at_sheet(person, "leaves fitted", "2")
    at_sheet(person, "drive kind", "linear ram")
    at_sheet(person, "opens first", "active")


def power_on(person: Any) -> None:
    person.tab("Cabinet")
    person.use("fit battery link")
    person.use("restore")
    person.until(lambda: person.view().board_on, "the board has power")
    person.through(2.0)


def jog_held(person: Any, leaf: str, way: str) -> None:
    """Press a jog button with the mouse and keep it held; its caution is read before."""
    at = person.middle(person.find(way, "hold button", "Jog, while held", 0 if leaf == "active" else 1))
    person.down(at)
    person.until(lambda: person.view().held or person.dialog_answers(), "the jog button is held, or asked about")
    if not person.view().held:  # the caution came first: read it, then press again
        person.up()
        person.click(person.dialog_answers()[0], "button")
        person.down(at)
    person.until(lambda: person.view().held, "the jog button is held")


def _jog(person: Any, leaf: str, way: str, seconds: float) -> float:
    """Hold a jog button with the mouse for some seconds; returns how far the leaf went [°]."""
    index = 0 if leaf == "active" else 1
    before = person.view().leaves[index].angle_deg
    jog_held(person, leaf, way)
    person.through(seconds)
    person.up()
    person.until(lambda: not person.view().held, "the jog button is let go")
    person.through(2.0)
    return float(person.view().leaves[index].angle_deg - before)


def directions(person: Any) -> None:
    _stop_under_jog(person)
    assert _jog(person, "active", "close", 2.0) < -0.3
    assert _jog(person, "inactive", "open", 2.0) < -0.3, "the inactive leaf turns the wrong way"
    leaves_are_drawn_where_they_are(person)
    person.tab("Cabinet")
    person.use("isolate")
    person.use("remove battery link")
    person.tab("Instruments")
    person.click("Two-pole tester", "option")
    person.use("prove tester")
    for red, black in (
        ("isolator outlet, live", "isolator outlet, neutral"),
        ("board supply, plus", "board supply, minus"),
        ("inactive leaf motor, plus", "inactive leaf motor, minus"),
    ):
        for lead, terminal in (("red lead", red), ("black lead", black)):
            person.click(lead, "dropdown")
            person.take(terminal)
            person.until(lambda a=lead, b=terminal: person.find(a)["value"] == b, f"{lead} on {terminal}")
        person.use("test dead")
        person.frames(3)
    person.use("prove tester")
    person.tab("Cabinet")
    person.use("swap motor leads", nth=1)
    power_on(person)
    assert _jog(person, "inactive", "open", 3.0) > 0.3
    person.passed("leaf directions proved")
    person.passed("dead proved before work")


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
    person.passed("stop circuit proved")


def guards(person: Any) -> None:
    for guard, cover, away in (
        ("Outer beam", "Hold a card before it", "Uncover it"),
        ("Active edge", "Press it", "Let it go"),
        ("Inactive edge", "Press it", "Let it go"),
    ):
        person.choose("Guards", f"{guard}: {cover}")
        person.until(lambda g=guard: any(v.tripped for v in person.view().guards if v.name == g.lower()), guard)
        person.choose("Guards", f"{guard}: {away}")
    person.tab("Cabinet")
    for nth in range(4):
        person.use("unplug", nth=nth)
        person.until(lambda: not all(g.plugged for g in person.view().guards), f"plug {nth} is out")
        person.through(1.0)
        person.use("plug in")
        person.through(1.0)
    person.passed("guards proved")


def learn(person: Any) -> None:
    person.tab("Sheet")
    person.use("learn travel")
    person.until(lambda: person.view().panel.state == "travel learning", "it learns")
    person.choose("Wait until…", "Learning ends")
    person.until(lambda: None not in person.view().panel.travel, "the learned travel")
    leaves_are_drawn_where_they_are(person)
    person.passed("travel learned")
