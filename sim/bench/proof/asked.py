"""Who asked for what, and which movements began from rest, as a bystander reads it off the terminals.

A command is the closing of a contact, a radio word, or a request at the panel. What is only held is none; neither is
what a contact says at the first scan after power came.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Final, Literal, TypeVar

from sim.bench.proof.record import Record, Row
from sim.controller.ports import COMMAND_TERMINALS, CONTACT_THRESHOLD_V, RadioWord
from sim.controller.settings import Value

What = Literal["open", "close", "step", "pedestrian", "halt", "hold", "jog", "learn", "both", "old word", "stranger"]

CALLS: Final[Mapping[str, What]] = {
    "open button": "open",
    "close button": "close",
    "step button": "step",
    "key switch": "open",
    "timer contact": "open",
    "pedestrian button": "pedestrian",
    "emergency contact": "open",
}
"""What each control asks for when it is pressed."""

WORTHLESS: Final = frozenset({"both", "old word", "stranger"})
"""What was given and must move nothing: contradictory commands, a copied word, a word of nobody who is enrolled."""

CHATTERS: Final = 50_000
"""A contact that closes again within this may be taken for chatter [µs]. Common practice, no source."""

TEST_S: Final = 1.0
"""A guard test takes at most this, half to react and half to recover [s]. Facts 2.2, common practice."""

STANDS_S: Final = 1.0
"""After a stop the leaves stand within this, and a command that was given meanwhile is heard [s]. Ours."""

GOES_ON: Final = frozenset(
    {
        "opening",
        "closing",
        "reversing",
        "held by a guard",
        "backing off",
        "finding its position",
        "travel learning",
        "freeing the lock",
        "warning before moving",
        "jog",
        "hold-to-run opening",
        "hold-to-run closing",
    }
)
"""States of a controller in the midst of one movement, or of its answer to a guard; in all others the gate rests."""

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Given:
    """Something that was given once."""

    at: int
    """Since the gate was found [µs]."""
    what: What
    by: str
    """The control, or whose transmitter."""


@dataclass(frozen=True, slots=True)
class Run:
    """Driven without a pause, one leaf or both."""

    first: Row
    """The scan at which it began."""
    last: Row
    """The last scan at which it was driven."""
    ends: int
    """When nothing was driven any more [µs]."""
    rested: int
    """Since when nothing had been driven before [µs]; 0 where it stood when the gate was found."""
    from_rest: bool
    """Whether the gate was at rest before, and not in the midst of a movement or of its answer to a guard."""
    asked: tuple[Given, ...] = ()
    """What was given so shortly before that this may be the answer, newest last."""

    @property
    def at(self) -> int:
        """When it began [µs]."""
        return self.first.at

    @property
    def way(self) -> int:
        """+1 opening, −1 closing, 0 where it learns or finds its position. The push that frees a lock opens."""
        if self.first.state in ("travel learning", "finding its position"):
            return 0
        if self.first.state == "freeing the lock":
            return 1
        return -1 if self.first.closes else 1

    @property
    def by_hand(self) -> bool:
        """Whether it is driven only while somebody holds a control."""
        return self.first.state == "jog" or self.first.state.startswith("hold-to-run")

    @property
    def by_itself(self) -> bool:
        """Whether nothing at all was given before it."""
        return not self.asked

    @property
    def worth(self) -> tuple[Given, ...]:
        """What was given that may move the gate."""
        return tuple(each for each in self.asked if each.what not in WORTHLESS)


def remembered(work: Callable[[Record], T]) -> Callable[[Record], T]:
    """`work`, done once for each record though every property asks for it."""
    known: list[tuple[Record, T]] = []

    def of(record: Record) -> T:
        if not known or known[0][0] is not record:
            known[:] = [(record, work(record))]
        return known[0][1]

    return of


def number(sheet: Mapping[str, Value], name: str, otherwise: float = 0.0) -> float:
    """An amount on a sheet; `otherwise` where there is no such setting."""
    value = sheet.get(name, otherwise)
    return float(value) if isinstance(value, (int, float)) else otherwise


def lead(sheet: Mapping[str, Value]) -> int:
    """The longest that a movement may begin after it was asked for: standing, guard test, warning, lock [µs]."""
    seconds = number(sheet, "warning before moving") + number(sheet, "relief push") + TEST_S + STANDS_S + 0.5
    return round(seconds * 1e6)


def pressed(row: Row) -> tuple[bool, ...]:
    """Which controls read closed."""
    return tuple(volts < CONTACT_THRESHOLD_V for volts in row.inputs.command_v)


def follows(record: Record) -> Iterator[tuple[Row | None, Row]]:
    """Every row with the one before it; None where power came between them."""
    before = record.before
    for row in record.rows:
        cut = before is None or any(before.at < at <= row.at for at, _ in record.power[1:])
        yield (None if cut else before), row
        before = row


def _calls(record: Record, row: Row, index: int) -> What:
    control = COMMAND_TERMINALS[index]
    sheet = record.sheet(row.at)
    held = sheet.get("key switch") == "hold-to-run open" if control == "key switch" else False
    if control in ("open button", "close button"):
        held = sheet.get("open and close buttons") == "hold-to-run"
    return "hold" if held else CALLS[control]


class _Air:
    """What is known of the transmitters: who is enrolled, and how far their counters are."""

    def __init__(self, record: Record) -> None:
        self.known = {(e.serial, e.button): (e.holder, e.function, e.fixed) for e in record.enrolled}
        self.highest = dict(record.counters)
        self.awaited: tuple[str, str] | None = None
        self.deleted = [
            (n.at, n.what) for n in record.happenings if n.kind == "transmitter" and n.detail == "deleted"
        ]

    def heard(self, row: Row) -> list[Given]:
        while self.deleted and self.deleted[0][0] <= row.at:
            holder = self.deleted.pop(0)[1]
            self.known = {key: who for key, who in self.known.items() if holder not in ("all", who[0])}
        for request in row.inputs.requests:
            if request.kind == "enrol":
                self.awaited = (request.name, str(request.value))
        return [self._word(row, word) for word in row.inputs.radio if word.pressed]

    def _word(self, row: Row, word: RadioWord) -> Given:
        serial, button = word.serial, word.button
        who = self.known.get((serial, button))
        copied = word.fixed and who is not None and not who[2]
        if copied or (not word.fixed and word.counter <= self.highest.get(serial, -1)):
            return Given(row.at, "old word", who[0] if who else serial)
        if not word.fixed:
            self.highest[serial] = word.counter
        if self.awaited is not None:
            self.known.setdefault((serial, button), (*self.awaited, word.fixed))
            self.awaited = None
            return Given(row.at, "stranger", serial)
        if who is None:
            return Given(row.at, "stranger", serial)
        return Given(row.at, who[1], who[0])  # type: ignore[arg-type]


@remembered
def givens(record: Record) -> tuple[Given, ...]:
    """Everything that was given, in order."""
    found: list[Given] = []
    air = _Air(record)
    let_go: dict[int, int] = {}
    for before, row in follows(record):
        new = air.heard(row)
        now, was = pressed(row), pressed(before) if before else pressed(row)
        for index, (down, up) in enumerate(zip(now, was, strict=True)):
            if up and not down:
                let_go[index] = row.at
            if down and not up and row.at - let_go.get(index, -CHATTERS) >= CHATTERS:
                new.append(Given(row.at, _calls(record, row, index), COMMAND_TERMINALS[index]))
        for request in row.inputs.requests:
            if request.kind == "learn" or (request.kind == "jog" and request.value != "release"):
                new.append(Given(row.at, "learn" if request.kind == "learn" else "jog", "the panel"))
        found += _resolved(record, row, new)
    return tuple(found)


def _resolved(record: Record, row: Row, new: list[Given]) -> list[Given]:
    """Opening and closing together, or one against a control that is held the other way, is neither."""
    lasting = ("timer contact", "emergency contact")
    held = {
        _calls(record, row, index)
        for index, down in enumerate(pressed(row))
        if down and COMMAND_TERMINALS[index] not in lasting
    }
    now = {each.what for each in new if each.by not in lasting}
    opens = {"open", "pedestrian"}
    if not (("close" in now and (now | held) & opens) or (now & opens and "close" in held)):
        return new
    return [replace(e, what="both") if e.what in {*opens, "close"} and e.by not in lasting else e for e in new]


@remembered
def runs(record: Record) -> tuple[Run, ...]:
    """Every time that something was driven, in order."""
    given = givens(record)
    found: list[Run] = []
    begun: Row | None = None
    last: Row | None = None
    states: list[str] = []
    ended = 0
    for row, until in record.spans():
        if row.driven and begun is None:
            begun = row
        if row.driven:
            last = row
        cut = begun is not None and record.powered_off(row.at, until)
        if begun is not None and last is not None and (not row.driven or cut):
            ends = row.at if not row.driven else until
            found.append(_run(record, given, begun, last, ends, ended if found else -1, states))
            begun, ended, states = None, ends, []
        if begun is None:
            states.append(row.state)
    if begun is not None and last is not None:
        found.append(_run(record, given, begun, last, record.end, ended if found else -1, states))
    return tuple(found)


def _run(
    record: Record, given: tuple[Given, ...], first: Row, last: Row, ends: int, ended: int, states: list[str]
) -> Run:
    rests = any(state not in GOES_ON for state in states) if all(states) else first.at - ended >= 1_000_000
    since = first.at - lead(record.sheet(first.at))
    asked = tuple(each for each in given if since <= each.at <= first.at)
    return Run(first, last, ends, max(0, ended), ended < 0 or rests, asked)


def starts(record: Record) -> tuple[Run, ...]:
    """The runs that began from rest, and not by a hand that holds a control."""
    return tuple(run for run in runs(record) if run.from_rest and not run.by_hand)
