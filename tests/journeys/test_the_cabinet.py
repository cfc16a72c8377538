"""Measuring at the wiring drawing in the real window, with real mouse and keys."""

from __future__ import annotations

from typing import Any

import pytest

pytestmark = [pytest.mark.display, pytest.mark.slow]


def test_she_measures_the_mains_at_the_isolator_on_the_drawing(person: Any) -> None:
    """Open the cabinet, put both leads by mouse, measure on the page, read the same in the corner; off by key."""
    person.click("First run", "job")
    person.click("Start the job", "button")
    person.until(lambda: person.app.session is not None, "a session")
    person.click("Instruments", "option")
    person.click("Multimeter", "option")
    person.choose("function", "volts ac")
    person.click("Cabinet", "option")
    person.until(lambda: person.all("wiring drawing", "wiring drawing"), "the drawing beside the cabinet's page")
    for name, button in (("isolator inlet, live", 1), ("isolator inlet, neutral", 3)):
        person.put_lead(name, button)
    assert leads(person) == {"isolator inlet, live": "red", "isolator inlet, neutral": "black"}
    person.picture("leads-on-the-drawing")
    person.click("Instruments", "option")
    person.click("Measure", "button")
    person.reads("Live measurement")
    person.confirm("Measure")
    person.until(lambda: person.view().tools.reading("multimeter"), "a reading")
    shown = person.find("multimeter", "reading")["value"]
    assert shown.endswith(" V")
    assert 225 <= float(shown.split()[0]) <= 235, "the mains, as the house has it"
    person.picture("read")
    drawing = person.middle(person.find("wiring drawing", "wiring drawing"))
    person.down(drawing)
    person.up()
    person.key("x")
    person.until(lambda: not leads(person), "both leads off")


def leads(person: Any) -> dict[str, str]:
    """Terminal to the lead on it."""
    told = [node for node in _all(person.app.root.tree()) if node["role"] == "terminal"]
    return {node["label"]: node["value"] for node in told if node["value"]}


def _all(node: dict[str, Any]) -> list[dict[str, Any]]:
    return [node, *(below for child in node.get("children", ()) for below in _all(child))]
