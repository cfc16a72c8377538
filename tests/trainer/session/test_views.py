"""What a window may see of wiring and instruments: what eyes and displays tell, and never what is hidden."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.instruments.toolbag import Toolbag
from sim.site import load_site
from sim.wiring.elements import Resistor
from sim.world.actions import checked
from sim.world.world import World
from trainer.session.observe import setting_views, terminal_views
from trainer.session.sheet_log import SheetLog
from trainer.session.sight import supply_of
from trainer.session.tools import offers_of, tools_view
from trainer.session.wiring import WiringView, wiring_view

SITE = Path(__file__).resolve().parents[3] / "scenarios" / "sites" / "orchard_row.yaml"


@pytest.fixture
def world() -> World:
    """A gate as it was built, with a bag."""
    return World(load_site(SITE), seed=0, bag=Toolbag)


def ends(view: WiringView, name: str) -> tuple[str, str]:
    """Where a core goes."""
    return next((core.a, core.b) for core in view.cores if core.name == name)


def test_the_drawing_is_the_same_object_until_something_is_seen_to_change(world: World) -> None:
    """Nothing is laid out anew because a relay closed or a lead lies on a screw."""
    first = wiring_view(world)
    world.cabinet.set_lamp(True)
    world.do(checked("place probes", {"function": "volts dc", "red": "battery, plus", "black": "battery, minus"}))
    assert wiring_view(world) is first
    world.do(checked("unplug", {"guard": "outer beam"}))
    assert wiring_view(world) is not first
    assert [c.run for c in wiring_view(world).cores if not c.closed] == ["outer beam plug"] * 2


def test_what_is_wrong_but_not_seen_is_not_in_the_view(world: World) -> None:
    """A poor core and a leak leave the drawing as it is; two cores that changed places don't."""
    before = wiring_view(world)
    name = next(core.name for core in before.cores if core.way == "core")
    world.cabinet.netlist.change(name, ohm=500.0)
    world.cabinet.netlist.add(Resistor("leak in the wet", "outer beam.contact", "board.common", 5e3))
    assert wiring_view(world) is before
    world.cabinet.swap_motor_leads("active")
    plus = "active leaf motor, plus core"
    assert ends(wiring_view(world), plus)[0] == ends(before, "active leaf motor, minus core")[0]


def test_every_terminal_belongs_to_one_part_and_stands_somewhere(world: World) -> None:
    """The parts hold all terminals of the cabinet, each once; devices stand in the yard, the isolator on mains."""
    view = wiring_view(world)
    names = [name for part in view.parts for name, _pin in part.pins]
    assert sorted(names) == sorted(world.cabinet.terminals)
    where = {part.name: part.where for part in view.parts}
    assert where["isolator inlet"] == where["earth bar"] == "mains"
    assert where["stop button"] == where["active leaf motor at the leaf"] == "yard"
    assert where["battery"] == where["power supply"] == "cabinet"
    assert where["outer beam"] == where["board supply"] == "board"
    assert {part.name: part.plug_of for part in view.parts}["outer beam plug"] == "outer beam"


def test_an_instrument_in_place_and_its_reading_are_told(world: World) -> None:
    """Function, places, words, least and most; gone when it is taken off and placed anew."""
    given = {"instrument": "multimeter", "function": "volts dc", "at": "battery, plus", "against": "battery, minus"}
    world.do(checked("place instrument", given))
    use = tools_view(world.bag).use("multimeter")
    assert use is not None
    assert (use.function, use.at, use.against) == ("volts dc", "battery, plus", "battery, minus")
    assert tools_view(world.bag).reading("multimeter") is None
    world.do(checked("read instrument", {"instrument": "multimeter"}))
    reading = tools_view(world.bag).reading_of("multimeter", "volts dc")
    assert reading is not None
    assert reading.text.endswith(" V")
    assert reading.least.endswith(" V")
    assert reading.most.endswith(" V")
    assert tools_view(world.bag).reading_of("multimeter", "ohms") is None
    world.do(checked("lift instrument", {"instrument": "multimeter"}))
    assert tools_view(world.bag).use("multimeter") is None
    assert tools_view(world.bag).reading("multimeter") == reading


def test_whatever_is_offered_can_be_done(world: World) -> None:
    """Each kind of place names places of this gate, and a clamp takes each core that is offered."""
    offers = offers_of(world, world.bag)
    assert set(offers["terminal"]) == set(world.cabinet.terminals)
    assert set(offers["leaf"]) == {"active", "inactive"}
    for core in offers["core"]:
        world.bag.check("clamp meter", "amps dc", core)
    with pytest.raises(KeyError):
        offers["nothing of the kind"]


def test_the_isolators_inlet_may_be_live_whatever_hands_do(world: World) -> None:
    """With both sources off nothing else may be: the caution goes where the danger is."""
    world.cabinet.isolate()
    if world.cabinet.battery_linked:
        world.cabinet.remove_battery_link()
    live = {terminal.part for terminal in terminal_views(world, supply_of(world)) if terminal.live}
    assert live == {"isolator inlet"}


def test_a_row_of_the_sheet_says_what_it_is_judged_with(world: World) -> None:
    """Whoever changes one setting sees which others may forbid it; most stand alone."""
    rows = {row.name: row for row in setting_views(world, SheetLog.of(world))}
    assert rows["run speed"].depends_on == ("slow speed",)
    assert set(rows["auto-close"].depends_on) >= {"outer beam", "inner beam"}
    assert rows["soft start"].depends_on == ()
