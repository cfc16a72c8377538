"""From features to a score: a pure function of base types and weights, so that a stored result can be graded again.

A part's points are its share of 100. Checks earn the share of their weight that they passed; the safety part falls
exponentially with the severity of breaches; gates hold the sum down. No breach can add to any part.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import NotRequired, TypedDict

from sim.said import joined, said
from trainer.grading.economy import time_share
from trainer.grading.finding import PARTS, Part
from trainer.grading.weights import Weights

BY_CHECKS: tuple[Part, ...] = ("outcome", "diagnosis", "verification", "record")


class CheckFeature(TypedDict):
    """One judged check."""

    name: str
    part: Part
    state: str
    crashed: bool
    accepted: bool
    """Whether the job's acceptance asked for it."""


class BreachFeature(TypedDict):
    """One broken rule."""

    name: str
    severity: str
    count: int


class Features(TypedDict):
    """All that a score is made of, in base types."""

    grade_model: str
    job_grade: str
    par_minutes: float
    time_us: int
    ended: str
    checks: list[CheckFeature]
    breaches: list[BreachFeature]
    redundant: int
    needless: NotRequired[int]
    """Good parts that were replaced; the first model's jobs had none to replace."""
    hints: NotRequired[int]
    """Hints that were asked for; there were none to be had at first."""


@dataclass(slots=True)
class Score:
    """A score and where it came from."""

    score: float = 0.0
    result: str = ""
    uncapped: float = 0.0
    cap: tuple[float, str] | None = None
    """(the most it can be, why)."""
    parts: dict[Part, tuple[float, float]] = field(default_factory=dict)
    """Part: (got, of)."""
    lost: dict[str, float] = field(default_factory=dict)
    """Check or rule: points lost."""
    safe: float = 1.0
    right: tuple[int, int] = (0, 0)
    shown: float = 1.0
    """Share of the acceptance checks that passed."""
    systematic: float = 1.0
    proved: float = 1.0


def score(features: Features, weights: Weights) -> Score:
    """The score of these features under these weights."""
    made = Score()
    accepted = [c for c in features["checks"] if c["accepted"] and not _is_left_out(c)]
    made.right = (sum(c["state"] in ("passed", "marginal") for c in accepted), len(accepted))
    right = made.shown = made.right[0] / made.right[1] if accepted else 1.0
    shares = {part: share for part in BY_CHECKS if (share := _check_share(features, part, weights)) is not None}
    losses, made.safe = _safety(features["breaches"], weights)
    shares["safety"] = made.safe
    shares["economy"] = _economy(features, weights) * right
    total = sum(weights.parts[part] for part in shares)
    scale = {part: 100.0 * weights.parts[part] / total for part in shares}
    hints = _hints(features, weights, scale.get("diagnosis", 0.0) * shares.get("diagnosis", 0.0))
    if hints > 0.0:
        shares["diagnosis"] -= hints / scale["diagnosis"]
    for part in PARTS:
        if part in shares:
            made.parts[part] = (round(scale[part] * shares[part], 2), round(scale[part], 2))
    made.lost = {name: scale["safety"] * loss for name, loss in losses.items()}
    _check_losses(features, weights, scale, made.lost)
    made.lost["hints asked for"] = hints
    made.lost |= _economy_losses(features, weights, right, scale["economy"])
    made.systematic, made.proved = shares.get("diagnosis", 1.0), shares.get("verification", 1.0)
    made.uncapped = min(100.0, max(0.0, sum(scale[part] * share for part, share in shares.items())))
    made.cap = _cap(features, weights, right, made.safe)
    return settled(made, weights)


def settled(made: Score, weights: Weights) -> Score:
    """A score with its cap put on, and in a word."""
    made.score = round(min(made.uncapped, made.cap[0]) if made.cap else made.uncapped, 1)
    made.result = _result(made, weights)
    return made


def _is_left_out(check: CheckFeature) -> bool:
    """A crash is never charged, and what could not apply is not zero."""
    return check["crashed"] or check["state"] == "not applicable"


def _worth(check: CheckFeature, weights: Weights) -> float:
    return {"passed": 1.0, "marginal": weights.marginal}.get(check["state"], 0.0)


def _check_share(features: Features, part: Part, weights: Weights) -> float | None:
    """Share of a part's check weights that was earned; None when the part has nothing to judge."""
    judged = [c for c in features["checks"] if c["part"] == part and not _is_left_out(c)]
    whole = sum(weights.checks.get(c["name"], 1.0) for c in judged)
    if whole <= 0.0:
        return None
    return sum(weights.checks.get(c["name"], 1.0) * _worth(c, weights) for c in judged) / whole


def _check_losses(features: Features, weights: Weights, scale: Mapping[Part, float], lost: dict[str, float]) -> None:
    for part in BY_CHECKS:
        judged = [c for c in features["checks"] if c["part"] == part and not _is_left_out(c)]
        whole = sum(weights.checks.get(c["name"], 1.0) for c in judged)
        for check in judged:
            share = weights.checks.get(check["name"], 1.0) / whole
            lost[check["name"]] = scale[part] * share * (1.0 - _worth(check, weights))


def _safety(breaches: Sequence[BreachFeature], weights: Weights) -> tuple[dict[str, float], float]:
    """(share lost to each rule, share left): exp(−Σ severity / softness), the worst breach charged first."""
    left = 1.0
    lost: dict[str, float] = {}
    for breach in sorted(breaches, key=lambda b: (-weights.severity[b["severity"]], b["name"])):
        severity = weights.severity[breach["severity"]] * min(breach["count"], weights.most_repeats)
        after = left * math.exp(-severity / weights.softness)
        lost[breach["name"]] = lost.get(breach["name"], 0.0) + left - after
        left = after
    return lost, left


def _time(features: Features) -> float:
    return time_share(features["time_us"], features["par_minutes"])


def _economy(features: Features, weights: Weights) -> float:
    idle = max(0.0, 1.0 - features["redundant"] / weights.most_redundant)
    parts = math.exp(-weights.needless * features.get("needless", 0))
    return parts * (weights.time_share * _time(features) + (1.0 - weights.time_share) * idle)


def _economy_losses(features: Features, weights: Weights, right: float, whole: float) -> dict[str, float]:
    """Points lost to time, to idle acts and to good parts replaced; together all that the part lost."""
    got = _economy(features, weights) * right
    time = weights.time_share * (1.0 - _time(features) * right)
    parts = right * (_economy({**features, "needless": 0}, weights) - _economy(features, weights))
    return {
        "time": whole * time,
        "good parts replaced": whole * parts,
        "acts that told nothing": whole * (1.0 - got - time - parts),
    }


def _hints(features: Features, weights: Weights, most: float) -> float:
    """Points that the hints cost, and no more than is there."""
    asked = range(features.get("hints", 0))
    return min(most, sum(weights.hints[min(number, len(weights.hints) - 1)] for number in asked))


def _cap(features: Features, weights: Weights, right: float, safe: float) -> tuple[float, str] | None:
    """The lowest of what holds the sum down, None where nothing does."""
    grave = sorted({b["name"] for b in features["breaches"] if b["severity"] == "grave"})
    if grave:
        return weights.grave_cap, said("a grave act: {acts}", acts=joined(grave, ", "))
    if safe < weights.unsafe_share:
        return weights.unsafe_cap, said("several unsafe acts together")
    asked = any(c["accepted"] and c["name"] in ("handed over", "made safe") for c in features["checks"])
    if asked and not features["ended"]:
        return weights.unfinished_cap, said("the job was not brought to an end")
    if _is_missed(features, "cause found"):
        return weights.wrong_cause_cap, said("the cause was not named")
    if right < 0.5:
        return weights.unfinished_cap, said("less than half of what was asked for was shown")
    if any(_is_missed(features, name) for name in ("looked before concluding", "evidence before the repair")):
        return weights.guessed_cap, said("a guess: nothing before it showed the cause")
    if right < 1.0:
        return weights.unaccepted_cap, said("not everything that was asked for was shown")
    return None


def _is_missed(features: Features, name: str) -> bool:
    """Whether a check was judged and didn't pass."""
    judged = [check for check in features["checks"] if check["name"] == name and not _is_left_out(check)]
    return any(check["state"] not in ("passed", "marginal") for check in judged)


def _result(made: Score, weights: Weights) -> str:
    if made.cap is not None and made.cap[0] == weights.grave_cap:
        return said("not yet competent")
    floors = (
        made.safe >= weights.safe_share,
        made.systematic >= weights.systematic_share,
        made.proved >= weights.proved_share,
        made.right[0] == made.right[1],
    )
    if made.score >= weights.competent and all(floors):
        return said("competent")
    return said("developing" if made.score >= weights.developing else "repeat")
