"""What an instructor overrules or adds: the mark that follows, beside the computed one and never in its place.

A check that is overruled is taken as the instructor saw it, an unsafe act as done or not done, and the score follows
by the same weights and gates. Points that the instructor names stand instead of those that the model gives.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from sim.errors import DataError, nearest_right
from sim.said import joined, said
from trainer.grading.competences import check_titles
from trainer.grading.finding import PARTS, Outcome, Part
from trainer.grading.grade import OUTCOMES, weights_of
from trainer.grading.safety.catalogue import RULES
from trainer.grading.score import BreachFeature, CheckFeature, Features, Score, score, settled
from trainer.session.lookback import OverruledView, RulingView

BY_POINTS: Final = ("time", "acts that told nothing", "good parts replaced")
"""Findings of the economy part: measured, so an instructor can only say what they should cost."""

STATES: Final[dict[Outcome, str]] = {
    "passed": "passed", "marginal": "marginal", "failed": "failed", "skipped": "not applicable",
}  # fmt: skip
"""What a check's state becomes."""

MOST_POINTS: Final = 100.0
LONGEST_NAME, LONGEST_REASON = 80, 400
MOST_RULINGS: Final = 200


@dataclass(frozen=True, slots=True)
class Ruling:
    """One thing that an instructor overruled or added."""

    finding: str
    """Name of a check, of a safety rule, of a finding of the economy part, or of what is added."""
    outcome: Outcome
    by: str
    reason: str
    when: str
    """ISO 8601 with zone."""
    points: float | None = None
    """Points it costs, of 100; None: what the model gives."""
    part: Part | None = None
    """Of a finding that is added: the part of the grade it belongs to; None for what is judged anyway."""
    grave: bool = False
    """Of a finding that is added: whether it is a grave unsafe act."""


def ruled_features(features: Features, rulings: Iterable[Ruling]) -> Features:
    """The features as the instructor saw them; of several rulings on one finding the last counts."""
    latest = _latest(rulings)
    checks = [_ruled_check(check, latest) for check in features["checks"]]
    breaches = [each for each in features["breaches"] if each["name"] not in latest]
    for ruling in latest.values():
        before = next((each for each in features["breaches"] if each["name"] == ruling.finding), None)
        if ruling.outcome != "failed":
            continue
        if before is not None:
            breaches.append(before)
        elif ruling.finding in RULES:
            breaches.append(BreachFeature(name=ruling.finding, severity=RULES[ruling.finding].severity, count=1))
        elif ruling.grave:
            breaches.append(BreachFeature(name=ruling.finding, severity="grave", count=1))
    return {**features, "checks": checks, "breaches": breaches}


def overruled(features: Features, rulings: Sequence[Ruling]) -> Score:
    """The score that follows from an instructor's rulings, by today's weights.

    What the instructor gave points to is taken out of the sum and costs those points; gates and floors see it all the
    same, since a grave act stays grave whatever it is said to cost.
    """
    weights = weights_of(features["job_grade"])
    ruled = ruled_features(features, rulings)
    points = {name: _points(ruling) for name, ruling in _latest(rulings).items()}
    priced = {name for name, cost in points.items() if cost is not None}
    unpriced = [breach for breach in ruled["breaches"] if breach["name"] not in priced]
    made, sum_of = score(ruled, weights), score({**ruled, "breaches": unpriced}, weights)
    change = sum(sum_of.lost.get(name, 0.0) - (points[name] or 0.0) for name in priced)
    made.uncapped = min(100.0, max(0.0, sum_of.uncapped + change))
    return settled(made, weights)


def _points(ruling: Ruling) -> float | None:
    """What a ruling says that a finding costs; None where the model says it."""
    if ruling.points is None and ruling.finding in BY_POINTS and ruling.outcome == "passed":
        return 0.0
    return ruling.points


def checked_ruling(features: Features, earlier: Sequence[Ruling], ruling: Ruling) -> Ruling:
    """The ruling, if it can be made on these features after those before it.

    Raises DataError saying what is allowed.
    """
    for what, text, most in (("by", ruling.by, LONGEST_NAME), ("reason", ruling.reason, LONGEST_REASON)):
        if not 0 < len(text.strip()) <= most:
            raise DataError(said("{what}: allowed: a text of 1 to {most} characters", what=what, most=most))
    if ruling.points is not None and not 0.0 <= ruling.points <= MOST_POINTS:
        raise DataError(
            said("points: read {points:g}; allowed: 0 to {most:g}", points=ruling.points, most=MOST_POINTS)
        )
    if len(earlier) >= MOST_RULINGS:
        raise DataError(said("this attempt was overruled {most} times; that is enough", most=MOST_RULINGS))
    added = {each.finding for each in earlier if each.part is not None}
    known = {check["name"] for check in features["checks"]} | set(RULES) | set(BY_POINTS)
    if ruling.part is None:
        _check_known(ruling, known, added)
    else:
        _check_added(ruling, known)
    return ruling


def _check_known(ruling: Ruling, known: Collection[str], added: Collection[str]) -> None:
    name = ruling.finding
    if name in added:
        raise DataError(said("'{name}' was added by an instructor; name its part again to change it", name=name))
    if name not in known:
        hint = nearest_right(name, known, otherwise=said("; to add a finding of your own, say its part"), alike=0.6)
        raise DataError(said("there is no finding '{name}' in this attempt{hint}", name=name, hint=hint))
    if ruling.grave:
        raise DataError(said("only a finding that is added is made grave; '{name}' is judged anyway", name=name))
    if name in RULES and ruling.outcome == "marginal":
        raise DataError(
            said("'{name}' is an unsafe act; allowed: failed (it was done), passed (it was not)", name=name)
        )
    if name in BY_POINTS and ruling.points is None and ruling.outcome != "passed":
        raise DataError(said("'{name}' is measured; say how many points it costs, or that it passed", name=name))


def _check_added(ruling: Ruling, known: Collection[str]) -> None:
    name = ruling.finding
    if ruling.part not in PARTS:
        raise DataError(said("part: read '{part}'; allowed: {parts}", part=ruling.part, parts=joined(PARTS, ", ")))
    if not 0 < len(name.strip()) <= LONGEST_NAME:
        raise DataError(said("finding: allowed: a text of 1 to {most} characters", most=LONGEST_NAME))
    if name in known:
        raise DataError(said("'{name}' is judged anyway; leave its part out to overrule it", name=name))
    if ruling.outcome in ("failed", "marginal") and ruling.points is None and not ruling.grave:
        raise DataError(said("'{name}' is added; say how many points it costs, or that it is grave", name=name))
    if ruling.grave and ruling.outcome != "failed":
        raise DataError(said("'{name}' is grave; allowed: failed", name=name))


def overruled_view(features: Features, rulings: Sequence[Ruling]) -> OverruledView | None:
    """The overruled mark and every ruling, as a debrief shows them; None where nothing was overruled."""
    if not rulings:
        return None
    made = overruled(features, rulings)
    before = {check["name"]: OUTCOMES.get(check["state"], "failed") for check in features["checks"]}
    broken = {breach["name"] for breach in features["breaches"]}
    titles = check_titles() | {rule.name: rule.title for rule in RULES.values()}
    told = []
    for ruling in rulings:
        name = ruling.finding
        was = before.get(name) or ("failed" if name in broken else "passed" if name in RULES else "")
        told.append(
            RulingView(
                titles.get(name, name), was, ruling.outcome, ruling.points, ruling.by, ruling.reason, ruling.when,
                ruling.grave,
            )
        )  # fmt: skip
    return OverruledView(made.score, made.result, tuple(told))


def _latest(rulings: Iterable[Ruling]) -> dict[str, Ruling]:
    return {ruling.finding: ruling for ruling in rulings}


def _ruled_check(check: CheckFeature, latest: dict[str, Ruling]) -> CheckFeature:
    ruling = latest.get(check["name"])
    if ruling is None:
        return check
    return {**check, "state": STATES[ruling.outcome], "crashed": False}
