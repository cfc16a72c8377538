"""A site with one leaf: what else is not fitted then follows by itself, and whatever contradicts it is refused.

The one leaf is the active one. It shuts against a closing post, whose face stands `opening_width_m` from its hinge
line, and its closed stop stands there.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Final

from sim.site.access import NotFitted

if TYPE_CHECKING:
    from sim.site.models import Site

NOT_FITTED: Final[NotFitted] = "not fitted"

FOLLOWS: Final = (("drives", "inactive"), ("guards", "inactive_edge"), ("cover_strip",))
"""What belongs to the second leaf or lies between two, by its keys."""


def completed(data: Any) -> Any:
    """What was read, with everything of the second leaf that it doesn't speak of not fitted, if the leaf is not.

    What it does speak of stays as it is: `contradictions` finds it.
    """
    if not isinstance(data, Mapping) or _at(data.get("leaves"), "inactive") != NOT_FITTED:
        return data
    whole = dict(data)
    for first, *last in FOLLOWS:
        if not last:
            whole.setdefault(first, NOT_FITTED)
        elif isinstance(whole.setdefault(first, {}), Mapping):
            whole[first] = {last[0]: NOT_FITTED, **whole[first]}
    return whole


def contradictions(site: Site) -> list[str]:
    """Why this site can't have as many leaves as it says; nothing where all agrees."""
    alone = site.leaves.inactive == NOT_FITTED
    reasons = []
    if alone and site.lock != NOT_FITTED and site.lock.leaf == "inactive":
        reasons.append("lock.leaf: read inactive, but there is no such leaf; allowed: active")
    for keys in FOLLOWS:
        value: Any = site
        for key in keys:
            value = getattr(value, key)
        place = ".".join(keys)
        if alone and value != NOT_FITTED:
            reasons.append(
                f"{place}: it is fitted, but leaves.inactive is not: what belongs to a second leaf can't be there "
                "without it; allowed: not fitted"
            )
        elif not alone and value == NOT_FITTED and place not in MAY_LACK:
            reasons.append(
                f"{place}: read not fitted, but there are two leaves; allowed: a mapping, or leaves.inactive not "
                "fitted as well"
            )
    return reasons


MAY_LACK: Final = ("guards.inactive_edge",)
"""What a second leaf may do without."""


def _at(value: Any, key: str) -> Any:
    """One key further down, of a mapping or of a model."""
    return value.get(key) if isinstance(value, Mapping) else getattr(value, key, None)
