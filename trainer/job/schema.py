"""JSON schemas of every kind of file, for editors that complete and check while typing."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from pydantic import BaseModel

from sim.site import site_schema
from trainer.job.competences import Competences
from trainer.job.drill import DrillFile
from trainer.job.models import Job
from trainer.job.solution import SolutionFile


def schemas() -> Mapping[str, dict[str, Any]]:
    """Schemas by kind of file: `site`, `job`, `solution`, `drill`, `competences`. Steps are described in words."""
    return MappingProxyType(
        {
            "site": site_schema(),
            "job": _schema(Job),
            "solution": _schema(SolutionFile),
            "drill": _schema(DrillFile),
            "competences": _schema(Competences),
        }
    )


def _schema(model: type[BaseModel]) -> dict[str, Any]:
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **model.model_json_schema()}
