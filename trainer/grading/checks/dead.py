"""Working dead: both sources off, the tester proved, tested, proved again, before hands go behind the covers."""

from __future__ import annotations

from dataclasses import dataclass

from sim.said import said
from sim.world.history import Event
from trainer.grading.checks.check import Check, failed, not_applicable, not_yet, passed
from trainer.grading.checks.repair import WORK as REPAIRS
from trainer.grading.finding import Verdict
from trainer.grading.story import Deed, Story, number

WORK = ("swap motor leads", "bridge", "remove bridge")
"""Work with bare conductors behind the covers, whatever it is done to. Pulling a plug made to be pulled is not
counted here. Of the repairs those count that had hands on conductors: a fob's cell is none, nor a hinge."""

TESTER = "two-pole tester"

TESTER_ACTS = ("prove tester", "test dead", "prove dead", "measure")

BOARD = ("board supply", "board battery")
"""Where a test tells of both sources at once: the board is fed by either."""

MOTORS = {"active": "active leaf motor", "inactive": "inactive leaf motor"}
"""Whose leads are behind the cover of each leaf."""

SHOWS_LIVE_V = 12.0
"""A two-pole tester shows live from here on [V]. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Work:
    """One piece of work behind the covers, and how it was prepared."""

    deed: Deed
    live: bool
    """A source still fed the cabinet."""
    lacks: str
    """What was missing of the proof that it is dead; '' when nothing was, or when it was live anyway."""
    proof: tuple[Deed, ...]


def works(story: Story) -> list[Work]:
    """All work behind the covers."""
    found = []
    handled = frozenset(story.standing.handled)
    repairs = [deed for deed in story.done(*sorted(REPAIRS)) if deed.entry.line in handled]
    for deed in sorted([*story.done(*WORK), *repairs], key=lambda each: each.number):
        if story.is_live(deed.entry.at):
            found.append(Work(deed, True, "", ()))
        else:
            lacks, proof = _proof(story, deed)
            found.append(Work(deed, False, lacks, proof))
    return found


def _proof(story: Story, work: Deed) -> tuple[str, tuple[Deed, ...]]:
    """What the proof of being dead lacks, and the acts that make it up. Both sources are off by now."""
    since = max(
        (at for track in (story.mains, story.battery) for at, on in track.changes if not on and at <= work.entry.at),
        default=0,
    )
    before = [d for d in story.done(*TESTER_ACTS) if d.number < work.number]
    tests = [d for d in before if _tests(d) and d.entry.at >= since]
    if not tests:
        return said("nothing was tested after the sources were off"), ()
    if not any(_tells(test, work) for test in tests):
        return said("nothing was tested at the board's supply, nor at what was worked on"), tuple(tests)
    shown = {}
    for test in tests:
        reading = _reading(story, test)
        place = (test.of("red") or test.of("at"), test.of("black") or test.of("against"))
        shown[place] = reading is not None and abs(reading) >= SHOWS_LIVE_V
    if any(shown.values()):
        return said("the tester still showed live"), tuple(tests)
    last = tests[-1]
    first = [d for d in before if _proves(story, d) and (d.number < tests[0].number or d is tests[0])]
    again = [d for d in before if _proves(story, d) and (d.number > last.number or d is last)]
    if not first:
        return said("the tester was not proved before the test"), tuple(tests)
    if not again:
        return said("the tester was not proved again after the test"), (first[-1], *tests)
    return "", (first[-1], *tests, again[-1])


def _tests(deed: Deed) -> bool:
    """Whether an act sets the tester's tips on terminals."""
    return deed.kind in ("test dead", "prove dead") or (_with_tester(deed) and deed.of("function") == "test dead")


def _tells(test: Deed, work: Deed) -> bool:
    """Whether a test was made where it tells of what is worked on: at its own terminals, or at the board's supply.
    Behind the isolator the battery isn't seen. Common practice, no source."""
    if test.kind == "prove dead":
        return test.of("where") != "mains side"
    own = (MOTORS.get(work.of("leaf"), ""), work.of("guard"), work.of("what").partition(",")[0])
    places = (test.of("red") or test.of("at"), test.of("black") or test.of("against"))
    return any(place.startswith(name) for place in places for name in (*BOARD, *own) if name)


def _proves(story: Story, deed: Deed) -> bool:
    """Whether an act tries the tester on its known source; of the acts that do more, whether it lit there."""
    if deed.kind == "prove tester":
        return True
    if deed.kind != "prove dead" and not (_with_tester(deed) and deed.of("function") == "prove"):
        return False
    lit = [e for e in _shown(story, deed) if e.data.get("function") == "prove" and number(e.data.get("value"))]
    return len(lit) >= (2 if deed.kind == "prove dead" else 1)


def _with_tester(deed: Deed) -> bool:
    return deed.kind == "measure" and deed.of("instrument") == TESTER


def _reading(story: Story, test: Deed) -> float | None:
    """The most that the tester showed on terminals in this act [V], None if it isn't recorded."""
    shown = [number(e.data.get("value")) for e in _shown(story, test) if e.data.get("function") != "prove"]
    return max((abs(value) for value in shown if value is not None), default=None)


def _shown(story: Story, deed: Deed) -> list[Event]:
    """What the tester showed from the beginning of an act to that of the next."""
    following = [entry.at for entry in story.history.entries[deed.number + 1 : deed.number + 2]]
    until = max(deed.effect_at, *following) if following else story.end
    return [
        e
        for e in story.events("reading")
        if deed.entry.at <= e.at <= until and "tester" in str(e.data.get("instrument", ""))
    ]


def _dead(story: Story) -> Verdict:
    found = works(story)
    if not found:
        if story.standing.swapped_wrong:
            return not_yet("There is work behind the covers still to be done.")
        return not_applicable("No work was done behind the covers.")
    bad = [work for work in found if work.live or work.lacks]
    if bad:
        why = said("a source was still on") if bad[0].live else bad[0].lacks
        cited = [d.cite for work in bad for d in (*work.proof, work.deed)]
        return failed(
            said(
                "Worked behind the covers {bad} of {all} times without proof: {why}.",
                bad=len(bad),
                all=len(found),
                why=why,
            ),
            *cited,
        )
    cited = [d.cite for work in found for d in (*work.proof, work.deed)]
    return passed("Both sources were off and proved dead each time before work behind the covers.", *cited)


CHECKS = (
    Check(
        name="dead proved before work",
        part="verification",
        title="Isolated and proved dead before work",
        why="Isolate first, then prove dead, the battery too: two sources, two isolations. An isolator that is open "
        "proves nothing, and a tester that was not proved proves nothing either.",
        instead="Open and lock the isolator, pull the battery link, prove the tester, test at the "
        "board's supply and behind the isolator, prove the tester again.",
        judge=_dead,
    ),
)
