"""The made-up cabinet: its terminals, and the lines of its drawing."""

from __future__ import annotations

from collections.abc import Collection
from typing import Final

from sim.controller.ports import GUARD_TERMINALS
from trainer.session.view import TerminalView
from trainer.session.wiring import CoreView, WiringView, wiring_of

MAINS: Final = (
    ("isolator inlet", ("live", "neutral", "earth")),
    ("isolator outlet", ("live", "neutral", "earth")),
    ("residual-current device inlet", ("live", "neutral")),
    ("residual-current device outlet", ("live", "neutral")),
    ("power supply inlet", ("live", "neutral", "earth")),
    ("earth bar", ("earth",)),
)
DEVICES: Final = (
    ("power supply", ("plus", "minus")),
    ("battery", ("plus", "minus")),
    ("radio receiver", ("plus", "minus")),
)
BLOCKS: Final = (
    ("board supply", ("plus", "minus")),
    ("board battery", ("plus", "minus")),
    ("accessory supply", ("plus", "minus")),
    ("emitter supply", ("plus", "minus")),
    ("outer beam", ("contact", "common")),
    ("inner beam", ("contact", "common")),
    ("active edge", ("line", "common")),
    ("inactive edge", ("line", "common")),
    ("stop circuit", ("contact", "common")),
    ("open button", ("contact", "common")),
    ("close button", ("contact", "common")),
    ("step button", ("contact", "common")),
    ("key switch", ("contact", "common")),
    ("warning lamp", ("plus", "minus")),
    ("lock", ("plus", "minus")),
    ("active leaf motor", ("plus", "minus")),
    ("inactive leaf motor", ("plus", "minus")),
)
PLUGGED: Final = ("outer beam", "active edge", "inactive edge", "stop circuit")
YARD: Final = (
    ("outer beam receiver", ("contact", "contact return", "supply plus", "supply minus")),
    ("outer beam emitter", ("supply plus", "supply minus")),
    ("active edge at the leaf", ("line", "return")),
    ("inactive edge at the leaf", ("line", "return")),
    ("stop button", ("contact", "return")),
    ("open button at the post", ("contact", "return")),
    ("close button at the post", ("contact", "return")),
    ("step button at the post", ("contact", "return")),
    ("key switch at the post", ("contact", "return")),
    ("warning lamp at the post", ("plus", "minus")),
    ("lock at the leaf", ("plus", "minus")),
    ("active leaf motor at the leaf", ("plus", "minus")),
    ("inactive leaf motor at the leaf", ("plus", "minus")),
)
FEEDS: Final = (
    ("outer beam, receiver plus core", "accessory supply, plus", "outer beam receiver, supply plus"),
    ("outer beam, receiver minus core", "accessory supply, minus", "outer beam receiver, supply minus"),
    ("outer beam, emitter plus core", "emitter supply, plus", "outer beam emitter, supply plus"),
    ("outer beam, emitter minus core", "emitter supply, minus", "outer beam emitter, supply minus"),
    ("radio receiver, plus wire", "accessory supply, plus", "radio receiver, plus"),
    ("radio receiver, minus wire", "accessory supply, minus", "radio receiver, minus"),
    ("supply wire, plus", "power supply, plus", "board supply, plus"),
    ("supply wire, minus", "power supply, minus", "board supply, minus"),
    ("battery wire, minus", "battery, minus", "board battery, minus"),
)
LEADS: Final = (
    ("isolator outlet", "residual-current device inlet", ("live", "neutral")),
    ("residual-current device outlet", "power supply inlet", ("live", "neutral")),
    ("isolator outlet", "power supply inlet", ("earth",)),
    ("isolator inlet", "isolator outlet", ("earth",)),
    ("power supply inlet", "earth bar", ("earth",)),
)


def _rows() -> list[tuple[str, str, str, bool]]:
    plugs = tuple((f"{guard} plug", ("line" if "edge" in guard else "contact", "common")) for guard in PLUGGED)
    low = (*DEVICES, *BLOCKS, *plugs, *YARD)
    return [
        (f"{part}, {pin}", part, pin, on_mains)
        for parts, on_mains in ((MAINS, True), (low, False))
        for part, pins in parts
        for pin in pins
    ]


ROWS: Final = _rows()


def terminals(mains_on: bool, live: bool) -> tuple[TerminalView, ...]:
    """Every terminal, with what may be live while a source is on."""
    return tuple(
        TerminalView(name, part, pin, part == "isolator inlet" or (mains_on if mains else live))
        for name, part, pin, mains in ROWS
    )


def wiring(
    mains_on: bool, linked: bool, unplugged: Collection[str], bridged: Collection[str], swapped: Collection[str]
) -> WiringView:
    """The drawing as the made-up cabinet stands."""
    cores = [
        CoreView(name, name.split(", ")[0], "core" if name.endswith(" core") else "wire", a, b)
        for name, a, b in FEEDS
    ]
    cores.append(CoreView("battery link", "battery link", "link", "battery, plus", "board battery, plus", linked))
    for one, other, pins in LEADS:
        cores += [CoreView(f"lead, {one}, {pin}", "lead", "wire", f"{one}, {pin}", f"{other}, {pin}") for pin in pins]
    for device, closed in (("isolator", mains_on), ("residual-current device", True)):
        for pin in ("live", "neutral"):
            ends = f"{device} inlet, {pin}", f"{device} outlet, {pin}"
            cores.append(CoreView(f"{device}, {pin} pole", device, "switch", *ends, closed))
    names = [name for name, _part, _pin, _mains in ROWS]
    for guard in PLUGGED:
        for pin in ("line" if "edge" in guard else "contact", "common"):
            ends = f"{guard}, {pin}", f"{guard} plug, {pin}"
            cores.append(
                CoreView(f"{guard} plug, {pin} pole", f"{guard} plug", "plug", *ends, guard not in unplugged)
            )
    cores += _cables(names, swapped)
    for guard in GUARD_TERMINALS:
        if guard in bridged:
            first = "line" if "edge" in guard else "contact"
            ends = f"{guard}, {first}", f"{guard}, common"
            cores.append(CoreView(f"{guard}, bridge", guard, "bridge", *ends))
    return wiring_of(ROWS, tuple(cores))


def _cables(names: list[str], swapped: Collection[str]) -> list[CoreView]:
    """Two cores from each block, or its plug, to the device of its name."""
    cores = []
    for block, pins in BLOCKS:
        near = f"{block} plug" if block in PLUGGED else block
        far = {"outer beam": "outer beam receiver", "stop circuit": "stop button"}.get(block)
        places = (f"{block} at the post", f"{block} at the leaf")
        far = far or next((place for place in places if f"{place}, {pins[0]}" in names), "")
        if not far:
            continue
        back = next(p for p in ("contact return", "return", "minus") if f"{far}, {p}" in names)
        at_board = pins if block not in swapped else tuple(reversed(pins))
        for pin, end, name in zip(at_board, (pins[0], back), (pins[0], back.split()[-1]), strict=True):
            cores.append(CoreView(f"{block}, {name} core", block, "core", f"{near}, {pin}", f"{far}, {end}"))
    return cores
