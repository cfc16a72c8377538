"""Features of a kept result, checked before they are graded again: what stands in a file may have been edited."""

from __future__ import annotations

from collections.abc import Mapping
from types import NoneType, UnionType
from typing import Any, Literal, NotRequired, Union, cast, get_args, get_origin, get_type_hints, is_typeddict

from sim.errors import DataError
from sim.said import said
from trainer.grading.score import Features
from trainer.grading.weights import WEIGHTS

SEVERITIES = frozenset(WEIGHTS["learner"].severity)
"""How bad an unsafe act can be."""


MOST = 10**15
"""Below this are all numbers of a result."""


def checked_features(data: object, where: str) -> Features:
    """The features in data of a file. Raises DataError naming file and key if they aren't what a score is made of."""
    _fit(data, Features, where)
    features = cast("Features", data)
    if features["job_grade"] not in WEIGHTS:
        raise _wrong(f"{where} job_grade", features["job_grade"], ", ".join(WEIGHTS))
    for number, breach in enumerate(features["breaches"]):
        if breach["severity"] not in SEVERITIES:
            raise _wrong(f"{where} breaches.{number}.severity", breach["severity"], ", ".join(sorted(SEVERITIES)))
    return features


def _fit(data: object, kind: Any, where: str) -> None:
    """Raise DataError where data is not of a kind: base types, literals, lists and typed mappings."""
    origin = get_origin(kind)
    if origin is NotRequired:
        _fit(data, get_args(kind)[0], where)
    elif origin in (Union, UnionType):
        if not any(_fits(data, each) for each in get_args(kind)):
            raise _wrong(where, data, _name(kind))
    elif origin is Literal:
        if data not in get_args(kind):
            raise _wrong(where, data, ", ".join(map(str, get_args(kind))))
    elif is_typeddict(kind):
        _fit_mapping(data, kind, where)
    elif origin is list:
        if not isinstance(data, list):
            raise _wrong(where, data, "a list")
        for number, each in enumerate(data):
            _fit(each, get_args(kind)[0], f"{where}.{number}")
    elif not _plain(data, kind):
        raise _wrong(where, data, _name(kind))


def _fit_mapping(data: object, kind: Any, where: str) -> None:
    if not isinstance(data, Mapping):
        raise _wrong(where, data, "keys with values")
    hints = get_type_hints(kind, include_extras=True)
    missing = sorted(name for name, each in hints.items() if get_origin(each) is not NotRequired and name not in data)
    if missing:
        raise DataError(said("{where}: {keys} is missing", where=where, keys=", ".join(missing)))
    for name, each in data.items():
        if name in hints:
            _fit(each, hints[name], f"{where}.{name}")


def _fits(data: object, kind: Any) -> bool:
    try:
        _fit(data, kind, "")
    except DataError:
        return False
    return True


def _plain(data: object, kind: Any) -> bool:
    """Whether data is of a base type. Numbers are counts and times here, so none is negative or endless; a whole
    number is a number, a truth value is none."""
    if isinstance(data, bool):
        return kind is bool
    if kind in (int, float):
        return isinstance(data, (int, kind)) and 0 <= data < MOST
    return isinstance(data, kind if isinstance(kind, type) else object)


def _name(kind: Any) -> str:
    words = {str: "a text", int: "a whole number", float: "a number", bool: "true or false", NoneType: "nothing"}
    parts = get_args(kind) if get_origin(kind) in (Union, UnionType) else (kind,)
    return " or ".join(words.get(part, "something else") for part in parts)


def _wrong(where: str, read: object, allowed: str) -> DataError:
    return DataError(
        said("{where}: read {read}; allowed: {allowed}", where=where, read=repr(read)[:60], allowed=allowed)
    )
