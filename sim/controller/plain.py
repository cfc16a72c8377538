"""Turns a tree of dataclasses into base types and back, exactly, by the types that the fields declare."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache
from typing import Any, TypeVar, get_args, get_origin, get_type_hints

Kept = TypeVar("Kept")


def to_plain(value: Any) -> Any:
    """`value` as dicts, lists and base types; enumeration members by their value."""
    if isinstance(value, Enum):
        return value.value
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: to_plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Mapping):
        return {key: to_plain(entry) for key, entry in value.items()}
    if isinstance(value, (list, tuple)):
        return [to_plain(entry) for entry in value]
    return value


def from_plain(kind: type[Kept], data: Any) -> Kept:
    """The `kind` of dataclass that `to_plain` made `data` from."""
    built: Kept = _built(kind, data)
    return built


@cache
def _types(kind: type) -> dict[str, Any]:
    return get_type_hints(kind)


def _built(kind: Any, data: Any) -> Any:
    if isinstance(kind, type) and is_dataclass(kind):
        types = _types(kind)
        return kind(**{field.name: _built(types[field.name], data[field.name]) for field in fields(kind)})
    if isinstance(kind, type) and issubclass(kind, Enum):
        return kind(data)
    origin, inner = get_origin(kind), get_args(kind)
    if origin is list:
        return [_built(inner[0], entry) for entry in data]
    if origin is tuple:
        return tuple(_built(each, entry) for each, entry in zip(inner, data, strict=True))
    if origin is dict:
        return {key: _built(inner[1], entry) for key, entry in data.items()}
    return data
