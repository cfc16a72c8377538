"""What a model allows at a place of a document: its fields, and for a choice of models the one that was meant.

A place is reached along a route. pydantic names the alternatives of a union among the keys of a place; those names
are kept here as steps that lead nowhere but say which alternative it was.
"""

from __future__ import annotations

import types
from collections.abc import Mapping
from typing import Annotated, Any, TypeAlias, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from sim.site.document import Data, Key, child

Route: TypeAlias = tuple[tuple[str | int, bool], ...]
"""Steps from the top; True: a key or position in the text, False: the name of an alternative."""


def route_to(data: Data, loc: tuple[int | str, ...], missing: bool) -> Route:
    """pydantic's place as a route through what was read; `missing` when its last key isn't there and should be."""
    steps: list[tuple[str | int, bool]] = []
    value = data
    for index, part in enumerate(loc):
        try:
            value = child(value, part)
        except KeyError:
            asked_for = missing and index == len(loc) - 1 and isinstance(value, dict)
            steps.append((part, asked_for))
        else:
            steps.append((part, True))
    return tuple(steps)


def key_of(route: Route) -> Key:
    """The route without the names of alternatives."""
    return tuple(part for part, stands in route if stands)


def above(route: Route) -> Route:
    """The route to the mapping or list that holds the last key."""
    return route[: max(index for index, (_, stands) in enumerate(route) if stands)]


def allowed_at(model: type[BaseModel], route: Route) -> list[Any]:
    """The annotations that may stand at a place; only one where the route names the alternative."""
    return _reach(model, route)[0]


def field_at(model: type[BaseModel], route: Route) -> FieldInfo | None:
    """The field a place stands for; for a list item, the list's field."""
    return _reach(model, route)[1]


def keys_of(options: list[Any]) -> list[str]:
    """The keys of the models among some annotations."""
    return list(dict.fromkeys(name for model in _only_models(options) for name in model.model_fields))


def kinds_of(options: list[Any]) -> dict[str, type[BaseModel]]:
    """The models among some annotations by the one `kind` each of them is; empty when they have no kinds."""
    kinds: dict[str, type[BaseModel]] = {}
    for model in _only_models(options):
        kind = model.model_fields.get("kind")
        choices = get_args(kind.annotation) if kind is not None else ()
        if len(choices) == 1:
            kinds[str(choices[0])] = model
    return kinds


def whole_union(route: Route) -> Route:
    """The route to a place, whichever alternative stands there."""
    end = len(route)
    while end and not route[end - 1][1]:
        end -= 1
    return route[:end]


def _reach(model: type[BaseModel], route: Route) -> tuple[list[Any], FieldInfo | None]:
    options: list[Any] = [model]
    field: FieldInfo | None = None
    for part, stands in route:
        if not stands:
            options = [option for option in options if _is_called(option, part)] or options
            continue
        options, found = _step(options, part)
        field = found or field
        if not options:
            return [], None
    return options, field


def _only_models(options: list[Any]) -> list[type[BaseModel]]:
    return [option for option in options if isinstance(option, type) and issubclass(option, BaseModel)]


def _is_called(option: Any, name: str | int) -> bool:
    """Whether pydantic means this alternative by a name: that of its class, or its kind."""
    return any(model.__name__ == name or name in kinds_of([model]) for model in _only_models([option]))


def _models(annotation: Any) -> list[Any]:
    """The alternatives of an annotation, aliases and `Annotated` removed."""
    origin = get_origin(annotation)
    if origin is Annotated:
        return _models(get_args(annotation)[0])
    if origin in (Union, types.UnionType):
        return [found for option in get_args(annotation) for found in _models(option)]
    return [annotation]


def _step(options: list[Any], part: str | int) -> tuple[list[Any], FieldInfo | None]:
    """One key or position further down: the annotations that may stand there, and the model's field if it is one."""
    following: list[Any] = []
    field = None
    for option in options:
        origin = get_origin(option)
        if isinstance(option, type) and issubclass(option, BaseModel):
            found = option.model_fields.get(str(part))
            if found is not None:
                field = found
                following.extend(_models(found.annotation))
        elif origin in (tuple, list) and isinstance(part, int):
            following.extend(_models(get_args(option)[0]))
        elif origin in (dict, Mapping) and isinstance(part, str):
            following.extend(_models(get_args(option)[1]))
    return following, field
