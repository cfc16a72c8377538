"""The diagnosis part of a commissioning job: was there evidence before the act, or was it a guess that came right?

Each check stands beside an acceptance check and is judged where the job asks for that one, so that which checks
count follows from the job and never from what somebody did.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from sim.said import listed, said
from trainer.grading.checks.check import Check, failed, not_applicable, not_yet, passed
from trainer.grading.checks.dead import works
from trainer.grading.checks.directions import shown_moves
from trainer.grading.checks.evidence import EVIDENCE
from trainer.grading.checks.repair import WORK
from trainer.grading.checks.search import SEARCH
from trainer.grading.finding import Verdict
from trainer.grading.story import BY_ITSELF, DRIVEN, GUARDS, Story, cite, same


def _turn_seen(story: Story) -> Verdict:
    swaps = [work for work in works(story) if work.deed.kind == "swap motor leads"]
    guessed, seen, live = [], [], False
    for work in swaps:
        leaf = work.deed.of("leaf")
        earlier = [w.deed.effect_at for w in swaps if w.deed.of("leaf") == leaf and w.deed.number < work.deed.number]
        since = earlier[-1] if earlier else 0
        looks = [m for m in shown_moves(story, leaf) if since <= m.start and m.end <= work.deed.entry.at]
        if not looks or looks[-1].turned == looks[-1].direction:
            guessed.append(work.deed.cite)
        elif work.live:
            live = True
        else:
            seen += [cite(looks[-1].event), work.deed.cite]
    if guessed:
        return failed("Motor leads were swapped without having seen that leaf turn the wrong way: a guess.", *guessed)
    if seen:
        return passed("The wrong turn was seen under jog before the leads were swapped.", *seen)
    if live:
        return not_yet("The wrong turn was seen, but work done live earns nothing here.")
    if story.standing.swapped_wrong or not all(shown_moves(story, leaf) for leaf in story.leaves):
        return not_yet("Not every leaf was jogged and put right.")
    jogged = story.of_leaves(
        "Both leaves were jogged; no lead was touched without cause.",
        "The leaf was jogged; no lead was touched without cause.",
    )
    return passed(jogged)


def _absence_known(story: Story) -> Verdict:
    denied, unasked, known = [], [], []
    for guard in GUARDS:
        for deed in story.done("set", setting=guard):
            if not same(deed.of("value"), "not fitted"):
                continue
            if story.standing.fitted.get(guard, False):
                denied.append(deed)
            elif not any(d.number < deed.number for d in story.done("survey hazard")):
                unasked.append(deed)
            else:
                known.append(deed)
    if denied:
        return failed("A guard that stands there was declared away.", *[d.cite for d in denied])
    if unasked:
        return failed("A guard was declared away before the survey was begun.", *[d.cite for d in unasked])
    still = [g for g in GUARDS if story.declared(g) and not story.standing.fitted.get(g, False)]
    if still:
        return not_yet(said("Still declared although absent: {guards}.", guards=listed(still)))
    if not known and all(story.standing.fitted.get(guard, False) for guard in GUARDS):
        return not_applicable("Every guard stands here; none was declared away.")
    if not known and not story.done("survey hazard"):
        return not_yet("The survey was not begun.")
    return passed(
        "The survey said what covers the hazard before a guard was declared away.", *[d.cite for d in known]
    )


def _order_read(story: Story) -> Verdict:
    if len(story.leaves) == 1:
        return not_applicable("The gate has one leaf.")
    writes = [d for d in story.done("set", setting="opens first") if not same(d.of("value"), "not stated")]
    if not writes:
        return not_yet("The order was never written.")
    first = writes[0]
    if not same(first.of("value"), story.standing.opens_first_truth):
        return failed("The first order written was false to the strip; trial found it out.", first.cite)
    moved = [m for m in story.moves if m.by in BY_ITSELF and m.start < first.effect_at]
    if moved:
        return failed("The gate ran by itself before the order was stated.", cite(moved[0].event), first.cite)
    return passed("The order was read from the strip before anything ran by itself.", first.cite)


def _looked_first(story: Story) -> Verdict:
    acts = sorted([*story.done("conclude"), *story.done(*sorted(WORK))], key=lambda deed: deed.number)
    if not acts:
        return not_yet("Nothing was concluded and nothing was mended.")
    first = acts[0]
    measured = [event for event in story.events("reading") if event.at <= first.entry.at]
    tried = [move.event for move in story.moves if move.by in DRIVEN and move.start < first.entry.at]
    tripped = [event for event in story.events("guard") if event.at < first.entry.at]
    looks = [*measured, *tripped, *tried]
    if not looks:
        return failed("A cause was named, or something mended, before anything was measured or tried.", first.cite)
    return passed("Something was measured or tried before a cause was named.", cite(looks[-1]), first.cite)


REASONING: Final[Mapping[str, tuple[Check, ...]]] = MappingProxyType(
    {
        "leaf directions proved": (
            Check(
                name="wrong turn seen before swapping",
                part="diagnosis",
                title="Evidence before the leads were swapped",
                why="A guess comes right one time in two, and the other time it makes a good leaf bad.",
                instead="Jog the leaf from half open and watch which way it goes; only then open the cabinet.",
                judge=_turn_seen,
            ),
        ),
        "guards declared truly": (
            Check(
                name="absence known before declared",
                part="diagnosis",
                title="Evidence before a guard was declared away",
                why="A line that reads open is a broken wire as often as an absent device.",
                instead="Go and look whether it stands there; let the survey say what covers the hazard; then "
                "declare.",
                judge=_absence_known,
            ),
        ),
        "cause found": (
            Check(
                name="looked before concluding",
                part="diagnosis",
                title="Looked before concluding",
                why="A guess that comes right teaches nothing, and the next one costs a good part.",
                instead="Run the gate, read the panel, measure what separates two causes; then conclude, then mend.",
                judge=_looked_first,
            ),
            EVIDENCE,
            SEARCH,
        ),
        "leaf order true": (
            Check(
                name="order read from the strip",
                part="diagnosis",
                title="Order read, not tried",
                why="Trying the order out costs strips and fingers; looking at the strip costs nothing.",
                instead="Look which leaf can move while the other is shut, and state it before anything runs.",
                judge=_order_read,
            ),
        ),
    }
)
"""Acceptance check: what should have been known before it came right."""
