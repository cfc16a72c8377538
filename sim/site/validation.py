"""Plain data into a model, and the model's objections into sentences with file, line, key and nearest right key."""

from __future__ import annotations

import re
import types
from collections.abc import Mapping
from typing import Annotated, Any, Final, TypeVar, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from sim.site.complaints import listing, nearest, refuse, shown
from sim.site.document import Document, Key, child

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
        groups.setdefault(_key(document, item["loc"], item["type"]), []).append(item)
    sentences = []
    for key, items in groups.items():
        if any(other != key and other[: len(key)] == key for other in groups) and _alternatives_only(items):
            continue  # the other alternative of a union says more
        sentences.append((document.places.get(key) or _above(document, key), _sentence(document, model, key, items)))
    flat: list[tuple[Any, str]] = [(place, text) for place, texts in sentences for text in texts]
    flat.sort(key=lambda pair: (pair[0].line, pair[0].column) if pair[0] else (0, 0))
    return [text for _, text in flat]


def _above(document: Document, key: Key) -> Any:
    for length in range(len(key), -1, -1):
        if key[:length] in document.places:
            return document.places[key[:length]]
    return None


def _alternatives_only(items: list[Mapping[str, Any]]) -> bool:
    return all(item["type"] == "literal_error" and isinstance(item["input"], Mapping) for item in items)


def _key(document: Document, loc: tuple[int | str, ...], kind: str) -> Key:
    """pydantic's place without the names it adds for the alternatives of a union."""
    key: list[str | int] = []
    value: Any = document.data
    for index, part in enumerate(loc):
        last = index == len(loc) - 1
        try:
            value = child(value, part)
        except KeyError:
            if not (last and kind == "missing" and isinstance(value, dict)):
                continue
        key.append(part)
    return tuple(key)


def _sentence(document: Document, model: type[BaseModel], key: Key, items: list[Mapping[str, Any]]) -> list[str]:
    kinds = {item["type"] for item in items}
    first = items[0]
    if "extra_forbidden" in kinds:
        names = _names(model, key[:-1])
        return [
            document.complaint(
                key, f"there is no such key here; allowed: {listing(names)}{nearest(str(key[-1]), names)}"
            )
        ]
    if "missing" in kinds:
        field = _field(model, key)
        meaning = f" ({field.description})" if field is not None and field.description else ""
        return [document.complaint(key[:-1], f"the key '{key[-1]}' is missing{meaning}")]
    if "value_error" in kinds:
        return [text for item in items if item["type"] == "value_error" for text in _reasons(document, key, item)]
    allowed, hint = _allowed(model, key, items)
    return [document.complaint(key, f"read {shown(first['input'])}; allowed: {allowed}{hint}")]


def _reasons(document: Document, key: Key, item: Mapping[str, Any]) -> list[str]:
    """The lines of a validator of ours: `dotted.key: reason`, or a bare reason about this very key."""
    out = []
    for line in str(item["ctx"]["error"]).split("\n"):
        found = _REASON.match(line)
        if found:
            inner = tuple(int(part) if part.isdigit() else part for part in found[1].split("."))
            out.append(document.complaint((*key, *inner), found[2]))
        else:
            read = "" if isinstance(item["input"], (Mapping, list)) else f"read {shown(item['input'])}; "
            out.append(document.complaint(key, read + line))
    return out


def _allowed(model: type[BaseModel], key: Key, items: list[Mapping[str, Any]]) -> tuple[str, str]:
    """What is allowed at a key, in words, and the nearest right word when text was read."""
    words: list[str] = []
    texts: list[str] = []
    for item in items:
        kind = item["type"]
        if kind == "literal_error":
            choices = _choices(str(item["ctx"]["expected"]))
            texts.extend(choices)
            words.append(listing(choices))
        elif kind in ("model_type", "model_attributes_type"):
            words.append(f"a mapping with the keys {listing(_names(model, key))}")
        elif kind.removesuffix("_type") in _KINDS:
            words.append(_KINDS[kind.removesuffix("_type")])
        else:
            words.append(str(item["msg"]).removeprefix("Input should be ").removeprefix("Value error, "))
    field = _field(model, key)
    meaning = f" ({field.description})" if field is not None and field.description else ""
    read = items[0]["input"]
    hint = nearest(read, texts) if isinstance(read, str) and texts else ""
    return " or ".join(dict.fromkeys(words)) + meaning, hint


def _choices(expected: str) -> list[str]:
    """`'a', 'b' or 'c'` as a list."""
    return re.findall(r"'((?:[^'\\]|\\.)*)'", expected)


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


def _field(model: type[BaseModel], key: Key) -> FieldInfo | None:
    """The field a key stands for; for a list item, the list's field."""
    current: list[Any] = [model]
    field: FieldInfo | None = None
    for part in key:
        current, found = _step(current, part)
        field = found or field
        if not current:
            return None
    return field


def _names(model: type[BaseModel], key: Key) -> list[str]:
    """The keys allowed in the mapping that stands at `key`."""
    current: list[Any] = [model]
    for part in key:
        current, _ = _step(current, part)
    names: list[str] = []
    for option in current:
        if isinstance(option, type) and issubclass(option, BaseModel):
            names.extend(name for name in option.model_fields if name not in names)
    return names
