"""The bench of tools: every instrument of the shelf is taken, set, put somewhere and read, by mouse and by keys."""

from __future__ import annotations

from dataclasses import replace

import pygame
import pytest

from sim.instruments.cautions import BOARD_OFF, DEAD_ONLY, LIVE_WORK
from sim.instruments.shelf import SHELF
from sim.world.actions import CATALOGUE
from trainer.window.canned import CannedSession
from trainer.window.cautions import caution_for

TOOLS = [new().name for new in SHELF]


def page_of(work):
    """The page, with both sources off and every plug out, so that no caution comes between."""
    work.session.mains = work.session.battery = False
    work.session.unplugged = {"outer beam", "active edge", "inactive edge", "stop circuit"}
    work.page("Instruments")
    return work.screen.folder.page


def choose_places(work, page) -> None:
    """Fill every place that is still missing with the first name that is offered, as a person would."""
    page.show(work.screen.hands.view)
    function = page.bench.function(work.screen.hands.view)
    for role in ("at", "against"):
        kind = getattr(function, role)
        names = function.spots if kind == "spot" else work.screen.hands.view.offers.get(kind, ())
        if kind:
            page.bench.choose(kind, role, names[0 if role == "at" else -1])
    work.frame(2)


@pytest.mark.parametrize("tool", TOOLS)
def test_every_function_of_every_instrument_is_measured_with_from_the_page(work, tool) -> None:
    """What the entry says is all the page needs: the act names instrument, function, places, and a reading comes."""
    page = page_of(work)
    page.shelf.choose(tool)
    work.frame(2)
    held = next(each for each in work.session.observe().tools.instruments if each.name == tool)
    for function in held.functions:
        work.session.done.clear()
        if function.at:
            page.measuring._turn(function.name)
            work.frame(2)
            choose_places(work, page)
            assert page.measuring.measure_button.enabled
            button = page.measuring.measure_button
        else:
            button = next(b for b in page.measuring.direct.walk() if b.acts and b.help == function.help)
        work.app.root.set_focus(button)
        work.hand.key(pygame.K_RETURN)
        if work.hand.all("dialog"):
            answer = next(b for b in work.app.root.layer.top.answers)
            answer.on_press()
        work.frame(2)
        kind, given = work.session.done[-1]
        assert kind in button.acts
        if kind == "measure":
            assert (given["instrument"], given["function"]) == (tool, function.name)
            assert bool(given["at"]) is bool(function.at)
            assert bool(given["against"]) is bool(function.against)
        assert work.hand.find("reading", tool)["value"] not in ("", "– – –")


def test_a_tool_is_taken_set_placed_and_read_by_keys_alone(work) -> None:
    """Tab goes to the shelf, arrows choose; Tab goes on to the fields and the buttons."""
    page = page_of(work)

    def tab_to(role: str, label: str) -> None:
        for _ in range(90):
            work.hand.key(pygame.K_TAB)
            if work.hand.focus == (role, label):
                return
        raise AssertionError(f"no {role} {label} on the way of Tab")

    tab_to("radio row", "group")
    work.hand.key(pygame.K_RIGHT)
    work.frame(2)
    tab_to("tool shelf", "in hand")
    while page.bench.tool != "tape":
        work.hand.key(pygame.K_RIGHT)
        work.frame(2)
    tab_to("dropdown", "On: leaf")
    work.hand.key(pygame.K_RETURN, pygame.K_DOWN, pygame.K_RETURN)
    work.frame(2)
    tab_to("button", "Measure")
    work.hand.key(pygame.K_RETURN)
    work.frame(2)
    assert [(given["instrument"], given["at"]) for given in work.acts("measure")] == [("tape", "inactive")]
    assert work.hand.find("reading", "tape")["value"]


def test_one_left_in_place_is_marked_read_and_taken_off(work) -> None:
    """It remembers least and most; the shelf shows that it is out there."""
    page = page_of(work)
    page.shelf.choose("clamp meter")
    work.frame(2)
    page.bench.choose("core", "at", "supply wire, plus")
    work.frame(2)
    assert not page.measuring.read_button.enabled
    work.hand.click("button", "Leave it in place")
    work.frame(2)
    page.shelf.choose("tape")
    work.frame(2)
    page.groups.choose("electrical")
    work.frame(2)
    assert page.shelf.in_place == {"clamp meter"}
    page.shelf.choose("clamp meter")
    work.frame(2)
    work.hand.click("button", "Read")
    work.frame(2)
    assert page.measuring.readout.extremes == ("1.2", "29.4")
    work.hand.click("button", "Take it off")
    work.frame(2)
    assert page.shelf.in_place == frozenset()
    assert [kind for kind, _given in work.session.done] == ["place instrument", "read instrument", "lift instrument"]


def test_a_reading_stands_only_beside_what_it_is_a_reading_of(work) -> None:
    """Turned to another function the face is empty until that is read; turned back, the old reading is there."""
    page = page_of(work)
    page.shelf.choose("torque wrench")
    work.frame(2)
    put = [each.name for each in page.bench.instrument(work.screen.hands.view).functions if each.at]
    page.measuring._turn(put[0])
    work.frame(2)
    choose_places(work, page)
    work.hand.click("button", "Measure")
    work.frame(2)
    read = work.hand.find("reading", "torque wrench")["value"]
    assert read != "– – –"
    for function, shown in ((put[1], "– – –"), (put[0], read)):
        page.measuring._turn(function)
        work.frame(2)
        assert work.hand.find("reading", "torque wrench")["value"] == shown


def test_a_clamp_goes_round_the_core_that_is_clicked(work) -> None:
    """On the drawing; the field on the page says the same."""
    page = page_of(work)
    page.shelf.choose("clamp meter")
    work.screen.show_wiring(True)
    work.frame(2)
    drawing = work.screen.wiring.drawing
    line = next(line for line in drawing.layout.lines if line.core.name == "supply wire, plus")
    x, y = line.free
    drawing.eye.show((x - 20, y - 20, 40, 40))
    work.frame()
    work.hand.click_at(drawing.eye.to_screen((x, y)))
    work.frame(2)
    assert work.hand.find("dropdown", "On: core")["value"] == "supply wire, plus"
    drawing.bench.put("board supply, plus", "red", work.screen.hands.view)
    assert page.bench.tool == "two-pole tester", "a lead is put with a tool that has leads"


def test_cautions_of_instruments_bite_where_they_should() -> None:
    """Live work and ohms on what may be live; a test voltage with a plug in; nothing where nothing can happen."""
    session = CannedSession()

    def told(instrument: str, function: str, at: str, against: str) -> str:
        given = {"instrument": instrument, "function": function, "at": at, "against": against}
        return caution_for("measure", given, session.observe())

    places = ("battery, plus", "battery, minus")
    cautions = {
        function.caution: (each.name, function.name)
        for each in session.observe().tools.instruments
        for function in each.functions
        if function.at == "terminal"
    }
    for words in (LIVE_WORK, DEAD_ONLY, BOARD_OFF):
        assert told(*cautions[words], *places) == words
    session.mains = session.battery = False
    assert told(*cautions[LIVE_WORK], *places) == told(*cautions[DEAD_ONLY], *places) == ""
    assert told(*cautions[BOARD_OFF], *places) == BOARD_OFF
    session.unplugged = {"outer beam", "active edge", "inactive edge", "stop circuit"}
    assert told(*cautions[BOARD_OFF], *places) == ""


def test_an_instrument_says_what_is_wrong_with_itself(work) -> None:
    """A blown fuse stands on its face."""
    page = page_of(work)
    view = work.session.observe()
    page.bench.take("multimeter")
    page.show(replace(view, tools=replace(view.tools, states=(("multimeter", "its fuse is blown"),))))
    assert page.measuring.readout.state == "its fuse is blown"


def test_a_repair_is_chosen_named_and_done(work) -> None:
    """Do what, to which: the names that are offered are those of this gate."""
    work.session.mains = work.session.battery = False
    work.page("Repair")
    page = work.screen.folder.page
    page.chosen["repair"] = "splice"
    work.frame(2)
    assert work.hand.find("dropdown", "what")["value"] == work.session.observe().offers["splice"][0]
    button = next(w for w in page.walk() if w.acts == ("splice",) and w.role == "button")
    work.app.root.set_focus(button)
    work.hand.key(pygame.K_RETURN)
    if CATALOGUE["splice"].caution:
        work.app.root.layer.top.answers[0].on_press()
    assert work.acts("splice") == [{"what": work.session.observe().offers["splice"][0]}]


def test_cores_are_exchanged_by_their_names(work) -> None:
    """Both fields offer the cores of the drawing."""
    work.page("Repair")
    work.screen.folder.page.chosen["repair"] = "swap cores"
    work.frame(2)
    for field in ("one", "other"):
        assert work.hand.find("dropdown", field)["value"] in work.session.observe().offers["core"]
