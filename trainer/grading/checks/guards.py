"""Guards: declared as they are, and each one proved by tripping it and by pulling its plug."""

from __future__ import annotations

from sim.said import listed, said
from trainer.grading.checks.check import Check, failed, not_yet, passed, stale
from trainer.grading.finding import Evidence, Verdict
from trainer.grading.story import GUARDS, Deed, Story, cite


def _declared_truly(story: Story) -> Verdict:
    standing = story.standing
    missing, denied = [], []
    for guard in GUARDS:
        fitted = standing.fitted.get(guard, False)
        if fitted and not story.declared(guard):
            denied.append(guard)
        elif story.declared(guard) and not fitted:
            missing.append(guard)
    cited = [deed.cite for guard in GUARDS for deed in story.done("set", setting=guard)]
    if denied:
        return failed(said("Declared not fitted although it stands there: {guards}.", guards=listed(denied)), *cited)
    if missing:
        return not_yet(said("Declared as fitted although it is not there: {guards}.", guards=listed(missing)), *cited)
    bridged = [guard for guard in GUARDS if guard in standing.bridged]
    if bridged:
        return failed(said("Declared, but bridged: {guards}.", guards=listed(bridged)), *cited)
    return passed("The sheet says of every guard what is true.", *cited)


def guard_changes(story: Story, guard: str) -> list[Deed]:
    """Acts that take away what was proved about a guard. A plug pulled and pushed back is part of proving."""
    return sorted(
        (*story.done("bridge", "remove bridge", guard=guard), *story.setting_changes(guard)),
        key=lambda deed: deed.number,
    )


def trips(story: Story, guard: str) -> list[Evidence]:
    """Each time the guard was tripped while the controller could see it."""
    return [
        cite(e)
        for e in story.events("guard", guard=guard, tripped=True)
        if story.board.at(e.at) and not story.bridge_on(guard).at(e.at) and not story.unplugged(guard).at(e.at)
    ]


def pulls(story: Story, guard: str) -> list[Evidence]:
    """Each time its plug was off the board while the board had power."""
    found = []
    for deed in story.done("unplug", guard=guard):
        spans = [s for s in story.unplugged(guard).spans(True, story.end) if s[0] == deed.effect_at]
        for begin, end in spans:
            powered = any(s < end and e > begin for s, e in story.board.spans(True, story.end))
            if powered and not story.bridge_on(guard).at(begin):
                found.append(deed.cite)
    return found


def _lacking(story: Story, guard: str) -> tuple[str, list[Evidence], bool]:
    """(what is missing of a guard's proof, what shows the rest, whether it was there once)."""
    changes = guard_changes(story, guard)
    since = changes[-1].effect_at if changes else -1
    tripped, pulled = trips(story, guard), pulls(story, guard)
    fresh_trip = [e for e in tripped if e.at >= since]
    fresh_pull = [e for e in pulled if e.at >= since]
    shown = fresh_trip[:1] + fresh_pull[:1]
    if fresh_trip and fresh_pull:
        return "", shown, True
    if tripped and pulled:
        return said("{guard} (changed since)", guard=guard), [*tripped[-1:], *pulled[-1:], changes[-1].cite], True
    if fresh_trip:
        return said("{guard} (never unplugged under power)", guard=guard), shown, False
    if fresh_pull:
        return said("{guard} (never tripped)", guard=guard), shown, False
    return said("{guard} (never tripped and never unplugged under power)", guard=guard), shown, False


def _proved(story: Story) -> Verdict:
    standing = story.standing
    guards = [guard for guard in GUARDS if standing.fitted.get(guard, False) and story.declared(guard)]
    if not guards:
        return not_yet("No guard that stands there is declared.")
    bridged = [guard for guard in guards if guard in standing.bridged]
    if bridged:
        return failed(said("Bridged now: {guards}. A bridged guard can't be proved.", guards=listed(bridged)))
    looks = [_lacking(story, guard) for guard in guards]
    evidence = [e for _, shown, _ in looks for e in shown]
    old = [what for what, _, once in looks if what and once]
    missing = [what for what, _, once in looks if what and not once]
    if missing:
        return not_yet(said("Not yet proved: {guards}.", guards=listed(missing + old)), *evidence)
    if old:
        return stale(said("Proved, then changed: {guards}. Prove it again.", guards=listed(old)), *evidence)
    off = [guard for guard in guards if guard in standing.unplugged]
    if off:
        return not_yet(said("Plug not pushed back: {guards}.", guards=listed(off)), *evidence)
    return passed(
        said("{guards} declared guards were each tripped and unplugged, with power on.", guards=len(guards)),
        *evidence,
    )


CHECKS = (
    Check(
        name="guards declared truly",
        part="outcome",
        title="Guards declared as they are",
        why="A guard that is there but declared away protects nobody, and the sheet says so to nobody. "
        "A passing photo beam is not a safe gate either: contact must be safe wherever it is possible.",
        instead="Declare what stands there. Where one is absent, the survey must first say what covers that hazard.",
        judge=_declared_truly,
    ),
    Check(
        name="guards proved",
        part="verification",
        title="Each guard proved",
        why="A guard nobody tripped is a hope. Pulling the plug shows that a broken wire keeps the gate still.",
        instead="Trip each declared guard, pull its plug with the board powered, read the panel, push it back. "
        "After any change at a guard, do it again.",
        judge=_proved,
    ),
)
