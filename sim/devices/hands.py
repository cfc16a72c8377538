"""Hands on the wiring, contacts that move, outputs that switch, and what one sees of them without an instrument."""

from __future__ import annotations

from sim.devices.boardio import FEED
from sim.devices.drawing import Core, drawn_cores
from sim.devices.mains import SWITCHES, is_shut
from sim.devices.motor import MotorCircuit
from sim.devices.optics import Light
from sim.devices.output_path import AnyMotorCircuit, AnyPlug
from sim.devices.plug import bridge_name, lay_bridge
from sim.devices.wired import Wired
from sim.errors import Refused
from sim.said import joined, said
from sim.site import GUARD_NAMES
from sim.units import LEAVES, LeafName
from sim.wiring.netlist import Netlist, Undo, in_turn


class Hands(Wired):
    """What people and the board do to the wiring."""

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
        motor = self._fitted.motors[index]
        return motor.swap_leads(self._net_of(motor))

    def unplug(self, guard: str) -> Undo:
        """Pull a guard's plug. Raises Refused if there is none, or it is out."""
        plug = self._plug(guard)
        if not plug.is_in(self._net_of(plug)):
            raise Refused(said("the {guard}'s plug is out already", guard=guard))
        return plug.push(self._net_of(plug), in_=False)

    def plug(self, guard: str) -> Undo:
        """Push a guard's plug in. Raises Refused if there is none, or it is in."""
        plug = self._plug(guard)
        if plug.is_in(self._net_of(plug)):
            raise Refused(said("the {guard}'s plug is in already", guard=guard))
        return plug.push(self._net_of(plug), in_=True)

    def set_switch(self, switch: str, closed: bool) -> Undo:
        """Throw a breaker in the distribution board. Raises Refused for one there is none of, or that stands so."""
        if switch not in SWITCHES:
            raise Refused(
                said(
                    "there is no '{switch}' in the distribution board; there are {switches}",
                    switch=switch,
                    switches=joined(SWITCHES, ", "),
                )
            )
        if self.is_switched_on(switch) is closed:
            raise Refused(
                said("the {switch} is on already" if closed else "the {switch} is off already", switch=switch)
            )
        self.passing.renewed(switch)
        return in_turn(*(self.mains.change(pole, closed=closed) for pole in SWITCHES[switch]))

    def is_switched_on(self, switch: str) -> bool:
        """Whether a breaker of the distribution board is on."""
        return all(is_shut(self.mains, pole) for pole in SWITCHES[switch])

    def let_go(self) -> tuple[str, ...]:
        """Open every fuse that has melted and every breaker that has tripped by now; their names."""
        gone = self.passing.gone()
        for name in gone:
            net = self.netlist if name in self.netlist else self.mains
            for contact in SWITCHES.get(name, (name,)):
                net.switch(contact, False)
            self.passing.renewed(name)
        return gone

    def kill_board(self) -> Undo:
        """Burn the board's feed track: nothing on it works any more until it is replaced."""
        return self.netlist.change(FEED, closed=False)

    def set_charge(self) -> bool:
        """The battery's voltage follows its charge; True if the net changed."""
        battery = self._fitted.battery
        return battery is not None and battery.set_charge(self.netlist, self.passing.charge)

    def bridge(self, guard: str) -> Undo:
        """Lay a wire link across a guard's input; a loose resistor at an edge's. Raises Refused if one lies there."""
        self._guard(guard)
        if guard in self.bridged:
            raise Refused(said("the {guard}'s input is bridged already", guard=guard))
        return lay_bridge(self.netlist, guard)

    def unbridge(self, guard: str) -> Undo:
        """Take the bridge off. Raises Refused if there is none."""
        self._guard(guard)
        if guard not in self.bridged:
            raise Refused(said("no link lies across the {guard}'s input", guard=guard))
        return self.netlist.remove(bridge_name(guard))

    def _plug(self, guard: str) -> AnyPlug:
        if guard not in self._fitted.plugs:
            if guard in GUARD_NAMES:
                raise Refused(said("no {guard} is fitted: there is no plug at that input", guard=guard))
            raise Refused(
                said(
                    "there is no plug '{guard}'; the plugs are: {plugs}",
                    guard=guard,
                    plugs=joined(self._fitted.plugs, ", "),
                )
            )
        return self._fitted.plugs[guard]

    def _guard(self, guard: str) -> None:
        if guard not in GUARD_NAMES:
            raise Refused(
                said(
                    "there is no guard '{guard}'; the guards are: {guards}",
                    guard=guard,
                    guards=joined(GUARD_NAMES, ", "),
                )
            )

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
            raise Refused(
                said(
                    "no {control} is fitted on this site; fitted: {fitted}",
                    control=control,
                    fitted=fitted or said("none"),
                )
            )
        return self._fitted.buttons[control].press(self.netlist, pressed)

    def set_stop_pressed(self, pressed: bool) -> bool:
        """The stop button goes in or comes out."""
        return self._fitted.stop is not None and self._fitted.stop.press(self.netlist, pressed)

    def set_edge_pressed(self, guard: str, pressed: bool) -> bool:
        """An edge is pressed or let go; nothing happens where none is fitted."""
        self._guard(guard)
        return guard in self._fitted.edges and self._fitted.edges[guard].press(self.netlist, pressed)

    def set_beam_blocked(self, guard: str, blocked: bool) -> bool:
        """A card is before a beam's receiver, or no longer; nothing happens where none is fitted."""
        self._guard(guard)
        beam = self._fitted.beams.get(guard)
        if beam is None or beam.blocked is blocked:
            return False
        beam.blocked = blocked
        self._settled = None
        return self.settle()

    def set_beam_light(self, guard: str, light: Light) -> bool:
        """What comes to a beam's receiver of each emitter from now on; True if a contact moved."""
        self._guard(guard)
        beam = self._fitted.beams.get(guard)
        if beam is None or beam.light == light:
            return False
        beam.light = light
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
        changed = motor.set_cut_out(self._net_of(motor), cut_out_open)
        return motor.set_winding(self._net_of(motor), ohm) or changed

    def _net_of(self, part: AnyMotorCircuit | AnyPlug) -> Netlist:
        return self.mains if part.on_mains else self.netlist

    def set_limits(self, leaf: int, reached_open: bool, reached_closed: bool) -> bool:
        """A leaf presses its limit switches or leaves them; nothing happens where none are fitted."""
        motor = self._fitted.motors[leaf]
        cut = isinstance(motor, MotorCircuit) and motor.limits.move(self.netlist, reached_open, reached_closed)
        return self._fitted.limits.move(self.netlist, leaf, (reached_open, reached_closed)) or cut

    def set_protection(self, is_open: bool) -> bool:
        """The power stages protect themselves from heat, or work again."""
        bridges = self._fitted.bridges
        changed = [
            self.netlist.switch(bridge.protection, not is_open)
            for bridge in bridges
            if bridge.protection in self.netlist
        ]
        return any(changed)

    def set_encoder(self, leaf: int, pulses: float | None) -> bool:
        """A rotor stands so many pulses on, or turns (None), for whoever looks at its encoder's lines."""
        return self._fitted.encoders[leaf].stand(self.netlist, pulses)

    def set_lamp(self, on: bool) -> bool:
        """The board switches the warning lamp."""
        return self.netlist.switch("warning lamp, switch", on)

    def set_yard_light(self, on: bool) -> bool:
        """The board switches its yard light output."""
        return self.netlist.switch("yard light, switch", on)

    def set_lock(self, on: bool) -> bool:
        """The board switches its lock output."""
        return self.netlist.switch("lock, switch", on)

    def lock_pulls(self) -> bool:
        """Whether the lock's coil lifts its bolt, as far as volts go; False where no lock is fitted."""
        self.settle()
        lock = self._fitted.lock
        return lock is not None and lock.pulls(self.netlist, self._rest.solved.volts)

    def lock_loss_w(self) -> float:
        """What the lock's coil turns into heat now [W]; nothing where no lock is fitted."""
        self.settle()
        lock = self._fitted.lock
        return 0.0 if lock is None else lock.loss_w(self._rest.solved)

    def warm_lock(self, coil_c: float) -> bool:
        """The lock's coil is as warm as this [°C]; True if that changed the net."""
        lock = self._fitted.lock
        return lock is not None and lock.warm(self.netlist, coil_c)

    def lock_lifts_against(self, pressed_n: float) -> bool:
        """Whether a coil that pulls frees the bolt while the leaf presses on it [N]."""
        return self._fitted.lock is not None and self._fitted.lock.lifts_against(pressed_n)

    # -- what one sees ---------------------------------------------------------------------------------

    @property
    def battery_linked(self) -> bool:
        """Whether a battery is there and its link is in."""
        return self._fitted.battery is not None and self._fitted.battery.is_linked(self.netlist)

    def leads_swapped(self, leaf: int | LeafName) -> bool:
        """Whether one leaf's two motor cores are exchanged at the board."""
        index = leaf if isinstance(leaf, int) else LEAVES.index(leaf)
        motor = self._fitted.motors[index]
        return motor.is_swapped(self._net_of(motor))

    @property
    def seen(self) -> dict[str, bool]:
        """What stands open or closed to the eye: isolator, breakers, link, every plug."""
        plugs = {f"{name} plug": plug.is_in(self.netlist) for name, plug in self._fitted.plugs.items()}
        link = {"battery link": self.battery_linked} if self._fitted.battery is not None else {}
        return {"isolator": self.mains_on, **{name: self.is_switched_on(name) for name in SWITCHES}, **link, **plugs}

    @property
    def plugs(self) -> tuple[str, ...]:
        """Every block that can be pulled off the board, with its cable, by its name."""
        return tuple(self._fitted.plugs)

    @property
    def unplugged(self) -> tuple[str, ...]:
        """Guards, and other cables, whose plug is out."""
        return tuple(guard for guard, plug in self._fitted.plugs.items() if not plug.is_in(self._net_of(plug)))

    @property
    def bridged(self) -> tuple[str, ...]:
        """Guards with a bridge across their input."""
        return tuple(guard for guard in GUARD_NAMES if bridge_name(guard) in self.netlist)

    def cores(self) -> tuple[Core, ...]:
        """Every line of the wiring drawing, as one sees it."""
        return drawn_cores((*self.mains.key, *self.netlist.key), self.terminals)
