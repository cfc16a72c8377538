"""A graded result as it was kept beside its journal, read back, and graded again by today's weights."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sim.errors import DataError
from sim.said import said
from trainer.grading import regrade
from trainer.grading.finding import PARTS
from trainer.grading.score import Features, Score
from trainer.grading.weights import GRADED_ANEW
from trainer.records.features import checked_features
from trainer.session.attempt import RESULT, taken


@dataclass(frozen=True, slots=True)
class Mark:
    """What an attempt came to."""

    score: float
    """Of 100."""
    result: str
    """`competent`, `developing`, `repeat` or `not yet competent`."""
    grave: bool
    """Whether a grave unsafe act holds it down."""

    @classmethod
    def of(cls, made: Score, features: Features) -> Mark:
        """Of a score and the features that it was made of."""
        return cls(made.score, made.result, any(b["severity"] == "grave" for b in features["breaches"]))


@dataclass(frozen=True, slots=True)
class KeptFinding:
    """One line of a debrief, as far as a mark can be made of it."""

    name: str
    title: str
    part: str
    outcome: str
    """`passed`, `failed`, `marginal` or `skipped`."""
    points: float
    """Points lost, of 100."""
    grave: bool


@dataclass(frozen=True, slots=True)
class Kept:
    """A kept result."""

    stored: Mark
    """As it was given then."""
    today: Mark | None
    """By today's weights; None where it was made by another model of grading."""
    features: Features
    findings: tuple[KeptFinding, ...]

    @property
    def computed(self) -> Mark:
        """By today's weights where that can be done, else as it was given."""
        return self.today or self.stored


def read_kept(folder: Path) -> Kept:
    """The result kept beside a journal. Raises DataError naming file and key if it can't be used."""
    path = folder / RESULT
    data = taken(path)
    features = checked_features(data.get("features"), f"{path} features")
    grave = any(breach["severity"] == "grave" for breach in features["breaches"])
    stored = Mark(_number(data, "score", path), _text(data, "result", path), grave)
    today = Mark.of(regrade(features), features) if features["grade_model"] in GRADED_ANEW else None
    findings = data.get("findings")
    if not isinstance(findings, list) or not all(isinstance(each, dict) for each in findings):
        raise DataError(said("{path} findings: allowed: a list of findings", path=path))
    return Kept(stored, today, features, tuple(_finding(each, path) for each in findings))


def _finding(data: dict[str, Any], path: Path) -> KeptFinding:
    part = _text(data, "part", path)
    if part not in PARTS:
        raise DataError(
            said("{path} findings: read the part '{part}'; allowed: {parts}", path=path, part=part,
                 parts=", ".join(PARTS))
        )  # fmt: skip
    return KeptFinding(
        name=_text(data, "name", path),
        title=_text(data, "title", path),
        part=part,
        outcome=_text(data, "outcome", path),
        points=_number(data, "points", path),
        grave=data.get("grave") is True,
    )


def _text(data: dict[str, Any], key: str, path: Path) -> str:
    if not isinstance(data.get(key), str):
        raise DataError(said("{path} {key}: allowed: a text", path=path, key=key))
    return str(data[key])


def _number(data: dict[str, Any], key: str, path: Path) -> float:
    read = data.get(key)
    if isinstance(read, bool) or not isinstance(read, (int, float)) or not -1e6 < read < 1e6:
        raise DataError(said("{path} {key}: allowed: a number", path=path, key=key))
    return float(read)
