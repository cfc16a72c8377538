"""What the board and instruments read from the wiring."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from typing import Final

from sim.devices.battery import CHARGER_FUSE, TAKEOVER
from sim.devices.boardio import BOARD_FUSE, as_read
from sim.devices.bridge import Asked
from sim.devices.encoder import Counting
from sim.devices.insulation import EARTH
from sim.devices.live import REST, Live
from sim.devices.look import Look
from sim.devices.mains import BREAKER, INPUT, LINE_FUSE, residual_a
from sim.devices.output_path import Driven, Signs
from sim.devices.part import Terminal
from sim.devices.passing import Flow
from sim.devices.rails import LOGIC_V
from sim.devices.stress import Stress, stress
from sim.devices.supply import OUTPUT
from sim.devices.wired import Wired
from sim.errors import Refused, nearest_right
from sim.kernel.network import DriveNetwork
from sim.said import said
from sim.wiring.elements import Contact, Element
from sim.wiring.netlist import Mark, Netlist
from sim.wiring.reduction import operating_point
from sim.wiring.solve import Potentials, direct, injections, network_of, solve

LIVE_V: Final = {"low voltage": 1.0, "mains": 12.0}
"""Above this against common or earth a terminal is drawn as live [V]. Ours."""

FLOW_DIGITS: Final = 6
"""Currents that warm and discharge are taken to the microampere: they must not hang on the last bit of a solution."""


class Reading(Wired):
    """Looks at the nets; none changes anything."""

    _fed_mark: Mark | None = None
    _fed_flow = Flow()

    # -- what the board reads and drives ---------------------------------------------------------------

    def guard_volts(self) -> tuple[float, ...]:
        """Guard inputs as the board reads them [V], in the order of the terminals."""
        self.settle()
        return self._rest.guard_volts

    def command_volts(self) -> tuple[float, ...]:
        """Command inputs as the board reads them [V], in the order of the terminals."""
        self.settle()
        return self._rest.command_volts

    def limit_volts(self) -> tuple[float, ...]:
        """Limit switch inputs as the board reads them [V], in the order of the terminals; empty where it has none."""
        names = self._fitted.limits.names
        if not names:
            return ()
        self.settle()
        return as_read(self._rest.solved.volts, names)

    def feed_v(self) -> float:
        """The takeover relay's own contact as the board reads it [V]: nothing while the battery feeds the board."""
        self.settle()
        takeover = self.netlist[TAKEOVER] if self._fitted.battery is not None else None
        return 0.0 if isinstance(takeover, Contact) and takeover.closed else LOGIC_V

    def radio_hears(self) -> bool:
        """Whether the radio receiver is fed."""
        self.settle()
        return self._fitted.radio.hears(self._rest.solved.volts)

    def network(self, signs: Signs) -> DriveNetwork:
        """Pull the relays in as `signs` says and give the network as the motors see it."""
        return self.driven(signs).network

    def driven(self, signs: Signs) -> Driven:
        """Pull the relays in as `signs` says: the way from both power stages to both motors."""
        self._signs = signs
        self._fitted.pull(self.mains, signs)
        self.settle()
        drives = self._rest.drives
        if signs not in drives:
            path = self._fitted.path
            drives[signs] = path.with_mains(path.driven(self.netlist, signs), self.mains)
        return drives[signs]

    def given(self, driven: Driven, asked: tuple[Asked, Asked]) -> tuple[Asked, Asked]:
        """By motor, what its power stage really gives for what the board asks of each stage."""
        return self._fitted.path.gives(self.netlist, driven, asked, self._signs)

    def on_mains(self, leaf: int) -> bool:
        """Whether a leaf's motor runs on the mains."""
        return self._fitted.motors[leaf].on_mains

    def counting(self) -> tuple[Counting, Counting]:
        """What the board's counters see, by leaf."""
        self.settle()
        return self._rest.encoders[0]

    def wander(self) -> tuple[float, float]:
        """By what share each encoder's counting wanders for want of a screen."""
        self.settle()
        return self._rest.encoders[1]

    def tells_way(self, leaf: int) -> bool:
        """Whether a leaf's encoder has two lines, which tell the way its motor turns."""
        return len(self._fitted.encoders[leaf].lines) > 1

    def beam_margin(self, guard: str) -> float | None:
        """Signal over threshold at a beam's receiver; None where none is fitted or it isn't fed."""
        self.settle()
        beam = self._fitted.beams.get(guard)
        return None if beam is None else beam.margin(self._rest.solved.volts)

    def board_v(self, motor_a: tuple[float, float] = (0.0, 0.0), duty: tuple[float, float] = (0.0, 0.0)) -> float:
        """The board's supply while the motors run so [V]."""
        found = self._between("board.bus", "board.common", Live(duty, motor_a), ())
        return found if found is not None else 0.0

    # -- what instruments read -------------------------------------------------------------------------

    def terminal(self, name: str) -> Terminal:
        """A terminal by its name. Raises Refused naming the nearest right one."""
        if name not in self.terminals:
            raise Refused(
                said("there is no terminal '{name}'{hint}", name=name, hint=nearest_right(name, self.terminals))
            )
        return self.terminals[name]

    def shared_net(self, red: str, black: str) -> Netlist | None:
        """The net that both terminals are on; None when one is on the mains side and one is not.

        The earth bar is on both, the posts are on the mains side alone.
        """
        one, other = self.terminal(red), self.terminal(black)
        nets = {each.net for each in (one, other) if each.node != EARTH}
        return None if len(nets) == 2 else self.netlist if nets == {"low voltage"} else self.mains

    def volts(self, red: str, black: str, live: Live = REST, muted: Collection[str] = ()) -> float | None:
        """Direct voltage of one terminal above another [V]; None when one floats against the other.

        `muted` names sources taken as quiet. Nothing on the mains side has a direct voltage.
        """
        net = self.shared_net(red, black)
        if net is not self.netlist:
            return None
        return self._between(self.terminal(red).node, self.terminal(black).node, live, tuple(sorted(muted)))

    def mains_volts(self, red: str, black: str, muted: Collection[str] = (), live: Live = REST) -> float | None:
        """Alternating voltage between two terminals of the mains side [V RMS]; None when one floats.

        `muted` names sources taken as quiet. While drives run the power supply takes what it gives them.
        """
        if self.shared_net(red, black) is not self.mains:
            return None
        if muted:
            solved = self.mains.solution_without(muted)
        else:
            solved = self.mains.solution() if live == REST else solve(self._loaded_mains(live))
        found = solved.between(self.terminal(red).node, self.terminal(black).node)
        return None if found is None else abs(found)

    def _loaded_mains(self, live: Live) -> tuple[Element, ...]:
        """The mains side with what the power supply takes while the drives run."""
        return self.mains_fed(self.mains.key, float(self.look().amps(OUTPUT, live)))

    def mains_fed(self, key: tuple[Element, ...], direct_a: float) -> tuple[Element, ...]:
        """A state of the mains side while the power supply gives a direct current, to the milliampere [A]."""
        ohm = complex(self._fitted.supply.as_loaded(round(direct_a, 3)))
        return tuple(replace(e, ohm=ohm) if e.name == INPUT else e for e in key)

    def mains_direct_volts(self, red: str, black: str, source: str) -> float | None:
        """What one direct source alone lays between two terminals of the mains side [V]; None when one floats."""
        if self.shared_net(red, black) is not self.mains:
            return None
        elements = direct(self.mains.key)
        network = network_of(elements)
        alone = [element for element in elements if element.name == source]
        solved = Potentials(network, elements, network.potentials(injections(alone)))
        return solved.volts(self.terminal(red).node, self.terminal(black).node)

    def is_joined(self, red: str, black: str, without: str = "") -> bool:
        """Whether any conductor but the one named joins two terminals."""
        net = self.shared_net(red, black)
        if net is None:
            return False
        self.settle()
        key = self.driven(self._signs).key if net is self.netlist else net.key
        kept = network_of(tuple(element for element in key if element.name != without))
        return kept.holds(self.terminal(red).node, self.terminal(black).node)

    def flow(self, live: Live) -> Flow:
        """What flows through fuses, breaker and battery while the drives do this.

        At rest as solved; what the power stages draw comes through the fuse on top of it, and out of the battery
        while that feeds the board.
        """
        self.settle()
        fed, (board_a, charger_a, battery_a) = self._fed_from_the_mains(), self._rest.fuse_amps
        if any(live.duty):
            driven = self.driven(self._signs)
            drawn = operating_point(driven.network, driven.ports, live.duty, live.motor_a, live.emf_v)
            stages_a = drawn.input_a[0] + drawn.input_a[1]
            board_a = abs(board_a + stages_a)
            if self._fitted.battery is not None and self.netlist[TAKEOVER].siemens:
                battery_a += stages_a
        amps = ((BOARD_FUSE, round(board_a, FLOW_DIGITS)), (CHARGER_FUSE, round(charger_a, FLOW_DIGITS)), *fed.amps)
        return Flow(amps, fed.residual_a, round(battery_a, FLOW_DIGITS) + 0.0)

    def _fed_from_the_mains(self) -> Flow:
        """The mains side's part, worked out once for every state of that side."""
        if self._fed_mark != self.mains.mark:
            self._fed_mark = self.mains.mark
            solved = self.mains.solution()
            amps = tuple((name, round(abs(solved.current(name)), FLOW_DIGITS)) for name in (LINE_FUSE, BREAKER))
            self._fed_flow = Flow(amps, round(residual_a(self.mains, solved), FLOW_DIGITS))
        return self._fed_flow

    def stress(self) -> Stress:
        """What the board's electronics stand with the net as it is now: probes and testers are part of it.

        A pure look; whoever placed an instrument asks, and `Stress.kills` says whether the board outlives it.
        """
        self.settle()
        return stress(self._rest.solved, self.netlist)

    def node_volts(
        self,
        terminal: str,
        i_motor: tuple[float, float],
        duty: tuple[float, float],
        emf_v: tuple[float, float] = (0.0, 0.0),
    ) -> float | None:
        """Direct voltage of one terminal above the board's common [V]; None when it floats."""
        return self._between(self.terminal(terminal).node, "board.common", Live(duty, i_motor, emf_v), ())

    def is_live(self, terminal: str) -> bool:
        """Whether the wire at a terminal stands well above common, or earth on the mains side, with all at rest."""
        self.settle()
        place = self.terminal(terminal)
        if place.net == "mains":
            found = self.mains.solution().between(place.node, "earth bar.earth")
        else:
            found = self._rest.solved.between(place.node, "board.common")
        return found is not None and abs(found) > LIVE_V[place.net]

    def look(self, muted: tuple[str, ...] = ()) -> Look:
        """The low-voltage side as it is now, to be kept. `muted` names sources taken as quiet."""
        signs = self._signs
        driven = self.driven(signs)
        looks = self._rest.looks
        if (signs, muted) not in looks:
            looks[signs, muted] = Look(driven.key, driven.network, driven.ports, muted)
        return looks[signs, muted]

    def _between(self, red: str, black: str, live: Live, muted: tuple[str, ...]) -> float | None:
        found: float | None = self.look(muted).volts(red, black, live)
        return found
