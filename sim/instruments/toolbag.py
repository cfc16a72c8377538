"""The bag a person works from: one of each instrument of the shelf, where each is placed, what each showed.

Placing is an act that edits a net or the yard; reading is a look. The world is handed this bag when it is built,
so that the journal's acts reach it; the world itself knows no instrument. Several may be in place at once.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING

from sim.errors import Refused, nearest_right
from sim.instruments.course import Course
from sim.instruments.force_stand import ForceRecord, ForceStand
from sim.instruments.instrument import Function, Instrument, PlaceKind, Reading, Use, function_of
from sim.instruments.places import category_at, check_places, places, spots
from sim.instruments.rule_sets import EN, ForceRules
from sim.instruments.shelf import SHELF
from sim.said import joined, said
from sim.units import SECOND, Direction, Us
from sim.wiring.elements import Element
from sim.wiring.netlist import Netlist, Undo, WiringError

if TYPE_CHECKING:
    from sim.world.world import World


class Toolbag:
    """The instruments in one session; `rules` is what a force reading is judged by."""

    def __init__(self, world: World, rules: ForceRules = EN) -> None:
        self._world = world
        self.instruments: Mapping[str, Instrument] = MappingProxyType({i.name: i for i in (new() for new in SHELF)})
        """Every instrument by name, in the order of the shelf."""
        self.placed: dict[str, Use] = {}
        """Where each instrument in place sits."""
        self.shown: dict[str, Reading] = {}
        """What each showed last; gone when it is placed anew."""
        self.read_at: dict[str, Use] = {}
        """How each was in place when it showed that."""
        self.last: tuple[str, Use] | None = None
        """The last measurement that was read."""
        self.course = Course(world)
        self.stand = ForceStand(world, rules)
        self._undo: dict[str, Undo] = {}
        self._readings: dict[str, int] = {}

    # -- what the world asks ---------------------------------------------------------------------------

    def check(self, instrument: str, function: str, at: str = "", against: str = "") -> None:
        """Raise Refused, in words, if this can't be measured there. Changes nothing."""
        found = self._function(instrument, function)
        check_places(self._world, found, at, against)

    def place(self, instrument: str, function: str, at: str = "", against: str = "") -> str:
        """Put an instrument in place, wherever it was before."""
        self.check(instrument, function, at, against)
        if instrument in self.placed:
            self.lift(instrument)
        use = Use(function, at, against, int(self._world.now))
        nets = (self._world.cabinet.netlist, self._world.cabinet.mains)
        before = [dict(net.elements) for net in nets]
        try:
            undo = self.instruments[instrument].place(self._world, use)
            self._world.rewired()
        except WiringError as error:
            for net, elements in zip(nets, before, strict=True):
                _put_back(net, elements)
            self._world.rewired()
            raise Refused(said("this can't be measured in the model: {error}", error=str(error))) from error
        self._undo[instrument] = undo
        self.placed[instrument] = use
        self.shown.pop(instrument, None)
        self.course.begin()
        self._tell_category(instrument, use)
        return said("The {instrument} is in place: {where}.", instrument=instrument, where=_where(use))

    def read(self, instrument: str) -> str:
        """Read an instrument in place and tell what it shows."""
        use = self._use(instrument)
        suffer = getattr(self.instruments[instrument], "suffer", None)
        if suffer is not None:
            suffer(self._world, use)
        self._readings[instrument] = index = self._readings.get(instrument, 0) + 1
        reading = self.instruments[instrument].read(self._world, use, index)
        self.shown[instrument] = reading
        self.read_at[instrument] = use
        self.last = (instrument, use)
        text = said(
            "{instrument}, {where}: {reading}", instrument=instrument, where=_where(use), reading=reading.now.text
        )
        self._world.tell("reading", text, **_data(instrument, use, reading))
        if "live circuit" in reading.now.flags:
            self._world.tell(
                "danger",
                said("resistance asked of a live circuit: the figure is worthless"),
                what="ohms on a live circuit",
                detail=said(
                    "{function} between {at} and {against}", function=use.function, at=use.at, against=use.against
                ),
            )
        return text

    def lift(self, instrument: str) -> str:
        """Take an instrument off. Raises Refused if it is nowhere, or what it sits on was changed meanwhile."""
        self._use(instrument)
        try:
            self._undo[instrument]()
        except WiringError as error:
            raise Refused(
                said("the {instrument} can't be taken off: {error}", instrument=instrument, error=str(error))
            ) from error
        del self.placed[instrument], self._undo[instrument]
        if not self.placed:
            self.course.end()
        self._world.rewired()
        return said("The {instrument} is off.", instrument=instrument)

    def renew(self, instrument: str) -> str:
        """New fuses for a meter. Raises Refused for an instrument that has none, or whose fuses are whole."""
        if instrument not in self.instruments:
            self._function(instrument, "")
        renew = getattr(self.instruments[instrument], "renew", None)
        if renew is None:
            raise Refused(said("the {instrument} has no fuse", instrument=instrument))
        renewed: str = renew()
        return renewed

    def _tell_category(self, instrument: str, use: Use) -> None:
        """Say so where an instrument of too low a category sits on live mains (facts 5.9)."""
        category = getattr(self.instruments[instrument], "category", None)
        needed = max((category_at(self._world, each) for each in (use.at, use.against)), default=0)
        if category is None or category >= needed:
            return
        self._world.tell(
            "danger",
            said(
                "the {instrument} is of category {category}; {where} asks for category {needed}: an "
                "arc in it is not held",
                instrument=instrument,
                category=category,
                where=_where(use),
                needed=needed,
            ),
            what="wrong category on mains",
            detail=said("{instrument}, {where}", instrument=instrument, where=_where(use)),
        )

    def takes(self, instrument: str, function: str) -> Us:
        """How long putting it in place takes [µs]."""
        return Us(round(self._function(instrument, function).takes_s * SECOND))

    def settles(self, instrument: str) -> Us:
        """How long an instrument in place takes to settle [µs]."""
        return Us(round(self._function(instrument, self._use(instrument).function).settles_s * SECOND))

    def last_measured(self) -> tuple[str, str, str, str]:
        """(instrument, function, at, against) of the last reading. Raises Refused when nothing was read yet."""
        if self.last is None:
            raise Refused("nothing was read yet")
        instrument, use = self.last
        return instrument, use.function, use.at, use.against

    def is_placed(self, instrument: str) -> bool:
        """Whether an instrument is in place."""
        return instrument in self.placed

    def _function(self, instrument: str, function: str) -> Function:
        if instrument not in self.instruments:
            others = said("; there are: {names}", names=joined(self.instruments, ", "))
            hint = nearest_right(instrument, self.instruments, otherwise=others)
            raise Refused(said("there is no instrument '{instrument}'{hint}", instrument=instrument, hint=hint))
        held = self.instruments[instrument]
        found = function_of(held, function)
        if found is None:
            functions = [each.name for each in held.functions]
            others = said("; it has {functions}", functions=joined(functions, ", "))
            hint = nearest_right(function, functions, otherwise=others)
            raise Refused(
                said(
                    "the {instrument} has no '{function}'{hint}", instrument=instrument, function=function, hint=hint
                )
            )
        return found

    def _use(self, instrument: str) -> Use:
        if instrument not in self.placed:
            if instrument not in self.instruments:
                self._function(instrument, "")
            raise Refused(said("the {instrument} is not in place; place it first", instrument=instrument))
        return self.placed[instrument]

    # -- faces -----------------------------------------------------------------------------------------

    def places(self, kind: PlaceKind) -> tuple[str, ...]:
        """Names that may be given for a kind of place."""
        return places(self._world, kind)

    def spots(self, function: Function) -> tuple[str, ...]:
        """A function's own spots, as far as this gate has them."""
        return spots(self._world, function)

    # -- force gauge -----------------------------------------------------------------------------------

    @property
    def gauge(self) -> tuple[str, float, float] | None:
        """(leaf, gap [mm], height [mm]) while the force gauge stands."""
        return self.stand.gauge

    @property
    def gauge_direction(self) -> Direction:
        """Which movement the gauge is set to measure."""
        return self.stand.direction

    @property
    def records(self) -> list[ForceRecord]:
        """Every stored force reading."""
        return self.stand.records

    def check_gauge(self, leaf: int, gap_mm: float, height_mm: float, direction: Direction = "closing") -> None:
        """Raise Refused where the gauge can't stand."""
        self.stand.check(leaf, gap_mm, height_mm, direction)

    def place_gauge(
        self, leaf: int, gap_mm: float, height_mm: float, rest: str, direction: Direction = "closing"
    ) -> str:
        """Set the gauge before a closing edge, or before the leaf's open side at its edge."""
        return self.stand.place(leaf, gap_mm, height_mm, rest, direction)

    def read_gauge(self) -> str:
        """Store the last curve as a reading, judge it alone, and make the gauge ready for the next."""
        return self.stand.read()

    def remove_gauge(self) -> str:
        """Take the gauge away."""
        return self.stand.remove()


def _put_back(net: Netlist, before: Mapping[str, Element]) -> None:
    """The net as it was, after an instrument could not be put on it."""
    added = [name for name in net.elements if name not in before]
    if added:
        net.remove(*added)
    net.put(element for name, element in before.items() if net.elements.get(name) != element)


def _where(use: Use) -> str:
    if use.against:
        return said("{function} between {at} and {against}", function=use.function, at=use.at, against=use.against)
    return said("{function} at {at}", function=use.function, at=use.at) if use.at else use.function


def _data(instrument: str, use: Use, reading: Reading) -> dict[str, str | float]:
    return {
        "instrument": instrument,
        "function": use.function,
        "red": use.at,
        "black": use.against,
        "value": _number(reading.now.value),
        "unit": reading.now.unit,
        "shown": reading.now.text,
        "least": _number(reading.least),
        "most": _number(reading.most),
    }


def _number(value: float | None) -> float:
    return math.nan if value is None else value
