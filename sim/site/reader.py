"""YAML in, plain data out, and nothing else: no tags, anchors or aliases, nothing executed, size and depth bounded.

The text is walked once. Tags, anchors, directives and depth are refused at the event that shows them, before a node
is made of it; nodes know their lines. Whatever the YAML library lets slip as a bare ValueError (`-_`, `0b_`, an
impossible date, an endless whole number) leaves here as a ScenarioError with its place.
"""

from __future__ import annotations

import math
import stat
from copy import deepcopy
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    MappingStartEvent,
    NodeEvent,
    ScalarEvent,
    SequenceStartEvent,
)
from ruamel.yaml.events import MappingEndEvent as _MappingEnd
from ruamel.yaml.events import SequenceEndEvent as _SequenceEnd
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode
from ruamel.yaml.parser import Parser

from sim.errors import ScenarioError
from sim.said import Verbatim, joined
from sim.site.complaints import nearest, refuse, shown
from sim.site.document import Data, Document, Key, Place

LARGEST_BYTES: Final = 256 * 1024
MOST_KEPT: Final = 64
"""Documents kept: a job is checked against its site once for each of its outcomes, and reading is what takes long."""
LARGEST_KEPT: Final = 32 * 1024
"""Longer texts are read each time [characters]."""
DEEPEST: Final = 12
MOST_NODES: Final = 20_000
LARGEST_WHOLE: Final = 2**53
"""Whole numbers beyond this are not exact as floating-point numbers."""

_LEAKS: Final = (YAMLError, ValueError, ArithmeticError, LookupError, TypeError, AttributeError, RecursionError)
"""What the YAML library raises on bad text. Only calls into it stand inside the `try` blocks that catch these."""

_TAG: Final = "tag:yaml.org,2002:"


def read_yaml(path: str | Path) -> Document:
    """Read one file. Raises ScenarioError, and nothing else, when it can't be used."""
    name = str(path)
    return read_text(_text(name), name)


def read_text(text: str, name: str) -> Document:
    """As `read_yaml`, from text; `name` stands in the sentences."""
    size = len(text.encode("utf-8", "surrogatepass"))
    if size > LARGEST_BYTES:
        raise refuse([f"{name}: it has {size} bytes; at most {LARGEST_BYTES} are read"])
    if len(text) > LARGEST_KEPT:
        return _document(text, name)
    kept = _kept(text, name)
    return Document(name, deepcopy(kept.data), kept.places)


@lru_cache(maxsize=MOST_KEPT)
def _kept(text: str, name: str) -> Document:
    return _document(text, name)


def _document(text: str, name: str) -> Document:
    node = _compose(text, name)
    builder = _Builder(name)
    if not isinstance(node, MappingNode):
        raise refuse([f"{name}:1:1: the file must be keys with values (`format: ...` first)"])
    data = builder.mapping(node, ())
    if builder.problems:
        raise refuse(builder.problems)
    return Document(name, data, builder.places)


def _text(name: str) -> str:
    try:
        path = Path(name)
        status = path.stat()
        if stat.S_ISDIR(status.st_mode):
            raise refuse([f"{name}: it is a folder; a file is needed"])
        if not stat.S_ISREG(status.st_mode):
            raise refuse([f"{name}: it is not an ordinary file"])
        with path.open("rb") as file:
            raw = file.read(LARGEST_BYTES + 1)
    except FileNotFoundError:
        raise refuse([f"{name}: there is no such file{_similar(name)}"]) from None
    except (OSError, ValueError) as error:
        raise refuse([f"{name}: it can't be read: {getattr(error, 'strerror', None) or error}"]) from error
    if len(raw) > LARGEST_BYTES:
        raise refuse([f"{name}: it is too large; at most {LARGEST_BYTES} bytes are read"])
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise refuse([f"{name}:{line}: it is not text: byte {error.start} is not UTF-8"]) from None


def _similar(name: str) -> str:
    """A neighbour with a similar name, as a hint."""
    try:
        return nearest(Path(name).name, sorted(entry.name for entry in Path(name).parent.iterdir()))
    except (OSError, ValueError):
        return ""


class _Guard(Parser):  # type: ignore[misc]  # the library has no types
    """Hands on one event after the other, and refuses what a scenario may not hold."""

    def __init__(self, loader: YAML, name: str) -> None:
        super().__init__(loader)
        self.name = name
        self.line = 1
        """Where the last event stood."""
        self.depth = self.nodes = self.documents = 0

    def get_event(self) -> Any:
        """The next event. Raises ScenarioError where it may not stand here."""
        event = super().get_event()
        self.line = event.start_mark.line + 1
        reason = _forbidden(event)
        if isinstance(event, NodeEvent):
            self.nodes += 1
        if isinstance(event, DocumentStartEvent):
            self.documents += 1
        if isinstance(event, (MappingStartEvent, SequenceStartEvent)):
            self.depth += 1
        elif isinstance(event, (_MappingEnd, _SequenceEnd)):
            self.depth -= 1
        if self.depth > DEEPEST:
            reason = f"nested more than {DEEPEST} deep"
        if self.nodes > MOST_NODES:
            reason = f"more than {MOST_NODES} keys and values"
        if self.documents > 1:
            reason = "a second document (`---`); one file holds one"
        if reason:
            raise refuse([f"{self.name}:{self.line}:{event.start_mark.column + 1}: {reason}"])
        return event


def _forbidden(event: Any) -> str:
    """Why an event may not stand in a scenario; '' when it may."""
    if isinstance(event, AliasEvent):
        return f"alias '*{event.anchor[:40]}': aliases are not read; write the value out"
    if isinstance(event, NodeEvent) and event.anchor is not None:
        return f"anchor '&{event.anchor[:40]}': anchors are not read; write the value out"
    if isinstance(event, (ScalarEvent, MappingStartEvent, SequenceStartEvent)) and event.tag is not None:
        return f"tag '{str(event.tag)[:60]}': tags are not read; nothing in a file is executed"
    if isinstance(event, DocumentStartEvent) and (event.version is not None or event.tags):
        return "a `%` directive; remove that line"
    return ""


def _unreadable(error: Exception, name: str, line: int, column: int = 0) -> ScenarioError:
    """A library's exception as our own, with the best place known."""
    if isinstance(error, MarkedYAMLError):
        mark = error.problem_mark or error.context_mark
        what = " ".join(str(text) for text in (error.context, error.problem) if text)
        if mark is not None:
            line, column = mark.line + 1, mark.column + 1
    else:
        what = str(error).splitlines()[0] if str(error) else type(error).__name__
    if "could not find expected ':'" in what:
        what += "; a key needs a colon after it, in this line or the one above"
    at = f"{name}:{line}" + (f":{column}" if column else "")
    return refuse([f"{at}: this is not YAML that can be read: {what[:200]}"])


def _compose(text: str, name: str) -> Node:
    """The one node that all others stand in."""
    yaml = YAML(typ="safe", pure=True)
    guards: list[_Guard] = []

    def guarded(loader: YAML) -> _Guard:
        guards.append(_Guard(loader, name))
        return guards[-1]

    yaml.Parser = guarded
    try:
        node: Node | None = yaml.compose(text)
    except _LEAKS as error:
        raise _unreadable(error, name, guards[-1].line if guards else 1) from error
    if node is None:
        raise refuse([f"{name}:1:1: the file is empty"])
    return node


class _Builder:
    """Plain data from nodes, collecting places and problems."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.places: dict[Key, Place] = {}
        self.problems: list[str] = []
        self._constructor = YAML(typ="safe", pure=True).constructor

    def _complain(self, node: Node, key: Key, text: str) -> None:
        mark = node.start_mark
        dotted = ".".join(str(part) for part in key)
        place = Verbatim(f"{self.name}:{mark.line + 1}:{mark.column + 1} {dotted}")
        self.problems.append(joined([place, text], ": "))

    def mapping(self, node: MappingNode, key: Key) -> dict[str, Data]:
        """A mapping with text keys, each once."""
        out: dict[str, Data] = {}
        self._remember(node, key)
        for key_node, value_node in node.value:
            if not isinstance(key_node, ScalarNode) or key_node.tag != _TAG + "str":
                read = key_node.value if isinstance(key_node, ScalarNode) else None
                text = f"read {shown(read)} as a key; allowed: plain text" if read else "a key must be plain text"
                self._complain(key_node, key, text + "; put it in quotes if text is meant")
                continue
            word = str(key_node.value)
            inner = (*key, word)
            if word in out:
                first = self.places[inner].line
                self._complain(key_node, inner, f"the key stands here twice; the first is on line {first}")
                continue
            out[word] = self.value(value_node, inner)
            self._remember(key_node, inner)
        return out

    def value(self, node: Node, key: Key) -> Data:
        """Any value."""
        if isinstance(node, MappingNode):
            return self.mapping(node, key)
        if isinstance(node, SequenceNode):
            self._remember(node, key)
            return [self.value(item, (*key, index)) for index, item in enumerate(node.value)]
        self._remember(node, key)
        return self.scalar(node, key)

    def _remember(self, node: Node, key: Key) -> None:
        self.places[key] = Place(node.start_mark.line + 1, node.start_mark.column + 1)

    def scalar(self, node: Node, key: Key) -> Data:
        """Text, a number, true or false, or nothing."""
        tag = node.tag
        if tag == _TAG + "timestamp":
            self._complain(node, key, f"read {shown(node.value)}, a date; put it in quotes if text is meant")
            return None
        try:
            value = self._constructor.construct_object(node, deep=True)
        except _LEAKS as error:
            what = str(error).splitlines()[0][:120] if str(error) else type(error).__name__
            self._complain(
                node, key, f"read {shown(str(node.value))}, which looks like a number and is none ({what})"
            )
            return None
        if value is None or isinstance(value, bool):
            return value
        if isinstance(value, str):
            return self._text(value, node, key)
        if isinstance(value, int):
            if abs(value) > LARGEST_WHOLE:
                self._complain(node, key, f"read a whole number beyond ±{LARGEST_WHOLE}")
                return None
            return int(value)
        if isinstance(value, float):
            if not math.isfinite(value):
                self._complain(node, key, f"read {shown(str(node.value))}; a number must be finite")
                return None
            return float(value)
        self._complain(
            node, key, f"read {shown(str(node.value))}; allowed: text, numbers, true, false, lists, mappings"
        )
        return None

    def _text(self, value: str, node: Node, key: Key) -> str | None:
        if any("\ud800" <= sign <= "\udfff" for sign in value):
            self._complain(node, key, "read half of a character pair (a surrogate), which is no text")
            return None
        return str(value)
