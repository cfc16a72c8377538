"""Milestones on the way: what a guide's steps wait for. They say where somebody stands and weigh nothing."""

from __future__ import annotations

from sim.said import listed, said
from trainer.grading.checks.check import Check, Judge, not_yet, passed
from trainer.grading.checks.dead import works
from trainer.grading.checks.directions import shown_moves
from trainer.grading.finding import Verdict
from trainer.grading.story import GUARDS, Story, cite, number, same

OF_TWO = ("opens first", "leaf delay, opening", "leaf delay, closing")
"""Settings that say nothing of a gate with one leaf."""

HALF_OPEN_DEG = (15.0, 75.0)
"""A leaf between these can turn either way without finding a stop at once [°]. Common practice, no source."""


def _isolated(story: Story) -> Verdict:
    """Both sources were off at some instant; that they come back on later takes nothing away."""
    instants = [0, *(at for track in (story.mains, story.battery) for at, _ in track.changes)]
    if all(story.is_live(at) for at in instants):
        return not_yet("A source was on all the time.")
    return passed("Both sources were off.", *[d.cite for d in story.done("isolate", "remove battery link")])


def _restored(story: Story) -> Verdict:
    if not story.standing.mains_on:
        return not_yet("The isolator is open.")
    return passed("The supply is on.", *[d.cite for d in story.done("restore")])


def _cordoned(story: Story) -> Verdict:
    put_up = story.done("cordon")
    if not put_up and not story.standing.cordoned:
        return not_yet("No barriers stand round the arc.")
    return passed("Barriers were put up.", *[d.cite for d in put_up])


def _half_open(story: Story) -> Verdict:
    """Half open and engaged, at some time before the supply came back: whatever moved afterwards."""
    lacks, cited = [], []
    for leaf in story.leaves:
        engaged = story.done("engage drive", leaf=leaf)
        angle = _angle_at(story, leaf, engaged[-1].entry.at) if engaged else None
        if not engaged or angle is None or not HALF_OPEN_DEG[0] <= angle <= HALF_OPEN_DEG[1]:
            lacks.append(leaf)
        else:
            cited.append(engaged[-1].cite)
    if lacks:
        return not_yet(said("Not engaged half open: {leaves} leaf.", leaves=listed(lacks)))
    return passed(story.of_leaves("Both half open.", "Half open."), *cited)


def _angle_at(story: Story, leaf: str, at: int) -> float | None:
    """Where a leaf was last seen before an instant [°]."""
    seen = [
        e
        for e in (*story.events("resting", leaf=leaf), *story.events("reading", leaf=leaf, instrument="spring scale"))
        if e.at <= at
    ]
    last = max(seen, key=lambda e: e.at, default=None)
    return number(last.data.get("angle_deg")) if last is not None else None


def _engaged(story: Story) -> Verdict:
    if story.standing.released or not story.done("engage drive"):
        return not_yet("No drive was engaged, or one is still released.")
    engaged = story.of_leaves("Both drives are engaged.", "The drive is engaged.")
    return passed(engaged, *[d.cite for d in story.done("engage drive")])


def _released(story: Story) -> Verdict:
    lacks = [leaf for leaf in story.leaves if not story.done("release drive", leaf=leaf)]
    if lacks:
        return not_yet(said("Never released: {leaves} leaf.", leaves=listed(lacks)))
    return passed(story.of_leaves("Both drives were released.", "The drive was released."))


def _stated(*settings: str) -> Judge:
    """Whether each of these settings was written, or no longer reads `not stated`."""

    def judge(story: Story) -> Verdict:
        open_ = []
        for name in settings:
            if name in OF_TWO and len(story.leaves) == 1:
                continue
            value = story.standing.sheet.get(name, "not stated")
            if same(value, "not stated") or not story.done("set", setting=name):
                open_.append(name)
        if open_:
            return not_yet(said("Not written: {settings}.", settings=listed(open_)))
        return passed("Written.", *[d.cite for n in settings for d in story.done("set", setting=n)[-1:]])

    return judge


def _looked_both_ways(story: Story) -> Verdict:
    lacks = [leaf for leaf in story.leaves if not shown_moves(story, leaf)]
    if lacks:
        return not_yet(said("Not seen to move under jog: {leaves} leaf.", leaves=listed(lacks)))
    jogged = story.of_leaves("Both leaves were jogged.", "The leaf was jogged.")
    return passed(jogged, *[cite(shown_moves(story, leaf)[0].event) for leaf in story.leaves])


def _swapped(story: Story) -> Verdict:
    swaps = [work for work in works(story) if work.deed.kind == "swap motor leads"]
    if not swaps or story.standing.swapped_wrong:
        return not_yet("A leaf's motor leads are still to be swapped.")
    return passed("Motor leads were swapped.", *[w.deed.cite for w in swaps])


def _absent_declared(story: Story) -> Verdict:
    still = [g for g in GUARDS if story.declared(g) and not story.standing.fitted.get(g, False)]
    if still:
        return not_yet(said("Declared as fitted but absent: {guards}.", guards=listed(still)))
    return passed("Declared as it is.")


def _auto_close_on(story: Story) -> Verdict:
    on = same(story.standing.sheet.get("auto-close", "off"), "on")
    return passed("Auto-close is on.") if on else not_yet("Auto-close is off.")


def _enrolled(story: Story) -> Verdict:
    known = story.standing.transmitters
    if not known:
        return not_yet("No transmitter is enrolled.")
    return passed(said("Enrolled: {holders}.", holders=listed(holder for holder, _ in known)))


def _sealed(story: Story) -> Verdict:
    if not story.standing.sealed:
        return not_yet("The sheet is open.")
    return passed("The sheet is sealed.", *[d.cite for d in story.done("seal sheet")])


def _concluded(story: Story) -> Verdict:
    """Something was; whether it is so is told when the job is over."""
    if not story.standing.conclusions:
        return not_yet("Nothing was concluded.")
    return passed("The notebook names what is held to be the cause.", *[d.cite for d in story.done("conclude")])


def _milestone(name: str, title: str, judge: Judge) -> Check:
    return Check(name=name, part="record", title=title, why="", instead="", judge=judge)


CHECKS = (
    _milestone("cordon up", "Barriers round the arc", _cordoned),
    _milestone("sources off", "Both sources off", _isolated),
    _milestone("drives released", "Drives released", _released),
    _milestone("leaves half open", "Leaves half open, engaged", _half_open),
    _milestone("drives engaged", "Drives engaged", _engaged),
    _milestone("supply restored", "Supply restored", _restored),
    _milestone("absent guard declared", "Absent guards declared", _absent_declared),
    _milestone(
        "gate described", "Leaves, drive and order stated", _stated("leaves fitted", "drive kind", "opens first")
    ),
    _milestone("both leaves jogged", "Both leaves jogged", _looked_both_ways),
    _milestone("leads swapped", "Motor leads swapped", _swapped),
    _milestone("delays set", "Leaf delays set", _stated("leaf delay, opening", "leaf delay, closing")),
    _milestone("slow zone set", "Slow zone set", _stated("slow zone before stop")),
    _milestone("auto-close on", "Auto-close on", _auto_close_on),
    _milestone("transmitter enrolled", "Transmitter enrolled", _enrolled),
    _milestone("sheet sealed", "Sheet sealed", _sealed),
    _milestone("cause concluded", "A cause concluded", _concluded),
)
