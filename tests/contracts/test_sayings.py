"""Whatever the simulator says to a person can be said in another language: every sentence is gathered, every name.

Rich plays are listened to: all that panels, logs, events, answers, refusals and readings say in them is taken apart,
and no part of it may stand outside the catalogue but figures, units and what a person wrote.
"""

from __future__ import annotations

import importlib.util
import re
import sys
from collections.abc import Iterator
from itertools import product
from pathlib import Path
from string import Formatter

import pytest

from sim.bench.trial import as_installed
from sim.controller import rules
from sim.controller.settings import CATALOGUE as SETTINGS
from sim.errors import ActionError, Refused
from sim.faults.catalogue import FAULTS
from sim.instruments.places import places
from sim.instruments.toolbag import Toolbag
from sim.said import Said
from sim.site import load_site
from sim.units import SECOND
from sim.world.actions import CATALOGUE, checked
from sim.world.mending.row import VERBS
from sim.world.mending.table import targets
from sim.world.world import World
from trainer.language import _, speak

ROOT = Path(__file__).resolve().parents[2]
FOLDER = ROOT / "scenarios" / "sites"
MILL_LANE, BELLOWS, BRICK_FIELD, BENCH = (
    FOLDER / f"{name}.yaml" for name in ("mill_lane", "bellows_passage", "brick_field", "reference_bench")
)
"""Two leaves on rams, one leaf, mains motors, and a gate with everything."""

OWN = ("Ms Grey", "as agreed with the owner", "the lamp is dim", "nonsense", "no_such_thing", "9999", "-5")
"""What a person writes or mistypes, here."""

UNITS = re.compile(
    r"(?:over |up to )?[-+−]?[\d.,]*\s?"
    r"(?:[munµkM]?(?:V|A|Ω|F|N|Hz|H|m|s|W)|mm|mm/m|N·m|°C|°|%|dB|dBm|lx|K|min|h|times|kHz|µH|m/s|×|% of travel)?\.?"
)
"""A figure, a unit, or both."""


@pytest.fixture(scope="module")
def catalogue() -> set[str]:
    """Every sentence that is gathered."""
    path = ROOT / "assets" / "translations" / "gather.py"
    spec = importlib.util.spec_from_file_location("gather", path)
    assert spec is not None
    assert spec.loader is not None
    gather = importlib.util.module_from_spec(spec)
    sys.modules["gather"] = gather
    spec.loader.exec_module(gather)
    return {str(message.id) for message in gather.gathered()}


def outside(text: object, catalogue: set[str]) -> Iterator[str]:
    """Parts of what was said that no catalogue has."""
    if isinstance(text, Said):
        if re.search(r"[^\W\d_]", re.sub(r"\{[^}]*\}", "", text.sentence)) and text.sentence not in catalogue:
            yield text.sentence
        for _text, gap, _format, _conversion in Formatter().parse(text.sentence):
            if gap:
                yield from outside(text.fields[gap], catalogue)
    elif isinstance(text, str) and not UNITS.fullmatch(text) and text not in (*OWN, *catalogue):
        yield from (part for part in text.split(", ") if part not in catalogue and not UNITS.fullmatch(part))


class Listened:
    """A gate at work, and everything that was said there."""

    def __init__(self, path: Path, *, installed: bool = True) -> None:
        site = load_site(path)
        self.world = World(site, bag=Toolbag, arrival=as_installed(site) if installed else None)
        self.said: dict[str, str] = {}

    def hear(self, text: object) -> None:
        """Something was said."""
        if isinstance(text, str) and text:
            self.said.setdefault(text, text)

    def do(self, act: str, **arguments: object) -> None:
        """Act, whether or not it makes sense now."""
        try:
            self.hear(self.world.do(checked(act, arguments)))
        except (ActionError, Refused) as refusal:
            self.hear(refusal.args[0])

    def tap(self, control: str, seconds: float) -> None:
        """Press a control, let go of it, and wait."""
        self.do("press", control=control)
        self.wait(0.5)
        self.do("release", control=control)
        self.wait(seconds)

    def wait(self, seconds: float) -> None:
        """Let time pass, and look at the panel now and then."""
        for _part in range(8):
            self.world.run_to(self.world.now + round(seconds / 8 * SECOND))
            self.look()

    def look(self) -> None:
        """Read the panel."""
        world, panel = self.world, self.world.controller.panel()
        for text in (panel.state, panel.message, panel.locked, panel.answer, panel.learned, panel.counted):
            self.hear(text)
        for lines in (panel.waits_for, panel.dates, (text for _at, text in panel.log), tuple(world.held)):
            for text in lines:
                self.hear(text)
        for line in panel.inputs:
            for text in (line.name, line.reads, line.meaning):
                self.hear(text)
        for text in (*(each.reason for each in panel.warnings), *(each.name for each in panel.counters)):
            self.hear(text)
        for each in panel.heard:
            self.hear(each.verdict)

    def close_the_book(self) -> list[str]:
        """Everything, with the events and the notebook."""
        self.look()
        for event in self.world.events:
            if event.kind != "note" or isinstance(event.text, Said):
                self.hear(event.text)
        for name, reading in self.world.bag.shown.items():  # type: ignore[attr-defined]
            self.hear(name)
            self.hear(reading.now.text)
        return list(self.said.values())


def judged(listened: Listened, catalogue: set[str], least: int) -> None:
    """Nothing that was said stands outside the catalogue; and enough was said to judge by."""
    told = listened.close_the_book()
    assert len(told) >= least, told
    missing = sorted({part for text in told for part in outside(text, catalogue)})
    assert not missing, missing
    flat = [text for text in told if not isinstance(text, Said) and text not in catalogue and not known(text)]
    assert not flat, flat
    speak(lambda sentence: f"«{sentence}»")
    try:
        for text in told:
            bare = re.sub(r"«[^«»]*»", "", "".join(_nested(_(text))))
            assert not re.search(r"[A-Za-z]{4,}", bare), (text, _(text))
    finally:
        speak(str)


def known(text: str) -> bool:
    """A figure, or somebody's own words."""
    return bool(UNITS.fullmatch(text)) or text in OWN


def _nested(text: str) -> Iterator[str]:
    """What stands outside of the outermost marks."""
    depth = 0
    for letter in text:
        depth += letter == "«"
        if not depth:
            yield letter
        depth -= letter == "»"


def test_learning_moving_obstacles_and_guards(catalogue) -> None:
    """A gate is set up from nothing, learns, is run, blocked, stopped, and runs on its battery."""
    gate = Listened(MILL_LANE, installed=False)
    gate.wait(2.0)
    gate.do("learn travel")
    for setting, value in as_installed(gate.world.site).sheet.items():
        gate.do("set", setting=setting, value=value)
    for early in (1.0, 12.0):
        gate.do("learn travel")
        gate.wait(early)
        gate.tap("open button", 3.0)
    gate.do("learn travel")
    for _step in range(80):
        gate.wait(6.0)
    assert gate.world.controller.panel().travel != (None, None)
    _run_it(gate)
    _hold_it_up(gate)
    _at_the_panel(gate)
    judged(gate, catalogue, 200)
    for word in ("working cycle", "obstacle:", "guard test failed", "reverses", "backs off"):
        assert any(word in text for text in gate.said), word


def _run_it(gate: Listened) -> None:
    """Each control, and something in the way of the leaf, either way."""
    for control in ("open button", "close button", "step button", "key switch"):
        gate.tap(control, 30.0)
    for way in ("open", "close", "close", "close", "close", "open"):
        gate.tap("close button" if way == "open" else "open button", 30.0)
        gate.do("place body", body="test body", x_m=1.2, y_m=1.0, lying=False, turn_deg=0.0)
        gate.tap(f"{way} button", 30.0)
        gate.do("remove body", body="test body")


def _hold_it_up(gate: Listened) -> None:
    """Beams, edges, the stop, a link that hides a beam from its test, a leaf that is not held, no mains."""
    for guard in ("outer beam", "active edge"):
        for control in ("open button", "close button"):
            gate.tap(control, 4.0)
            gate.do("press edge" if guard.endswith("edge") else "cover beam", guard=guard)
            gate.wait(6.0)
            gate.do("release edge" if guard.endswith("edge") else "uncover beam", guard=guard)
            gate.wait(12.0)
    gate.tap("open button", 4.0)
    gate.do("press", control="stop button")
    gate.wait(2.0)
    gate.do("release", control="stop button")
    gate.do("bridge", guard="outer beam")
    gate.tap("close button", 3.0)
    gate.do("remove bridge", guard="outer beam")
    gate.do("release drive", leaf="active")
    gate.tap("open button", 12.0)
    gate.do("engage drive", leaf="active")
    gate.tap("close button", 3.0)
    gate.do("isolate")
    gate.tap("open button", 12.0)


def _at_the_panel(gate: Listened) -> None:
    """Seal, clock, jog, transmitters, status, defaults; then without any power, and with power again."""
    gate.do("seal sheet", name="Ms Grey", reason="as agreed with the owner")
    gate.do("set", setting="run speed", value="90")
    gate.do("unseal sheet", name="Ms Grey", reason="as agreed with the owner")
    gate.do("set clock")
    gate.do("jog press", leaf="active", direction="open")
    gate.wait(2.0)
    gate.do("jog release", leaf="active")
    gate.do("enrol transmitter", holder="Ms Grey", function="step")
    for tag in (each.tag for each in gate.world.site.transmitters):
        for _again in range(2):
            gate.do("press transmitter", transmitter=tag, button=1, distance_m=3.0)
            gate.wait(1.0)
            gate.do("release transmitter", transmitter=tag)
    gate.do("read status and log")
    gate.do("remove battery link")
    gate.wait(3.0)
    gate.do("read status and log")
    gate.do("fit battery link")
    gate.do("restore")
    gate.wait(2.0)
    gate.do("reset sheet")
    gate.wait(2.0)


def test_the_sheet_and_what_it_refuses(catalogue) -> None:
    """Every setting, with every choice and with what can't be."""
    gate = Listened(BENCH)
    for setting in SETTINGS.values():
        for value in (*map(str, setting.choices), "9999", "-5", "nonsense", str(setting.default)):
            gate.do("set", setting=setting.name, value=value)
        gate.look()
    for rule in rules.CONTRADICTIONS + rules.WARNINGS:
        gate.hear(rule.reason)
    gate.do("set", setting="no_such_thing", value="1")
    judged(gate, catalogue, 100)


@pytest.mark.parametrize("path", [BELLOWS, BENCH], ids=lambda path: path.stem)
def test_every_act_where_it_fits_and_where_it_does_not(catalogue, path) -> None:
    """Each act of the catalogue, twice, with each of its choices; then with what it can't be given."""
    gate = Listened(path)
    words = {"instrument": "tape", "function": "opening angle", "at": "active", "path": "1.0,-3.0 1.0,3.0"}
    for kind in CATALOGUE.values():
        if kind.group == "time" or kind.name in ("hand over", "make safe"):
            continue
        given = {a.name: a.default for a in kind.arguments if a.default is not None}
        given |= {
            a.name: words.get(a.name, "nonsense") for a in kind.arguments if a.default is None and a.type is str
        }
        given |= {a.name: a.least or 0 for a in kind.arguments if a.default is None and a.type in (int, float)}
        for choices in product(*([(a.name, each) for each in a.choices[:8]] for a in kind.arguments if a.choices)):
            gate.do(kind.name, **{**given, **dict(choices)})
            gate.do(kind.name, **{**given, **dict(choices)})
        gate.do(kind.name, no_such_thing=1)
        for a in kind.arguments:
            gate.do(kind.name, **{**given, a.name: -1e9})
            gate.do(kind.name, **{**given, a.name: "nonsense"})
        gate.look()
    gate.do("no_such_thing")
    gate.do("hand over")
    gate.do("wait", seconds=1.0)
    judged(gate, catalogue, 150)


@pytest.mark.parametrize("path", [BRICK_FIELD, BENCH], ids=lambda path: path.stem)
def test_every_instrument_everywhere(catalogue, path) -> None:
    """Each function of each instrument, where it belongs and where it doesn't; live and dead."""
    gate = Listened(path)
    bag = gate.world.bag
    assert isinstance(bag, Toolbag)
    for power in ("restore", "isolate"):
        gate.do(power)
        for instrument in bag.instruments.values():
            for function in instrument.functions:
                known_at = bag.spots(function) if function.at == "spot" else places(gate.world, function.at)
                there = (known_at or ("",))[:: max(1, len(known_at) // 3)]
                against = (places(gate.world, function.against) or ("",))[-1]
                for at in (*there, "no_such_thing"):
                    gate.do("measure", instrument=instrument.name, function=function.name, at=at, against=against)
                gate.do("measure", instrument=instrument.name, function=function.name)
            gate.do("measure", instrument=instrument.name, function="no_such_thing")
            gate.do("replace meter fuse", instrument=instrument.name)
    gate.do("measure", instrument="no_such_thing", function="nonsense")
    judged(gate, catalogue, 150)


def test_every_repair_and_every_fault(catalogue) -> None:
    """What can be mended, what ails a gate and what the customer says of it."""
    gate = Listened(BENCH)
    gate.do("isolate")
    for verb in VERBS:
        gate.do(verb, what="no_such_thing")
        for what in targets(gate.world, verb):
            gate.do(verb, what=what)
    for fault in FAULTS.values():
        for text in (fault.name, fault.family, fault.customer):
            gate.hear(text)
    judged(gate, catalogue, 300)


def test_what_a_person_wrote_stays_as_it_is(catalogue) -> None:
    """Though it be a word that has an entry: who seals and why, what a note says."""
    gate = Listened(MILL_LANE)
    gate.do("seal sheet", name="closed", reason="beams, edges")
    gate.do("unseal sheet", name="closed", reason="active")
    gate.do("note", text="active", entry="seen")
    gate.wait(1.0)
    speak(lambda sentence: f"«{sentence.replace('closed', 'shut').replace('active', 'first')}»")
    try:
        written = [_(text) for text in gate.close_the_book() if "seal" in text]
        assert _(gate.world.notebook.lines[-1].text) == "active"
    finally:
        speak(str)
    assert any("by closed: beams, edges" in text for text in written)
