"""Somebody at work in a process of its own that is killed: `python -m tests.journeys.killed FOLDER WHAT`.

`work` begins *First run*, writes on the sheet and in the notebook, holds a jog button and tells the state of every
frame as a line of JSON, the next frame when a line comes back; `settings` chooses a larger text, which is kept, and
then another contrast, and is held in the middle of writing that. Both go on until the process is killed.
"""

from __future__ import annotations

import json
import os
import signal
import sys
from pathlib import Path
from typing import Any

from sim.kernel import compiler
from tests.journeys.commissioning import HAZARDS, at_sheet, jog_held, power_on
from tests.journeys.keyboard import tab_to
from tests.journeys.person import WALL_S, Person

BEHIND_THE_BEAM = ("somebody between the leaves as they close", "somebody inside as the leaves open")
"""Hazards that must be covered before the inner beam may be declared as not fitted."""

NOTE = "the active leaf is jogged"


def state(session: Any) -> dict[str, Any]:
    """What must be there again: clock [µs], angles [°] to the bit, sheet, notes, sources."""
    view = session.observe()
    return {
        "clock": int(session.clock_us),
        "angles": [leaf.angle_deg for leaf in view.leaves],
        "sheet": {row.name: row.value for row in view.settings},
        "notes": [[int(note.at), note.text, note.entry] for note in view.notes],
        "sources": [view.mains_on, view.battery_linked],
    }


def _work(person: Person) -> None:
    person.open_job("First run")
    power_on(person)
    person.tab("Survey")
    for hazard in BEHIND_THE_BEAM:
        person.choose(hazard, HAZARDS[hazard])
    at_sheet(person, "inner beam", "not fitted")
    person.tab("Notebook")
    person.click("new note", "text entry")
    person.type(NOTE)
    person.key("Return")
    person.reads(NOTE)
    jog_held(person, "active", "open")
    while True:
        person.app.frame(WALL_S)
        print(json.dumps(state(person.app.session)), flush=True)
        sys.stdin.readline()


def _settings(person: Person) -> None:
    kept = person.app.appearance.keeper.path
    person.click("Settings…", "button")
    tab_to(person, "slider", "text size")
    person.key("End")
    person.until(lambda: '"text_scale": 2.0' in kept.read_text(encoding="utf-8"), "the text size on disk")

    def held(_file: int) -> None:
        print(json.dumps({"writing": True}), flush=True)
        signal.pause()

    os.fsync = held
    person.click("High", "option", inside="contrast")
    person.until(lambda: False, "the end", frames=100_000)


def main(folder: Path, what: str) -> None:
    """Sit down and work until killed."""
    compiler.load()
    {"work": _work, "settings": _settings}[what](Person.at_a_new_window(folder, os.environ["DISPLAY"]))


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
