"""Graded attempts in a folder, as a desk leaves them, without a gate having moved."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from trainer.grading import GRADE_MODEL, regrade
from trainer.grading.score import Features
from trainer.session.attempt import About, keep_result, write_about

FIRST_DAY = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)

Keep = Callable[..., Path]


def features(passed: int = 4, of: int = 4, *, grave: bool = False, grade: str = "working") -> Features:
    """So many acceptance checks passed of so many."""
    names = ["stop circuit proved", "guards proved", "closing force measured", "handed over"]
    checks: Any = [
        {
            "name": name,
            "part": "verification",
            "state": "passed" if number < passed else "failed",
            "crashed": False,
            "accepted": True,
        }
        for number, name in enumerate(names[:of])
    ]
    breaches: Any = [{"name": "bridge left in", "severity": "grave", "count": 1}] if grave else []
    return Features(
        grade_model=GRADE_MODEL,
        job_grade=grade,
        par_minutes=60.0,
        time_us=1_800_000_000,
        ended="handed over",
        checks=checks,
        breaches=breaches,
        redundant=0,
    )


@pytest.fixture
def keep(tmp_path: Path) -> Keep:
    """Keep a graded attempt of somebody at a job on a day; its folder."""

    def kept(job: str, family: str, day: int, made: Features | None = None, who: str = "") -> Path:
        made = made if made is not None else features()
        number = len(list(tmp_path.glob(f"{job}-*"))) + 1
        folder = tmp_path / f"{job}-{number:04d}"
        folder.mkdir()
        when = (FIRST_DAY + timedelta(days=day)).isoformat()
        score = regrade(made)
        findings = [
            {"name": c["name"], "title": c["name"].capitalize(), "part": c["part"], "outcome": c["state"],
             "points": 0.0, "grave": False}
            for c in made["checks"]
        ]  # fmt: skip
        result = {"result": score.result, "score": score.score, "findings": findings, "features": made}
        keep_result(folder, json.loads(json.dumps(result)), end_line=9)
        write_about(folder, About(job, job.replace("_", " "), family, made["job_grade"], who, when, when))
        return folder

    return kept
