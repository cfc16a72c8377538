"""Faults of what holds and drives a leaf: rod, bracket, stop, lock, key of the release, cover strip."""

from __future__ import annotations

from typing import Final

from sim.faults.edit import Fact
from sim.faults.entries.moves import FORCE_UP, MARGIN_UP, OPENED, RELEASED, measured, roped_work
from sim.faults.entries.steps import DEAD
from sim.faults.entry import Band, Fault, Reference, WrongRepair, step

SOURCE: Final = "common practice, no source"

BENT_ROD: Final = Fault(
    name="bent ram rod",
    family="mechanics",
    customer="It jams half way.",
    seen="The rod is bowed, and the motor works hard half way.",
    fact="bow of the active leaf's rod",
    edits=(Fact("drives.active.rod_bow", 0.004, 0.009),),
    reference=Reference(
        (*DEAD, measured("straight edge", "bow of the rod")),
        Band(most=1.0, unit="mm/m"),
        Band(least=3.0, unit="mm/m"),
    ),
    repair=roped_work(step("replace", what="rod of the active leaf")),
    wrong=(WrongRepair((FORCE_UP, MARGIN_UP), "it passes the tight place, and nothing stops it elsewhere"),),
    verification="full travel without a tight place, and an even current",
    trap="what is jammed lets go when it is released: stay clear of the arc",
    source=SOURCE,
)

CRACKED: Final = Fault(
    name="cracked bracket weld",
    family="mechanics",
    customer="It creaks.",
    seen="A dark line along the weld of the bracket.",
    fact="play of the bracket on the active leaf",
    edits=(Fact("drives.active.bracket_play_m", 0.0025, 0.006),),
    reference=Reference(
        (*DEAD, measured("dial gauge", "play of the bracket")),
        Band(most=0.2, unit="mm"),
        Band(least=2.0, unit="mm"),
    ),
    repair=roped_work(step("replace", what="bracket of the active leaf")),
    wrong=(WrongRepair((MARGIN_UP,), "the knock of the loose bracket is no longer taken for an obstacle"),),
    verification="no play under twice the load",
    trap="it fails all at once and drops the ram: rope the leaf",
    source=SOURCE,
)

NO_STOP: Final = Fault(
    name="end stop missing",
    family="mechanics",
    customer="The gate runs into the wall.",
    seen="A released leaf goes on past open; there is no stop.",
    fact="the open stop of the active leaf is not there",
    edits=(Fact("leaves.active.open_stop_fitted", False),),
    reference=Reference(
        (
            *OPENED,
            *DEAD,
            *RELEASED,
            step("push leaf", leaf="active", to_deg=115.0),
            measured("tape", "opening angle"),
        ),
        Band(85.0, 92.0, unit="°"),
        Band(least=100.0, unit="°"),
    ),
    repair=(*DEAD, step("adjust", what="open stop of the active leaf")),
    wrong=(
        WrongRepair(
            (step("set", setting="motor effort, opening", value="20"),), "weak as it is, it still goes to the wall"
        ),
    ),
    verification="the stop is met slowly and without a bounce, and the travel is learned again",
    trap="between the open leaf and the wall people are crushed",
    source=SOURCE,
)

SEAL: Final = Fault(
    name="lock bound by its seal",
    family="mechanics",
    customer="It clicks and stays shut; with a push it opens.",
    seen="The bolt chatters in its keep while the leaf presses on it.",
    fact="what seal and leaf press on the bolt with",
    edits=(Fact("lock.pressed_n", 210.0, 300.0),),
    reference=Reference(
        (*DEAD, measured("spring scale", "push that frees the bolt")),
        Band(most=40.0, unit="N"),
        Band(least=150.0, unit="N"),
    ),
    repair=(*DEAD, step("adjust", what="seal of the lock")),
    wrong=(WrongRepair((FORCE_UP,), "more effort presses harder on the bolt that should lift"),),
    verification="ten openings in wind, with a relief push of 0.2 to 0.5 s",
    trap="a relief push drives the leaf shut first: hands away from the edge",
    source=SOURCE,
    shows=(step("set", setting="relief push", value="0"), *OPENED),
)

NO_KEY: Final = Fault(
    name="release key missing",
    family="commissioning",
    customer="In the power cut nobody could open it.",
    seen="The hook for the release key is empty.",
    fact="the key of the active leaf's manual release is not there",
    edits=(Fact("drives.active.release_key", "missing"),),
    reference=Reference(
        (measured("look", "manual release"),),
        Band(words=("hangs in its place",)),
        Band(words=("is empty",)),
    ),
    repair=(step("replace", what="release key of the active leaf"),),
    wrong=(WrongRepair((*DEAD,), "with the power off the gate is as locked as before"),),
    verification="the user releases and engages both leaves",
    trap="whoever is caught by the gate stays caught",
    source=SOURCE,
    shows=(*DEAD, *RELEASED),
)

WRONG_FACE: Final = Fault(
    name="opens first false to the strip",
    family="commissioning",
    customer="The leaves knock on each other at the first opening.",
    seen="The strip lies on the other face than the sheet's order needs.",
    fact="the face on which the cover strip lies",
    edits=(Fact("cover_strip.face", "outside"),),
    reference=Reference(
        (measured("look", "cover strip", at=""),),
        Band(words=("on the inside",)),
        Band(words=("on the outside",)),
    ),
    repair=(*DEAD, step("adjust", what="cover strip")),
    wrong=(WrongRepair((FORCE_UP,), "the leaf behind the strip is pushed harder against it"),),
    verification="five cycles in which the strip seats",
    trap="fingers at the strip",
    source=SOURCE,
)

DRIVE_MECHANICS: Final = (BENT_ROD, CRACKED, NO_STOP, SEAL, NO_KEY, WRONG_FACE)
