"""The pages of the folder: what they show of a view, and that what is done there reaches the session."""

from __future__ import annotations

import pygame
import pytest

from sim.units import Us
from sim.world.actions import CATALOGUE
from trainer.session.view import SettingView
from trainer.window.folder.folder import PAGES
from trainer.window.folder.setting_row import SettingRow

PRESENT = {
    "Brief": [
        "The carters start on Monday",
        "The power is off at the isolator",
        "What will it do?",
        "Walk the survey",
    ],
    "Survey": ["Instructed with public", "Anyone can walk into the arc", "Meeting edge of the leaves"],
    "Cabinet": ["Mains isolator", "closed", "Battery link", "Inactive leaf", "Inner beam", "no device"],
    "Sheet": ["opens first", "leaf delay, opening", "motor effort, closing", "Learned", "None enrolled", "Power on."],
    "Instruments": ["Multimeter", "Two-pole tester", "Electrical", "– – –"],
    "Repair": ["Do what", "Tighten", "Prop leaf"],
    "Notebook": ["Nothing written yet"],
    "Acceptance": ["stop circuit: passed", "closing force: not yet", "Three readings at a point", "Monthly checks"],
    "Why still": ["The inner beam to read clear", "Standing still", "open (24.1 V) · keeps the gate still"],
}


@pytest.mark.parametrize("page", PAGES)
def test_each_page_shows_what_the_view_holds(work, page) -> None:
    """Content of the canned view is found in the tree of the page."""
    work.session.learned = page == "Sheet"
    work.page(page)
    texts = work.hand.texts().lower()
    missing = [text for text in PRESENT[page] if text.lower() not in texts]
    assert missing == []


def test_every_action_of_the_catalogue_has_a_place(work) -> None:
    """Whatever can be done to a gate can be done from the window without knowing the catalogue's names."""
    seen: set[str] = set()

    def look() -> None:
        work.frame()
        for told in work.hand.all():
            seen.update(told.get("acts", ()))

    for mains in (True, False):
        work.session.mains = work.session.battery = mains
        work.session.cordon = not mains
        work.session.enrolled = [("A. Carter", "open")]
        work.session.unplugged = set() if mains else {"outer beam"}
        work.session.bridged = set() if mains else {"inner beam"}
        work.session.gauge = None if mains else ("active", 500.0, 500.0)
        work.session.notebook.add(Us(0), "a dark lamp", "seen")
        work.session.asks_cause = True
        work.session.notebook.conclude(Us(0), "worn brushes", 80)
        for page in PAGES:
            work.page(page)
            look()
        work.page("Instruments")
        for tool in [each.name for each in work.session.observe().tools.instruments]:
            work.screen.folder.page.shelf.choose(tool)
            look()
    work.session.mains = work.session.sealed = True
    work.page("Sheet")
    look()
    # Time passes by itself and by `wait until`; `wait` alone is for scripts.
    assert set(CATALOGUE) - seen == {"wait"}


def test_every_action_can_be_found_by_name(work) -> None:
    """Ctrl K lists the whole catalogue."""
    work.hand.key(pygame.K_k, mod=pygame.KMOD_CTRL)
    assert work.hand.find("table", "actions")["value"] == len(CATALOGUE)
    work.hand.type("barriers")
    assert work.hand.find("table", "actions")["value"] == 2


def test_an_action_is_done_from_the_list_of_all(work) -> None:
    """Type, choose, fill in, do: by keys alone."""
    work.hand.key(pygame.K_k, mod=pygame.KMOD_CTRL)
    work.hand.type("write in the notebook")
    work.hand.key(pygame.K_TAB, pygame.K_TAB)
    assert work.hand.focus == ("text entry", "text")
    work.hand.type("seen: lamp works")
    work.hand.key(pygame.K_RETURN)
    assert work.acts("note") == [{"text": "seen: lamp works", "entry": "seen"}]


def test_a_setting_is_written_by_enter_and_shown_as_it_stands(work) -> None:
    """What is typed is pending until Enter; then the session has it."""
    work.page("Sheet")
    work.hand.click("number entry", "leaf delay, opening")
    work.hand.key(pygame.K_UP)
    work.frame()
    assert work.acts("set") == []
    assert "↵ write" in work.hand.texts()
    work.hand.key(pygame.K_RETURN)
    work.frame()
    assert work.acts("set") == [{"setting": "leaf delay, opening", "value": "2.5"}]
    assert work.hand.find("number entry", "leaf delay, opening")["value"] == "2.5"
    assert "↵ write" not in work.hand.texts()


def test_a_refused_setting_says_why_and_shows_what_stands(work) -> None:
    """‘not fitted’ before the survey is refused in words; the field goes back."""
    work.page("Sheet")
    work.hand.click("dropdown", "inner beam")
    work.hand.key(pygame.K_END, pygame.K_RETURN)
    work.frame()
    assert work.acts("set") == []
    assert any("survey must first say" in said for said in work.said())
    assert work.hand.find("dropdown", "inner beam")["value"] == "hold"


def test_a_locked_sheet_says_why_and_takes_nothing(work) -> None:
    """Sealed or dark: fields are disabled, the reason stands above them."""
    work.session.sealed = True
    work.page("Sheet")
    assert not work.hand.find("dropdown", "opens first")["enabled"]
    assert "The sheet is sealed" in work.hand.texts()
    work.session.sealed = work.session.mains = work.session.battery = False
    work.frame()
    assert "The panel is dark" in work.hand.texts()


def test_what_looks_wrong_on_the_sheet_stands_above_it_until_it_is_put_right(work) -> None:
    """Allowed and written, with its settings and the reason in words; gone when one of them is changed."""
    work.page("Sheet")
    write = work.screen.folder.page._write
    write("guard test", "off")
    work.frame()
    assert "never asks whether its beams" not in work.hand.texts()
    write("auto-close", "on")
    work.frame()
    assert "Guard test, auto-close: the gate closes by itself and never asks whether its beams" in work.hand.texts()
    write("guard test", "on")
    work.frame()
    assert "never asks whether its beams" not in work.hand.texts()


def test_a_setting_tells_what_it_is_judged_with(work) -> None:
    """In the words that come up over its name, after its help and its range."""
    row = SettingView("run speed", "motion", "100", "%", "speed.", (), 40.0, 100.0, 5.0, depends_on=("slow speed",))
    shown = SettingRow(row, lambda name, value: None)
    assert shown.name.help == "Speed. 40 to 100 %. Judged together with slow speed."


def test_more_effort_is_warned_about_and_less_is_not(work) -> None:
    """Facts 10.9: raising effort is the classic error; the question comes the moment before."""
    work.page("Sheet")
    work.screen.folder.page._write("motor effort, closing", "60")
    assert "More effort never cures" in work.hand.texts()
    work.hand.key(pygame.K_ESCAPE)
    assert work.acts("set") == []
    work.screen.folder.page._write("motor effort, closing", "30")
    assert work.acts("set") == [{"setting": "motor effort, closing", "value": "30"}]


def test_a_prediction_is_said_once(work) -> None:
    """Nothing is said before an answer is chosen; afterwards the answer stands there."""
    work.page("Brief")
    assert not work.hand.find("button", "Say so")["enabled"]
    work.screen.folder.page.reveal(pygame.Rect(work.hand.find("option", "go on closing")["rect"]))
    work.frame()
    work.hand.click("option", "open fully")
    work.app.root.set_focus(next(w for w in work.screen.folder.walk() if w.label == "Say so"))
    work.hand.key(pygame.K_RETURN)
    work.frame()
    assert [given["answer"] for given in work.acts("predict")] == ["open fully"]
    assert "You said: open fully" in work.hand.texts()


def test_the_survey_is_written_by_choosing(work) -> None:
    """Each line takes one answer from its own list."""
    work.page("Survey")
    work.hand.click("dropdown", "gap at the hinge")
    work.hand.key(pygame.K_RETURN)
    assert work.acts("survey hazard") == [{"hazard": "gap at the hinge", "protection": "finger guard on the post"}]
    work.frame()
    assert work.hand.find("dropdown", "gap at the hinge")["value"] == "finger guard on the post"


def test_leads_put_on_the_drawing_stand_in_the_fields(work) -> None:
    """One bench: the places chosen on the drawing are those of the pages Cabinet and Instruments."""
    work.page("Cabinet")
    work.screen.wiring.drawing.bench.put("isolator outlet, live", "red")
    work.frame()
    assert work.hand.find("dropdown", "red lead")["value"] == "isolator outlet, live"
    work.page("Instruments")
    assert work.hand.find("dropdown", "red lead")["value"] == "isolator outlet, live"


def test_ohms_on_what_may_be_live_is_asked_about(work) -> None:
    """Facts 10.13: the caution names the mistake; volts on the same place have a caution of their own."""
    work.page("Instruments")
    page = work.screen.folder.page
    page.shelf.choose("multimeter")
    work.frame()
    page.bench.put("isolator inlet, live")
    page.bench.put("isolator inlet, neutral")
    for function, words in (("ohms", "Ohms belong on dead circuits only"), ("volts ac", "This place may be live")):
        page.measuring._turn(function)
        work.frame()
        work.hand.click("button", "Place the probes")
        assert words in work.hand.texts()
        work.hand.key(pygame.K_ESCAPE)
    assert work.acts("place probes") == []
    work.session.mains = work.session.battery = False
    page.bench.put("battery, plus")
    page.bench.put("battery, minus")
    work.frame()
    work.hand.click("button", "Place the probes")
    assert work.acts("place probes")[0]["red"] == "battery, plus"
    work.frame()
    assert work.hand.find("reading", "multimeter")["value"] == "– – –", "in place, and not read yet"
    work.hand.click("button", "Read")
    work.frame()
    assert work.hand.find("reading", "multimeter")["value"] == "0.02 V"


def test_three_readings_make_a_point(work) -> None:
    """The mean is told, and that one reading is not a verdict goes away with the third."""
    work.page("Acceptance")
    for count, warned in ((1, True), (2, True), (3, False)):
        work.session.do("read force gauge")
        work.frame()
        texts = work.hand.texts()
        assert f"Readings that count: {count}." in texts
        assert ("one is not a verdict" in texts) is warned
    assert "Mean of the peaks: 285 N" in work.hand.texts()


def test_handing_over_says_what_was_shown(work) -> None:
    """Only what was ticked goes into the record."""
    work.page("Acceptance")
    hand_over = next(w for w in work.screen.folder.walk() if w.label == "Release")
    work.app.root.set_focus(hand_over)
    work.hand.key(pygame.K_SPACE, pygame.K_TAB, pygame.K_TAB, pygame.K_SPACE)
    button = next(w for w in work.screen.folder.walk() if (w.role, w.label) == ("button", "Hand over"))
    work.app.root.set_focus(button)
    work.hand.key(pygame.K_RETURN)
    assert work.acts("hand over") == [{"shown": "release, lamp"}]


def test_notes_are_written_and_the_field_is_empty_again(work) -> None:
    """Enter writes; the newest note stands on top."""
    work.page("Notebook")
    for text in ("first", "second"):
        work.hand.click("text entry", "new note")
        work.hand.type(text)
        work.hand.key(pygame.K_RETURN)
    work.frame()
    assert [given["text"] for given in work.acts("note")] == ["first", "second"]
    assert [told["value"].split()[-1] for told in work.hand.all("item")] == ["second", "first"]
    assert work.hand.find("text entry", "new note")["value"] == ""


def test_badges_call_for_what_is_open(work) -> None:
    """An input that blocks, an open question and a half-answered survey show on their tabs."""
    work.session.do("survey hazard", {"hazard": "gap at the hinge", "protection": "nothing"})
    work.frame()
    assert work.screen.folder.tabs.badges == {
        "Why still": ("1", True),
        "Survey": ("4", True),
        "Brief": ("?", False),
    }


def test_a_transmitter_is_deleted_by_its_holder(work) -> None:
    """One row for each holder."""
    work.session.do("enrol transmitter", {"holder": "A. Carter", "function": "open"})
    work.page("Sheet")
    button = next(w for w in work.screen.folder.walk() if w.label == "Delete")
    work.app.root.set_focus(button)
    work.hand.key(pygame.K_RETURN)
    work.frame()
    assert work.acts("delete transmitter") == [{"holder": "A. Carter"}]
    assert "None enrolled." in work.hand.texts()
