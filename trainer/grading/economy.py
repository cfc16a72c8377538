"""Economy: simulated time against what the job should take, and acts that told or changed nothing."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from sim.said import joined, listed, said
from sim.units import MINUTE
from trainer.grading.finding import Evidence, Finding
from trainer.grading.story import Deed, Story, same

RELEARN_CAUSES = ("set", "reset sheet", "swap motor leads", "release drive")

END = said("end{of_the_job}", of_the_job="")
"""What happened when the job was over, as evidence tells it."""


def redundant(story: Story) -> list[Deed]:
    """Acts that could change and tell nothing, given what was done before."""
    found = [*_same_settings(story), *_idle_learning(story), *_same_probes(story)]
    return sorted(found, key=lambda deed: deed.number)


def _same_settings(story: Story) -> list[Deed]:
    held: dict[str, str] = {}
    found = []
    for deed in story.done("set", "reset sheet"):
        if deed.kind == "reset sheet":
            held.clear()
            continue
        name, value = deed.of("setting"), deed.of("value")
        if name in held and same(held[name], value):
            found.append(deed)
        held[name] = value
    return found


def _idle_learning(story: Story) -> list[Deed]:
    """Learning again although it was learned and nothing that matters was touched since."""
    found = []
    runs = story.done("learn travel")
    for before, again in pairwise(runs):
        kept = any(before.entry.at <= e.at <= again.entry.at for e in story.events("learned"))
        touched = any(before.number < d.number < again.number for d in story.done(*RELEARN_CAUSES))
        if kept and not touched:
            found.append(again)
    return found


LOOKING = (
    *("read meter", "lift probes", "read instrument", "lift instrument", "repeat this reading"),
    *("wait", "note", "change note", "strike note"),
)
"""Acts that leave the gate as it is: probes put where they just were tell nothing new after them."""


def _same_probes(story: Story) -> list[Deed]:
    """Probes put where they just were, with nothing done in between."""
    found = []
    last: Deed | None = None
    for deed in story.deeds:
        if deed.kind in ("place probes", "place instrument"):
            if last is not None and last.entry.action.arguments == deed.entry.action.arguments:
                found.append(deed)
            last = deed
        elif deed.kind not in LOOKING:
            last = None
    return found


def time_share(time_us: int, par_minutes: float) -> float:
    """1 within the time the job should take, falling to 0 at twice that time. Practice 1.3."""
    if par_minutes <= 0:
        return 1.0
    par = par_minutes * MINUTE
    return min(1.0, max(0.0, 1.0 - (time_us - par) / par))


def _parts(wasted: Sequence[Deed]) -> list[Finding]:
    """Good parts that were replaced; nothing is said where there were none."""
    if not wasted:
        return []
    parts = listed(sorted({deed.of("what") for deed in wasted}))
    return [
        Finding(
            part="economy",
            outcome="failed",
            name="good parts replaced",
            title=said("Good parts replaced"),
            what=said("New without need: {parts}.", parts=parts),
            why=said("Changing parts until it runs is paid by the customer and teaches nobody what was wrong."),
            instead=said("Prove a part bad by one measurement before a new one goes in."),
            points=0.0,
            evidence=tuple(deed.cite for deed in wasted),
        )
    ]


def findings(
    story: Story, par_minutes: float, right: float, idle: Sequence[Deed], wasted: Sequence[Deed]
) -> tuple[Finding, ...]:
    """How long it took, and what was done for nothing; `right` is the share of the job that was shown, `idle` are the
    redundant acts and `wasted` the good parts that were replaced.

    Being quick earns only in proportion to what was shown. Points are added by the score.
    """
    minutes = story.end / MINUTE
    within = par_minutes <= 0 or minutes <= par_minutes
    took = said("{minutes:.0f} minutes; the job is expected to take {par:.0f}.", minutes=minutes, par=par_minutes)
    counts = said("It counts for the {share:.0%} of the job that was shown.", share=right)
    time = Finding(
        part="economy",
        outcome="skipped" if right <= 0.0 else "passed" if within else "failed",
        name="time",
        title=said("Time"),
        what=took if right >= 1.0 else joined([took, counts]),
        why=said("Time is the customer's money, never a reason to skip a proof."),
        instead=said("Plan the order of acts so that each isolation and each walk serves several of them."),
        points=0.0,
        evidence=(Evidence(story.history.entries[-1].line if story.history.entries else 0, story.end, END),),
    )
    kinds = listed(sorted({deed.kind for deed in idle}))
    acts = Finding(
        part="economy",
        outcome="failed" if idle else "passed",
        name="acts that told nothing",
        title=said("Acts that told nothing"),
        what=said("{acts} acts changed and told nothing: {kinds}.", acts=len(idle), kinds=kinds)
        if idle
        else said("No act was done for nothing."),
        why=said("What is repeated without a reason was not thought about the first time."),
        instead=said("Before each act say what you expect to learn from it."),
        points=0.0,
        evidence=tuple(deed.cite for deed in idle),
    )
    return time, acts, *_parts(wasted)
