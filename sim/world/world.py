"""A gate with its controller, its yard and its clock: `do` an action, `run_to` a time, look."""

from __future__ import annotations

import hashlib
import math
from collections.abc import Callable, Mapping
from types import MappingProxyType

from sim.controller import ReferenceController
from sim.controller.ports import Controller, RadioWord, Request, headline_of
from sim.devices.cabinet import Cabinet, build_cabinet
from sim.errors import Refused
from sim.mechanics.plant import Plant, Reason, StopReport
from sim.said import said
from sim.site import Site, Weather, site_digest
from sim.units import SCAN, Us, next_on_grid
from sim.world import board_clock
from sim.world.actions import CATALOGUE, Action, Value
from sim.world.ailing import Ailing
from sim.world.arrival import Arrival, arrive
from sim.world.bag import Bag, NoBag
from sim.world.board_heat import BoardHeat
from sim.world.bolt import Bolt
from sim.world.box import Box
from sim.world.by_itself import ByItself, hour_at
from sim.world.clock import Clock
from sim.world.coil import Coil
from sim.world.coupling import Coupling
from sim.world.current import Current
from sim.world.history import Entry, Event, EventKind, Standing
from sim.world.host import Host
from sim.world.limits import Limits
from sim.world.lived import live
from sim.world.marks import Marks
from sim.world.notebook import Notebook
from sim.world.notices import Notices
from sim.world.once import Once
from sim.world.people import People
from sim.world.standing import standing
from sim.world.stored import Stored

AT_STOP_DEG = 1.5
"""A leaf this near its stop and at rest is fully there [°]."""

TURNS_RAD_S = 1.0
"""A rotor faster than this turns: a meter sees the mean of what its encoder's line does [rad/s]."""

DANGEROUS: frozenset[EventKind] = frozenset({"struck", "clash"})
"""Events that end an action that is still taking its time."""


class World(Box):
    """Everything physical of one session; deterministic in (site, seed, controller, actions with their times)."""

    user_group = ""
    """Who uses the gate, as the survey has it."""
    cordoned = False
    ended = ""

    def __init__(
        self,
        site: Site,
        *,
        seed: int = 0,
        controller: Controller | None = None,
        bag: Callable[[World], Bag] | None = None,
        arrival: Arrival | None = None,
        every_scan: bool = False,
    ) -> None:
        super().__init__()
        self.site = site
        """The site as it really stands now."""
        self.designed = site
        """As it was built, and as its papers say."""
        self._stands = ""
        """Digest of the site once it no longer stands as designed."""
        self.seed = seed
        self.events, self.entries, self.once = list[Event](), list[Entry](), Once()
        """What happened and what was done; `once` holds what is the same in it."""
        self.line = 0
        """Journal line of the act in progress or last begun."""
        self.handled: list[int] = []
        """Journal lines of the repairs that had hands on conductors."""
        self.listeners: list[Callable[[Event], None]] = []
        self.lookers: list[Callable[[], None]] = []
        """Called when what one sees in the yard or in the cabinet may have changed by a hand or on foot."""
        self.plant = Plant(site, seed)
        self.plant.record()
        self.cabinet: Cabinet = build_cabinet(site)
        self.controller: Controller = controller if controller is not None else ReferenceController()
        self.headline = headline_of(self.controller)
        """What the controller says of itself now, in short."""
        self.clock = Clock(self.plant, self._heed)
        self.notices = Notices(self)
        self.host = self._hosted(every_scan)
        self.marks = Marks(self.plant)
        """Who waits for a leaf to stand somewhere."""
        self.limits = Limits(self)
        self.people = People(self)
        self.by_itself = ByItself(self)
        self.faults = Ailing(self)
        """What ails this gate; nothing on the trainee's side names it."""
        self.current = Current(self)
        self.stored = Stored(self)
        self.bolt = Bolt(self)
        self.weather: Weather = site.weather
        """The weather now; `set_weather` changes it."""
        self.arrived = Us(0)
        """When the clock that people see began [µs]."""
        self.levels: dict[str, list[tuple[int, int]]] = {"guards": [], "commands": []}
        """(instant [µs], 0 or 1) where any guard was tripped, any control pressed; changes only."""
        self.survey: dict[str, str] = {}
        self.notebook = Notebook()
        self.held: dict[str, Callable[[], None]] = {}
        """What is held pressed, in words, and how it is let go."""
        self.bag: Bag = bag(self) if bag is not None else NoBag()
        self.host.rewired()
        self.coupling = Coupling(self)
        self.board_heat = BoardHeat(self)
        self.host.board_c = self.board_heat.now_c
        self.coil = Coil(self)
        self.limits.refit()
        self._begin(arrival)

    def _begin(self, arrival: Arrival | None) -> None:
        """Live up to how it is found, from the day before; from there on changes what changes by itself."""
        board_clock.find_set(self, days_ago=0 if arrival is None else 1)
        if arrival is not None:
            arrive(self, arrival)
            board_clock.find_set(self)
        self.by_itself.begin()
        if self.people.beams.begin():
            self.people.told(True)
        if arrival is not None and arrival.lived is not None:
            live(self, arrival.lived)

    def visible_from_now(self) -> None:
        """The clock that people see starts now; what happened before is forgotten."""
        self.events.clear()
        self.entries.clear()
        self.notebook = Notebook()
        self.notices.forget()
        self.arrived = Us(self.now)
        self.faults.look()

    def _hosted(self, every_scan: bool) -> Host:
        """The controller behind its terminals."""
        told = self.notices.drives_changed, self.notices.after_scan
        return Host(self.clock, self.plant, self.cabinet, self.controller, *told, every_scan=every_scan)

    @property
    def now(self) -> Us:
        """The instant the world stands at [µs]; always on the scan grid between runs."""
        return Us(int(self.clock.now))

    def hour(self) -> float:
        """Hour of day now, from 0 up to 24."""
        return hour_at(self.site.starts_at_h, int(self.now - self.arrived))

    # -- time ------------------------------------------------------------------------------------------

    def run_to(self, until: int, enough: Callable[[], bool] | None = None) -> bool:
        """Run to the last scan instant at or before `until` [µs]; True if `enough()` came first.

        After an early end the world runs on to the next scan instant, of which nothing has happened yet: an act then
        comes before its scan, as it does when the journal is replayed.
        """
        target = until // SCAN * SCAN
        if target <= self.now:
            return False
        early = self.clock.run_to(target, enough)
        if early:
            self.clock.run_to(next_on_grid(self.now + 1, SCAN))
        return early

    def rests(self) -> bool:
        """Whether no leaf is driven and none moves."""
        return not self.notices.moving() and all(abs(self.plant.speed(leaf)) < 1e-4 for leaf in (0, 1))

    def stands(self, *, fully_open: bool) -> bool:
        """Whether every leaf rests at its open stop, or shut."""
        return self.rests() and all(
            abs(math.degrees(self.plant.angle(leaf)) - (model.open_stop_deg if fully_open else 0.0)) <= AT_STOP_DEG
            for leaf, model in enumerate(self.site.leaves.hung)
        )

    def _heed(self, stop: StopReport) -> None:
        if stop.reason is Reason.WATCH:
            self.host.ask()
            return
        if stop.reason is Reason.MARK:
            self.marks.heed(stop.culprit)
            self.host.ask()
            return
        self.people.leaf_touched(stop)
        self.bolt.look()
        changed = False
        for leaf, name in enumerate(self.site.leaves.fitted):
            guard = f"{name} edge"
            changed = self.cabinet.set_edge_pressed(guard, self.people.is_tripped(guard)) or changed
            changed = self._feel_motor(leaf) or changed
        if changed:
            self.notices.guards_changed()
            self.host.rewired()

    def _feel_motor(self, leaf: int) -> bool:
        """A motor's winding, brushes, cut-out, encoder as they stand, for who measures; True if the net changed."""
        turns = None if abs(self.plant.motor_speed(leaf)) > TURNS_RAD_S else self.plant.rotor_pulses(leaf)
        changed = self.cabinet.set_encoder(leaf, turns)
        ohm = self.plant.lead_ohm(leaf, self.seed)
        return self.cabinet.set_motor(leaf, ohm, self.plant.cut_out_open(leaf)) or changed

    # -- acts ------------------------------------------------------------------------------------------

    def check(self, action: Action) -> None:
        """Raise Refused, saying why, if the action makes no sense now. Changes nothing."""
        from sim.world.effects import EFFECTS

        if self.ended:
            raise Refused(said("the job is over: it was {ended}", ended=self.ended))
        if action.arguments.get("leaf", self.site.leaves.fitted[0]) not in self.site.leaves.fitted:
            raise Refused(
                said("there is no {leaf} leaf: this gate has one leaf, the active one", leaf=action["leaf"])
            )
        ready = EFFECTS[action.kind].ready
        if ready is not None:
            ready(self, action)

    def do(self, action: Action, line: int = 0) -> str:
        """Carry an action out: its time passes, its effect comes at its start or end. Returns what came of it.

        The time is cut short when somebody is struck or the leaves clash; an effect due at the end is then left
        undone and the answer says so. Raises Refused (nothing changed) when it makes no sense now.
        """
        self.check(action)
        try:
            return self._carry_out(action, line)
        finally:
            self.level("commands", bool(self.held))

    def _carry_out(self, action: Action, line: int) -> str:
        from sim.world.effects import EFFECTS

        action = self.once.of(action, (action.kind, dict(action.arguments)))
        self.entries.append(Entry(line, self.now, action))
        self.line = line
        kind, effect = CATALOGUE[action.kind], EFFECTS[action.kind]
        takes = kind.takes if effect.takes is None else effect.takes(self, action)
        if kind.effect == "start":
            answer = effect.apply(self, action)
            self.seen()
            self.run_to(self.now + takes)
            return answer
        if kind.group == "instruments":
            self.feel_motors()
        if not self.spend(takes):
            return said("stopped before it was done: {why}", why=self.events[-1].text)
        try:
            return effect.apply(self, action)
        except Refused as refusal:
            return said("not done: {why}", why=str(refusal))
        finally:
            self.seen()

    def seen(self) -> None:
        """Have whoever looks on look: something that one sees may be different now."""
        for look in self.lookers:
            look()

    def spend(self, time: int) -> bool:
        """Let time pass for an act [µs]; False when something dangerous cut it short."""
        seen = len(self.events)
        return not self.run_to(self.now + time, lambda: any(e.kind in DANGEROUS for e in self.events[seen:]))

    def feel_motors(self) -> None:
        """Every winding as warm as it is, for whoever measures next."""
        for leaf in range(len(self.site.leaves.fitted)):
            self._feel_motor(leaf)

    def request(self, kind: str, name: str = "", value: Value = "") -> None:
        """Do something at the controller's service panel."""
        self.host.request(Request(kind, name, value))

    def hear(self, word: RadioWord) -> None:
        """Send a radio word to the receiver."""
        self.host.hear(word)

    def release_all(self) -> tuple[str, ...]:
        """Let go of everything held; returns what was held, in words."""
        held = tuple(self.held)
        for let_go in list(self.held.values()):
            let_go()
        self.held.clear()
        return held

    # -- what happened ---------------------------------------------------------------------------------

    def tell(self, kind: EventKind, text: str, /, **data: Value) -> None:
        """Note an event at this instant."""
        words, facts = self.once.of((text, MappingProxyType(data)), (text, data))
        event = Event(self.now, kind, words, facts, self.line)
        self.events.append(event)
        for listener in self.listeners:
            listener(event)

    def settings(self) -> Mapping[str, Value]:
        """The sheet as the controller holds it."""
        return self.controller.panel().settings

    def standing(self) -> Standing:
        """How the gate stands, truth beside the sheet: for grading, never for the screen."""
        return standing(self)

    def refit(self, site: Site) -> None:
        """The gate stands like this from now on: a hinge wears, a lens gets dirty, somebody moves a bracket.

        The net is not built anew: conductors change by edits of their own. The weather stays as it is, but for what
        of it the site changes.
        """
        today = self.site.weather.model_dump()
        changed = {key: value for key, value in site.weather.model_dump().items() if value != today[key]}
        self.weather = self.weather.model_copy(update=changed)
        self.plant.refit(site, self.weather)
        self.site = site
        self._stands = "" if site == self.designed else site_digest(site)
        self.cabinet.refit(site)
        self.people.relit()
        self.rewired()
        self.board_heat.changed()
        self.coupling.refit()
        self.limits.refit()
        self.by_itself.changed()

    def rewired(self) -> None:
        """A net changed by hand: drives and controller take notice at their next instant."""
        self.host.rewired()

    def assume(self, settings: Mapping[str, Value]) -> None:
        """The sheet is found like this. Raises Refused for a controller that has no sheet of ours."""
        found = getattr(self.controller, "assume", None)
        if found is None:
            raise Refused("this controller's sheet can't be found changed: it is none of ours")
        found(settings)

    def set_weather(self, weather: Weather) -> None:
        """Wind, gusts and air from now on; how long a gust hangs together stays the site's."""
        self.weather = weather
        self.plant.set_wind(weather)
        self.plant.set_temperature(weather.temperature_c)
        self.board_heat.changed()
        self.people.beams_changed()
        self.faults.look()

    def level(self, channel: str, on: bool) -> None:
        """Note a level for the time strip, if it changed."""
        changes = self.levels[channel]
        if on != bool(changes and changes[-1][1]):
            changes.append((int(self.now), int(on)))

    def digest(self) -> str:
        """A digest of everything that decides what happens next and of all that happened."""
        deep = hashlib.blake2b(digest_size=16)
        deep.update(str(self.now).encode())
        deep.update(self.plant.physical())
        deep.update(repr(self.cabinet.state()).encode())
        deep.update(repr(self.people.state()).encode())
        deep.update(repr(self.controller.panel()).encode())
        deep.update(repr(self.coil.state()).encode())
        deep.update(self._stands.encode())
        deep.update(repr(self.faults.state()).encode())
        deep.update(repr([(e.at, e.kind, e.text, sorted(e.data.items())) for e in self.events]).encode())
        return deep.hexdigest()
