"""The cabinet and all that is wired to it: built from a site, edited by hands, read by board and instruments."""

from __future__ import annotations

import difflib
from collections.abc import Collection
from dataclasses import replace
from typing import Final, TypeAlias, cast

from sim.devices.drawing import Core, drawn_cores
from sim.devices.fitting import Fittings
from sim.devices.live import REST, Live
from sim.devices.part import Terminal
from sim.devices.plug import Plug, bridge_name, lay_bridge
from sim.devices.rest import Rest, Signs, keep
from sim.errors import Refused
from sim.kernel.network import DriveNetwork
from sim.site import GUARD_NAMES, Site
from sim.units import LEAVES, LeafName
from sim.wiring.elements import Element
from sim.wiring.netlist import Mark, Netlist, Plain, Undo, WiringError
from sim.wiring.reduction import LeafPorts, Superposition, operating_point, reduce_drive
from sim.wiring.solve import network_of, solve

CabinetState: TypeAlias = tuple[tuple[str, object], ...]

LIVE_V: Final = {"low voltage": 1.0, "mains": 12.0}
"""Above this against common or earth a terminal is drawn as live [V]. Ours."""

__all__ = ["LIVE_V", "REST", "Cabinet", "CabinetState", "Live", "Signs", "build_cabinet"]


class Cabinet:
    """Every conductor on a site. Parts follow what feeds them before anything is read."""

    def __init__(self, site: Site) -> None:
        self.site = site
        self.netlist = Netlist()
        """The low-voltage side."""
        self.mains = Netlist()
        """The mains side, in RMS phasors."""
        self._fitted = Fittings(site)
        self._fitted.stamp(self.netlist, self.mains)
        self.terminals: dict[str, Terminal] = {terminal.name: terminal for terminal in self._fitted.terminals()}
        """Every terminal by its name, in the order of the cabinet drawing."""
        self._signs: Signs = (0, 0)
        self._settled: tuple[Mark, Mark] | None = None
        self._rest = Rest(self.netlist.key)
        self._rests: dict[tuple[Mark, Mark], Rest] = {}
        self._moves: dict[tuple[Mark, Mark, tuple[bool, ...]], tuple[Element, ...]] = {}

    # -- parts follow what feeds them ------------------------------------------------------------------

    def settle(self) -> bool:
        """Let supply, battery relay, converters and receivers follow the net; True if one of them moved.

        Every reading does this first. Raises WiringError if the parts never come to rest.
        """
        marks = (self.netlist.mark, self.mains.mark)
        if marks == self._settled:
            return False
        asked = (*marks, tuple(beam.blocked for beam in self._fitted.beams.values()))
        moves = self._moves.get(asked)
        if moves is None:
            moves = keep(self._moves, asked, self._come_to_rest())
        else:
            self.netlist.put(moves)
        self._settled = (self.netlist.mark, self.mains.mark)
        self._rest = self._rests.get(self._settled) or keep(self._rests, self._settled, Rest(self.netlist.key))
        return bool(moves)

    def _come_to_rest(self) -> tuple[Element, ...]:
        """Let every part follow until none moves; what they changed in the net."""
        before = self.netlist.key
        for _ in range(12):
            if not self._fitted.react(self.netlist, self.mains, solve(self.netlist.key)):
                return tuple(new for old, new in zip(before, self.netlist.key, strict=True) if new is not old)
        raise WiringError("supply, converters and receivers never come to rest: each undoes what another does")

    def refit(self, site: Site) -> None:
        """The site stands like this from now on; conductors stay as they are."""
        self.site = site

    # -- hands on the wiring; each returns its undo ----------------------------------------------------

    def isolate(self) -> Undo:
        """Open the mains isolator. Raises Refused if it is open."""
        if not self.mains_on:
            raise Refused("the isolator is open already")
        return self._fitted.mains.isolator(self.mains, closed=False)

    def restore(self) -> Undo:
        """Close the mains isolator. Raises Refused if it is closed."""
        if self.mains_on:
            raise Refused("the isolator is closed already")
        return self._fitted.mains.isolator(self.mains, closed=True)

    def remove_battery_link(self) -> Undo:
        """Pull the battery link. Raises Refused without a battery or a link."""
        if self._fitted.battery is None or not self.battery_linked:
            raise Refused("there is no battery link to pull")
        return self._fitted.battery.link(self.netlist, fitted=False)

    def fit_battery_link(self) -> Undo:
        """Fit the battery link. Raises Refused without a battery, or with the link in."""
        if self._fitted.battery is None or self.battery_linked:
            raise Refused("there is no battery link to fit")
        return self._fitted.battery.link(self.netlist, fitted=True)

    def swap_motor_leads(self, leaf: int | LeafName) -> Undo:
        """Exchange one leaf's two motor cores at the board."""
        index = leaf if isinstance(leaf, int) else LEAVES.index(leaf)
        return self._fitted.motors[index].swap_leads(self.netlist)

    def unplug(self, guard: str) -> Undo:
        """Pull a guard's plug. Raises Refused if there is none, or it is out."""
        plug = self._plug(guard)
        if not plug.is_in(self.netlist):
            raise Refused(f"the {guard}'s plug is out already")
        return plug.push(self.netlist, in_=False)

    def plug(self, guard: str) -> Undo:
        """Push a guard's plug in. Raises Refused if there is none, or it is in."""
        plug = self._plug(guard)
        if plug.is_in(self.netlist):
            raise Refused(f"the {guard}'s plug is in already")
        return plug.push(self.netlist, in_=True)

    def bridge(self, guard: str) -> Undo:
        """Lay a wire link across a guard's input; a loose resistor at an edge's. Raises Refused if one lies there."""
        self._guard(guard)
        if guard in self.bridged:
            raise Refused(f"the {guard}'s input is bridged already")
        return lay_bridge(self.netlist, guard)

    def unbridge(self, guard: str) -> Undo:
        """Take the bridge off. Raises Refused if there is none."""
        self._guard(guard)
        if guard not in self.bridged:
            raise Refused(f"no link lies across the {guard}'s input")
        return self.netlist.remove(bridge_name(guard))

    def _plug(self, guard: str) -> Plug:
        self._guard(guard)
        if guard not in self._fitted.plugs:
            raise Refused(f"no {guard} is fitted: there is no plug at that input")
        return self._fitted.plugs[guard]

    def _guard(self, guard: str) -> None:
        if guard not in GUARD_NAMES:
            raise Refused(f"there is no guard '{guard}'; the guards are: {', '.join(GUARD_NAMES)}")

    # -- contacts and outputs; each returns True if the net changed ------------------------------------

    def press(self, control: str) -> bool:
        """Press a wired control and hold it. Raises Refused if it isn't fitted."""
        return self._control(control, pressed=True)

    def release(self, control: str) -> bool:
        """Let a wired control go. Raises Refused if it isn't fitted."""
        return self._control(control, pressed=False)

    def _control(self, control: str, pressed: bool) -> bool:
        if control == "stop button" and self._fitted.stop is not None:
            return self.set_stop_pressed(pressed)
        if control not in self._fitted.buttons:
            fitted = ", ".join([*self._fitted.buttons, *(["stop button"] if self._fitted.stop is not None else [])])
            raise Refused(f"no {control} is fitted on this site; fitted: {fitted or 'none'}")
        return self._fitted.buttons[control].press(self.netlist, pressed)

    def set_stop_pressed(self, pressed: bool) -> bool:
        """The stop button goes in or comes out."""
        return self._fitted.stop is not None and self._fitted.stop.press(self.netlist, pressed)

    def set_edge_pressed(self, guard: str, pressed: bool) -> bool:
        """An edge is pressed or let go; nothing happens where none is fitted."""
        self._guard(guard)
        return guard in self._fitted.edges and self._fitted.edges[guard].press(self.netlist, pressed)

    def set_beam_blocked(self, guard: str, blocked: bool) -> bool:
        """Something stands in a beam, or no longer; nothing happens where none is fitted."""
        self._guard(guard)
        beam = self._fitted.beams.get(guard)
        if beam is None or beam.blocked is blocked:
            return False
        beam.blocked = blocked
        self._settled = None
        return self.settle()

    def set_emitters(self, on: bool) -> bool:
        """The board switches the emitters' supply; the receivers follow."""
        changed = self.netlist.switch("emitter supply, switch", on)
        self.settle()
        return changed

    def set_motor(self, leaf: int, ohm: float, cut_out_open: bool) -> bool:
        """A motor's winding is as warm as it is; True if the net changed."""
        motor = self._fitted.motors[leaf]
        changed = motor.set_cut_out(self.netlist, cut_out_open)
        return motor.set_winding(self.netlist, ohm) or changed

    def set_lamp(self, on: bool) -> bool:
        """The board switches the warning lamp."""
        return self.netlist.switch("warning lamp, switch", on)

    def set_yard_light(self, on: bool) -> bool:
        """The board switches its yard light output; nothing hangs on it yet."""
        return self.netlist.switch("yard light, switch", on)

    def set_lock(self, on: bool) -> bool:
        """The board switches its lock output; nothing hangs on it yet."""
        return self.netlist.switch("lock, switch", on)

    # -- what one sees ---------------------------------------------------------------------------------

    @property
    def mains_on(self) -> bool:
        """Whether the isolator is closed."""
        return self._fitted.mains.is_closed(self.mains)

    @property
    def battery_linked(self) -> bool:
        """Whether a battery is there and its link is in."""
        return self._fitted.battery is not None and self._fitted.battery.is_linked(self.netlist)

    def leads_swapped(self, leaf: int | LeafName) -> bool:
        """Whether one leaf's two motor cores are exchanged at the board."""
        index = leaf if isinstance(leaf, int) else LEAVES.index(leaf)
        return self._fitted.motors[index].is_swapped(self.netlist)

    @property
    def unplugged(self) -> tuple[str, ...]:
        """Guards whose plug is out."""
        return tuple(guard for guard, plug in self._fitted.plugs.items() if not plug.is_in(self.netlist))

    @property
    def bridged(self) -> tuple[str, ...]:
        """Guards with a bridge across their input."""
        return tuple(guard for guard in GUARD_NAMES if bridge_name(guard) in self.netlist)

    def cores(self) -> tuple[Core, ...]:
        """Every line of the wiring drawing, as one sees it."""
        return drawn_cores((*self.mains.key, *self.netlist.key), self.terminals)

    # -- what the board reads and drives ---------------------------------------------------------------

    def guard_volts(self) -> tuple[float, ...]:
        """Guard inputs as the board reads them [V], in the order of the terminals."""
        self.settle()
        return self._rest.guard_volts

    def command_volts(self) -> tuple[float, ...]:
        """Command inputs as the board reads them [V], in the order of the terminals."""
        self.settle()
        return self._rest.command_volts

    def radio_hears(self) -> bool:
        """Whether the radio receiver is fed."""
        self.settle()
        return self._fitted.radio.hears(self._rest.solved.volts)

    def network(self, signs: Signs) -> DriveNetwork:
        """Switch the bridges as `signs` says and give the network as the motors see it."""
        self._signs = signs
        self.settle()
        drives = self._rest.drives
        if signs not in drives:
            drives[signs] = self._fed(reduce_drive(self._driven_key(signs), self._ports(signs)))
        return drives[signs]

    def _fed(self, drive: DriveNetwork) -> DriveNetwork:
        """With the mains at the motors that run on it, as long as the isolator is closed."""
        motors = self._fitted.motors
        if not any(motor.on_mains for motor in motors):
            return drive
        ways = [-1.0 if motor.is_swapped(self.netlist) else 1.0 for motor in motors]
        volts = [self.site.supply.mains_v if motor.on_mains and self.mains_on else 0.0 for motor in motors]
        alpha = [w if m.on_mains else a for a, w, m in zip(drive.alpha, ways, motors, strict=True)]
        return replace(drive, alpha=(alpha[0], alpha[1]), mains=(volts[0], volts[1]))

    def board_v(self, motor_a: tuple[float, float] = (0.0, 0.0), duty: tuple[float, float] = (0.0, 0.0)) -> float:
        """The board's supply while the motors run so [V]."""
        found = self._between("board.bus", "board.common", Live(duty, motor_a), ())
        return found if found is not None else 0.0

    # -- what instruments read -------------------------------------------------------------------------

    def terminal(self, name: str) -> Terminal:
        """A terminal by its name. Raises Refused naming the nearest right one."""
        if name not in self.terminals:
            near = difflib.get_close_matches(name, self.terminals, n=1, cutoff=0.4)
            raise Refused(f"there is no terminal '{name}'" + (f"; did you mean '{near[0]}'?" if near else ""))
        return self.terminals[name]

    def shared_net(self, red: str, black: str) -> Netlist | None:
        """The net that both terminals are on; None when one is on the mains side and one is not."""
        one, other = self.terminal(red).net, self.terminal(black).net
        return None if one != other else self.netlist if one == "low voltage" else self.mains

    def volts(self, red: str, black: str, live: Live = REST, muted: Collection[str] = ()) -> float | None:
        """Direct voltage of one terminal above another [V]; None when one floats against the other.

        `muted` names sources taken as quiet. Nothing on the mains side has a direct voltage.
        """
        net = self.shared_net(red, black)
        if net is not self.netlist:
            return None
        return self._between(self.terminal(red).node, self.terminal(black).node, live, tuple(sorted(muted)))

    def mains_volts(self, red: str, black: str, muted: Collection[str] = ()) -> float | None:
        """Alternating voltage between two terminals of the mains side [V RMS]; None when one floats.

        `muted` names sources taken as quiet.
        """
        if self.shared_net(red, black) is not self.mains:
            return None
        solved = self.mains.solution_without(muted) if muted else self.mains.solution()
        found = solved.between(self.terminal(red).node, self.terminal(black).node)
        return None if found is None else abs(found)

    def is_joined(self, red: str, black: str, without: str = "") -> bool:
        """Whether any conductor but the one named joins two terminals."""
        net = self.shared_net(red, black)
        if net is None:
            return False
        self.settle()
        key = self._driven_key(self._signs) if net is self.netlist else net.key
        kept = network_of(tuple(element for element in key if element.name != without))
        return kept.joined(self.terminal(red).node, self.terminal(black).node)

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

    def _between(self, red: str, black: str, live: Live, muted: tuple[str, ...]) -> float | None:
        signs = self._signs
        drive = self.network(signs)
        ports = self._ports(signs)
        looks = self._rest.looks
        if (signs, muted) not in looks:
            looks[signs, muted] = Superposition(self._driven_key(signs), ports, drive.closed, muted)
        drawn = operating_point(drive, ports, live.duty, live.motor_a, live.emf_v)
        return looks[signs, muted].volts(red, black, drawn)

    def _driven_key(self, signs: Signs) -> tuple[Element, ...]:
        """The net with the legs of the bridges that drive."""
        return (
            *self.netlist.key,
            *(leg for m, sign in zip(self._fitted.motors, signs, strict=True) for leg in m.legs(sign)),
        )

    def _ports(self, signs: Signs) -> tuple[LeafPorts, LeafPorts]:
        active, inactive = self._fitted.motors
        return active.ports(signs[0]), inactive.ports(signs[1])

    # -- keyframes -------------------------------------------------------------------------------------

    def state(self) -> CabinetState:
        """Everything that decides what is read next, as base types."""
        self.settle()
        return (
            ("low voltage", self.netlist.state()),
            ("mains", self.mains.state()),
            ("blocked", tuple(guard for guard, beam in self._fitted.beams.items() if beam.blocked)),
            ("signs", self._signs),
        )

    def restore_state(self, state: CabinetState) -> None:
        """Become the cabinet that `state()` was taken of, on the same site."""
        kept = dict(state)
        self.netlist.restore(cast(Plain, kept["low voltage"]))
        self.mains.restore(cast(Plain, kept["mains"]))
        for guard, beam in self._fitted.beams.items():
            beam.blocked = guard in cast(tuple[str, ...], kept["blocked"])
        self._signs = cast(Signs, kept["signs"])
        self._settled = None
        self.settle()


def build_cabinet(site: Site) -> Cabinet:
    """The cabinet of a site, wired, both sources on, with every part at rest."""
    cabinet = Cabinet(site)
    cabinet.settle()
    return cabinet
