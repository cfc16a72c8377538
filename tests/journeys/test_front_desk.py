"""The front desk in the real window: a free yard by keys alone; settings that hold at once and at the next start."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.journeys.keyboard import tab_to
from trainer.window.kit.looks import LOOKS
from trainer.window.kit.style import PAPER
from trainer.window.preferences import Keeper

pytestmark = [pytest.mark.display, pytest.mark.slow]


def test_a_free_yard_by_keys_alone_and_again_where_it_was_left(person: Any) -> None:
    """Find a fault by a word, put it on, open the yard, open the gate; leave, and go on with the gate as it stood."""
    tab_to(person, "radio row", "shown")
    person.key("Right")
    person.until(lambda: any(text.endswith(" faults") for text in person.texts()), "all faults tried", 3000)
    tab_to(person, "text entry", "find a fault")
    person.type("lamp dead")
    person.reads("1 of ")
    tab_to(person, "table", "faults")
    person.key("Return")
    tab_to(person, "radio row", "how grave: warning lamp dead")
    person.key("Right")
    tab_to(person, "button", "Open the yard")
    person.key("Return")
    person.until(lambda: person.app.session is not None, "the yard", 3000)
    assert person.view().graded is False
    assert person.view().brief_points == ("Found with: warning lamp dead, mild.",)
    person.reads("nothing is graded")
    person.picture("free-yard")
    person.hold("Open", 0.5)
    person.until(lambda: person.view().leaves[0].angle_deg > 10, "the gate opens", 4000)
    stood = person.view().leaves[0].angle_deg
    person.choose("More", "Leave; resume later")
    tab_to(person, "radio row", "shown")
    person.key("Right")
    person.reads("You left a free yard at")
    tab_to(person, "button", "Go on where it was left")
    person.key("Return")
    person.until(lambda: person.app.session is not None, "the yard again", 3000)
    assert person.view().leaves[0].angle_deg >= stood - 0.5


def test_settings_hold_at_once_and_at_the_next_start(person: Any, tmp_path: Path) -> None:
    """High contrast by the mouse, large text by keys, who is there by keys; all of it is kept."""
    path = tmp_path / "window.json"
    person.app.appearance.keeper = Keeper(path)
    before = person.colour((4, 400))
    assert before == PAPER
    person.click("Settings…", "button")
    person.click("High", "option", inside="contrast")
    tab_to(person, "slider", "text size")
    person.key("End")
    person.frames(3)
    person.key("Escape")
    person.frames(3)
    assert person.colour((4, 400)) == LOOKS["high", "ordinary"].colours[PAPER]
    assert person.app.root.style.scale == 2.0
    tab_to(person, "radio row", "who you are")
    person.key("Right")
    person.reads("Start the drill")
    person.until(lambda: Keeper(path).now.who == "instructor", "the settings on disk")
    again = Keeper(path).now
    assert (again.contrast, again.text_scale) == ("high", 2.0)
    person.picture("high-contrast")
