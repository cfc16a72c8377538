"""Sites in and out: load a file, change a resolved site by dotted keys, dump it, give it a digest and a schema."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from sim.site.complaints import listing, nearest, refuse, shown
from sim.site.document import Data, Document
from sim.site.models import Site
from sim.site.reader import read_yaml
from sim.site.validation import validate


def load_site(path: str | Path) -> Site:
    """The site in a file. Raises ScenarioError with every problem when it can't be used."""
    return validate(read_yaml(path), Site)


def dump_site(site: Site) -> dict[str, Any]:
    """The resolved site in base types, every default written out; `restore_site` gives the same site back."""
    return site.model_dump(mode="json")


def restore_site(data: Mapping[str, Any], source: str = "a stored site") -> Site:
    """The site that was dumped. Raises ScenarioError; `source` stands in its sentences."""
    return validate(Document(source, dict(data)), Site)


def site_digest(site: Site) -> str:
    """SHA-256 of the resolved site, hexadecimal: equal digests mean equal sites."""
    text = json.dumps(dump_site(site), sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return hashlib.sha256(text.encode("ascii")).hexdigest()


def with_changes(site: Site, changes: Mapping[str, Any], source: str = "changes") -> Site:
    """A copy with values replaced by dotted key (`guards.inner_beam`, `hazards.0.covers`), checked as a whole again.

    Raises ScenarioError when a key names nothing, or when the changed site can't be used.
    """
    data: dict[str, Data] = dump_site(site)
    problems = []
    for dotted, value in changes.items():
        problem = _replace(data, dotted, json.loads(json.dumps(value)))
        if problem:
            problems.append(f"{source} {dotted}: {problem}")
    if problems:
        raise refuse(problems)
    return restore_site(data, source)


def _replace(data: dict[str, Data], dotted: str, value: Data) -> str:
    """Put a value in place; what is wrong with the key, or ''."""
    parts = dotted.split(".")
    holder: Data = data
    for index, part in enumerate(parts):
        above = ".".join(parts[:index]) or "the site"
        last = index == len(parts) - 1
        if isinstance(holder, dict):
            if part not in holder:
                return f"{above} has no '{part}'; allowed: {listing(holder)}{nearest(part, holder)}"
            if last:
                holder[part] = value
                return ""
            holder = holder[part]
        elif isinstance(holder, list):
            if not part.isdigit() or int(part) >= len(holder):
                return f"{above} is a list of {len(holder)}; allowed: a position from 0 to {len(holder) - 1}"
            if last:
                holder[int(part)] = value
                return ""
            holder = holder[int(part)]
        else:
            return f"{above} is {shown(holder)} and has no '{part}'"
    return "no key was given"


def site_schema() -> dict[str, Any]:
    """The JSON schema of a site file, for editors that complete and check while typing."""
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **Site.model_json_schema()}
