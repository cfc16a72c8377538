"""Plain data into a model, and the model's objections into sentences with file, line, key and nearest right key."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final, TypeVar, get_args

from pydantic import BaseModel, ValidationError

from sim.site import shape
from sim.site.complaints import listing, nearest, refuse, shown
from sim.site.document import Document, Key

Model = TypeVar("Model", bound=BaseModel)

_REASON: Final = re.compile(r"^([A-Za-z0-9_]+(?:\.[A-Za-z0-9_]+)*): (.+)$", re.DOTALL)
_KINDS: Final = {
    "float": "a number",
    "int": "a whole number",
    "string": "text",
    "bool": "true or false",
    "tuple": "a list",
    "list": "a list",
    "dict": "a mapping",
    "model": "a mapping",
    "model_attributes": "a mapping",
}
_LENGTHS: Final = {
    "too_long": "at most {max_length} of them",
    "too_short": "at least {min_length} of them",
    "string_too_long": "at most {max_length} characters",
    "string_too_short": "at least {min_length} characters",
}
_NO_SUCH_KIND: Final = frozenset(("union_tag_invalid", "union_tag_not_found"))
_ALIKE: Final = 0.7
"""How alike a key must be to be offered for one that is right elsewhere: `slip_n_m` for `slip_n`."""
_NUMBER: Final = re.compile(r"\s*([-+]?\d+)(?:([.,])(\d+))?\s*")


def validate(document: Document, model: type[Model]) -> Model:
    """The model of a document. Raises ScenarioError with one sentence for each problem."""
    wrong = _wrong_format(document, model)
    if wrong:
        raise refuse([wrong])
    try:
        return model.model_validate(document.data)
    except ValidationError as error:
        raise refuse(_sentences(document, model, error)) from None


def _wrong_format(document: Document, model: type[BaseModel]) -> str:
    """A file of another format is refused with that one sentence; every other complaint would be noise."""
    field = model.model_fields.get("format")
    if field is None:
        return ""
    (wanted,) = get_args(field.annotation)
    read = document.data.get("format")
    if read == wanted:
        return ""
    if "format" not in document.data:
        near = nearest("format", document.data) if document.data else ""
        found = (
            f"; the keys read are: {listing(list(document.data)[:8])}"
            if not near
            else near.replace("'?", "' for it?")
        )
        return document.complaint((), f"the key 'format' is missing; needed: 'format: {wanted}'{found}")
    return document.complaint(("format",), f"read {shown(read)}; allowed: {wanted}")


def _sentences(document: Document, model: type[BaseModel], error: ValidationError) -> list[str]:
    groups: dict[Key, list[Mapping[str, Any]]] = {}
    for item in error.errors(include_url=False):
        if _only_counted_out(item):
            continue
        groups.setdefault(shape.key_of(_route(document, item)), []).append(item)
    sentences = []
    for key, items in groups.items():
        if any(other != key and other[: len(key)] == key for other in groups) and _alternatives_only(items):
            continue  # the other alternative of a union says more
        sentences.append((document.places.get(key) or _above(document, key), _sentence(document, model, key, items)))
    flat: list[tuple[Any, str]] = [(place, text) for place, texts in sentences for text in texts]
    flat.sort(key=lambda pair: (pair[0].line, pair[0].column) if pair[0] else (0, 0))
    return [text for _, text in flat]


def _only_counted_out(item: Mapping[str, Any]) -> bool:
    """A list that is long enough, called too short because entries that are wrong themselves weren't counted."""
    read = item["input"]
    return item["type"] == "too_short" and isinstance(read, list) and len(read) >= item["ctx"]["min_length"]


def _above(document: Document, key: Key) -> Any:
    for length in range(len(key), -1, -1):
        if key[:length] in document.places:
            return document.places[key[:length]]
    return None


def _alternatives_only(items: list[Mapping[str, Any]]) -> bool:
    return all(item["type"] == "literal_error" and isinstance(item["input"], Mapping) for item in items)


def _route(document: Document, item: Mapping[str, Any]) -> shape.Route:
    """Where an objection of pydantic's points to. An unknown kind is a matter of the key `kind`."""
    route = shape.route_to(document.data, item["loc"], item["type"] == "missing")
    return (*route, ("kind", True)) if item["type"] in _NO_SUCH_KIND else route


def _sentence(document: Document, model: type[BaseModel], key: Key, items: list[Mapping[str, Any]]) -> list[str]:
    kinds = {item["type"] for item in items}
    first = items[0]
    route = _route(document, first)
    if "extra_forbidden" in kinds:
        return [document.complaint(key, _no_such_key(document, model, route))]
    if kinds & _NO_SUCH_KIND:
        read, names = first["input"]["kind"], list(shape.kinds_of(shape.allowed_at(model, shape.above(route))))
        hint = nearest(read, names) if isinstance(read, str) else ""
        return [document.complaint(key, f"read {shown(read)}; allowed: {listing(names)}{hint}")]
    if "missing" in kinds:
        return [document.complaint(key[:-1], f"the key '{key[-1]}' is missing{_meaning(model, route)}")]
    if "value_error" in kinds:
        return [text for item in items if item["type"] == "value_error" for text in _reasons(document, key, item)]
    allowed, hint = _allowed(document, model, items)
    return [document.complaint(key, f"read {shown(first['input'])}; allowed: {allowed}{hint}")]


def _no_such_key(document: Document, model: type[BaseModel], route: shape.Route) -> str:
    """Which keys there are instead; where one of several kinds stands, those of that kind, and whose key it is."""
    key, holder = str(route[-1][0]), shape.above(route)
    names = shape.keys_of(shape.allowed_at(model, holder))
    kinds = shape.kinds_of(shape.allowed_at(model, shape.whole_union(holder)))
    here = list(shape.kinds_of(shape.allowed_at(model, holder)))
    if len(kinds) < 2 or len(here) != 1:
        return f"there is no such key here; allowed: {listing(names)}{nearest(key, names)}"
    written = document.at(shape.key_of(holder))
    said = isinstance(written, dict) and "kind" in written
    where = f"where the kind is {here[0]}" if said else f"where no kind is written, which means {here[0]}"
    owners = [name for name, other in kinds.items() if key in other.model_fields]
    whose = f"; it belongs to {listing(owners)}" if owners else ""
    near = nearest(key, names, alike=_ALIKE if owners else None)
    return f"there is no such key {where}{whose}; allowed: {listing(names)}{near}"


def _meaning(model: type[BaseModel], route: shape.Route) -> str:
    """What the field at a place says of itself, in brackets."""
    field = shape.field_at(model, route)
    return f" ({field.description})" if field is not None and field.description else ""


def _reasons(document: Document, key: Key, item: Mapping[str, Any]) -> list[str]:
    """The lines of a validator of ours: `dotted.key: reason`, or a bare reason about this very key."""
    out = []
    for line in str(item["ctx"]["error"]).split("\n"):
        found = _REASON.match(line)
        if found:
            inner = tuple(int(part) if part.isdigit() else part for part in found[1].split("."))
            out.append(document.complaint((*key, *inner), _as_read(document, (*key, *inner), found[2])))
        else:
            read = "" if isinstance(item["input"], (Mapping, list)) else f"read {shown(item['input'])}; "
            out.append(document.complaint(key, read + line))
    return out


def _as_read(document: Document, key: Key, text: str) -> str:
    """A reason that quotes what was read, or else the default that counts where nothing was written."""
    try:
        document.at(key)
    except KeyError:
        return f"left out, which means {text.removeprefix('read ')}" if text.startswith("read ") else text
    return text


def _allowed(document: Document, model: type[BaseModel], items: list[Mapping[str, Any]]) -> tuple[str, str]:
    """What is allowed at a key, in words, and the nearest right word when text was read."""
    words: list[str] = []
    texts: list[str] = []
    read = items[0]["input"]
    hint = ""
    for item in items:
        kind = item["type"]
        if kind == "literal_error":
            choices = _choices(str(item["ctx"]["expected"]))
            texts.extend(choices)
            words.insert(0, listing(choices))  # before the keys of a mapping, among which a word would be lost
        elif kind in ("model_type", "model_attributes_type"):
            words.append(_mapping(model, _route(document, item)))
        elif kind.removesuffix("_type") in _KINDS:
            words.append(_KINDS[kind.removesuffix("_type")])
            hint = _as_number(read) if kind in ("float_type", "int_type") else hint
        elif kind in _LENGTHS:
            words.append(_LENGTHS[kind].format(**item["ctx"]))
        else:
            words.append(str(item["msg"]).removeprefix("Input should be ").removeprefix("Value error, "))
    hint = nearest(str(read), texts) if isinstance(read, (str, int)) and texts else hint
    return " or ".join(dict.fromkeys(words)) + _meaning(model, _route(document, items[0])), hint


def _mapping(model: type[BaseModel], route: shape.Route) -> str:
    """The mapping that is asked for: with its kinds where there are several, and else with its keys."""
    kinds = shape.kinds_of(shape.allowed_at(model, shape.whole_union(route)))
    if len(kinds) > 1:
        return f"a mapping with a kind ({listing(kinds)}) and what belongs to it"
    return f"a mapping with the keys {listing(shape.keys_of(shape.allowed_at(model, route)))}"


def _as_number(read: object) -> str:
    """What to write where the text that was read looks like a number."""
    found = _NUMBER.fullmatch(read) if isinstance(read, str) else None
    if found is None:
        return ""
    number = f"{found[1]}.{found[3]}" if found[3] else found[1]
    return f"; did you mean {number}?" if found[2] == "," else f"; did you mean {number}, without quotes?"


def _choices(expected: str) -> list[str]:
    """`'a', 'b' or 'c'` as a list."""
    return re.findall(r"'((?:[^'\\]|\\.)*)'", expected)
