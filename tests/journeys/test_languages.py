"""The window in each language there is: chosen in the settings, then a job from its beginning to the debrief."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from tests.journeys.sight import leaves_are_drawn_where_they_are
from trainer.language import _
from trainer.window.languages import ENGLISH, languages, take
from trainer.window.screens.frontdesk import CAUTION
from trainer.window.words import first_upper

pytestmark = [pytest.mark.display, pytest.mark.slow]

NOTES = {"en": "the mains is there", "es": "la red llega bien", "it": "la rete arriva bene"}
"""What is written. No accents: the tool that types makes keys for them and takes them away before they are read."""


@pytest.fixture(autouse=True)
def _english_again() -> Iterator[None]:
    """What comes after speaks English."""
    yield
    take(ENGLISH)


@pytest.mark.parametrize("code", languages())
def test_a_job_in_each_language(call_out: str, person: Any, code: str) -> None:
    """The same way through the window, by the words that stand there in that language."""
    _choose(person, code)
    person.reads(CAUTION)
    person.picture("front-desk")
    person.open_job(call_out)
    person.until(lambda: person.view().board_on, "a gate with power")
    leaves_are_drawn_where_they_are(person)
    _measure(person)

    note = NOTES.get(code, NOTES[ENGLISH])
    person.tab("Notebook")
    person.click("new note", "text entry")
    person.type(note)
    person.key("Return")
    person.until(lambda: [n.text for n in person.view().notes] == [note], "the note")
    person.reads(note)
    person.picture("notebook")

    person.choose("More", "Finish as it stands…")
    person.click("Finish", "button")
    person.reads(_("Debrief: {job}").format(job=_(call_out)))
    person.reads("By part")
    person.reads(first_upper(_(person.view().debrief.result)))
    person.picture("debrief")
    person.click("To the front desk", "button")
    person.find(call_out, "job")


def _choose(person: Any, code: str) -> None:
    """Take a language by its own name; the open settings speak it at once."""
    person.click("Settings…", "button")
    settings = "Settings"
    person.click("language", "dropdown")
    person.click(languages()[code], "option")
    person.until(lambda: person.app.appearance.now.language == code, languages()[code])
    assert code == ENGLISH or _(settings) != settings
    person.find("Settings", "dialog")
    person.click("Done", "button")


def _measure(person: Any) -> None:
    """The mains at the isolator, with the multimeter put there by mouse."""
    person.tab("Instruments")
    person.click(first_upper(_("multimeter")), "option")
    person.choose("function", "volts ac")
    person.tab("Cabinet")
    for terminal, button in (("isolator inlet, live", 1), ("isolator inlet, neutral", 3)):
        person.put_lead(terminal, button)
    person.picture("cabinet")
    person.tab("Instruments")
    person.use("measure")
    person.until(lambda: person.view().tools.readings, "a reading")
    person.frames(2)
    value, unit = person.find("multimeter", "reading")["value"].split()
    assert unit == "V"
    assert 225 <= float(value) <= 235, "the mains, as the house has it"
