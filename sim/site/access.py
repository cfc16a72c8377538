"""How people and vehicles ask for the gate: loop, radio, keypad, intercom, timer, emergency access, transmitters."""

from __future__ import annotations

from typing import Literal, TypeAlias

from sim.site.fields import (
    ENGINEERING,
    PRACTICE,
    SURVEY,
    Frozen,
    choice,
    optional_quantity,
    part,
    quantity,
    required_words,
)

NotFitted: TypeAlias = Literal["not fitted"]
CommandInput: TypeAlias = Literal["open button", "step button", "timer contact", "pedestrian button"]
"""A command input that another contact can be wired to, beside the control of its name."""

EmergencyInput: TypeAlias = Literal["emergency contact", "open button", "step button", "timer contact"]
"""Where an emergency-access contact can be wired; only at the input of its name the gate opens and stays open."""


class PresenceLoop(Frozen):
    """A loop of wire in the ground and its detector. It sees metal, never people."""

    x_m: float = quantity(2.0, "m", -20.0, 20.0, "middle of the loop, along the opening", SURVEY)
    y_m: float = quantity(4.0, "m", -30.0, 30.0, "middle of the loop, towards the inside", SURVEY)
    along_x_m: float = quantity(2.0, "m", 0.5, 8.0, "extent along the opening", SURVEY)
    along_y_m: float = quantity(1.0, "m", 0.5, 8.0, "extent towards the inside", SURVEY)
    turns: int = quantity(4, "-", 1, 10, "turns of wire in the slot", SURVEY)
    wire_pitch_m: float = quantity(0.005, "m", 0.002, 0.02, "from turn to turn in the slot", PRACTICE)
    feeder_m: float = quantity(15.0, "m", 0.5, 200.0, "twisted pair from the loop to its detector", SURVEY)
    capacitor_nf: float = quantity(100.0, "nF", 10.0, 1000.0, "tuning capacitor chosen at the detector", PRACTICE)
    sensitivity: float = quantity(
        0.001, "-", 0.0001, 0.01, "share of the inductance that must be missing for presence", PRACTICE
    )
    stray_metal: float = quantity(
        0.0, "-", 0.0, 0.05, "share of the inductance that metal takes which came near since it was laid", PRACTICE
    )
    neighbour_khz: float | None = optional_quantity(
        "kHz", 10.0, 200.0, "frequency of another loop's detector close by", "no other loop", SURVEY
    )
    output: CommandInput = choice(
        "timer contact",
        "where the detector's contact is wired: open button, step button, timer contact, pedestrian button",
    )


class Receiver(Frozen):
    """The radio receiver's surroundings and its aerial."""

    frequency_mhz: float = quantity(433.92, "MHz", 433.05, 434.79, "centre of the channel", PRACTICE)
    aerial_mm: float = quantity(173.0, "mm", 5.0, 400.0, "length of its wire; a quarter wave is 173", SURVEY)
    aerial_height_m: float = quantity(2.0, "m", 0.3, 10.0, "of the aerial above ground", SURVEY)
    sensitivity_dbm: float = quantity(-95.0, "dBm", -115.0, -60.0, "least level that it understands", PRACTICE)
    noise_dbm: float = quantity(-105.0, "dBm", -120.0, -60.0, "level with nobody sending", PRACTICE)
    interferer_dbm: float | None = optional_quantity(
        "dBm", -120.0, -10.0, "level of something that sends all the time on this channel", "nothing does", SURVEY
    )
    shading_db: float = quantity(
        15.0, "dB", 0.0, 60.0, "lost to hands, posts and walls on the way, beyond the open field", PRACTICE
    )


class Transmitter(Frozen):
    """A hand transmitter in the box."""

    tag: str = required_words("what is written on it", 40)
    buttons: int = quantity(2, "-", 1, 4, "number of buttons", SURVEY)
    serial: str = required_words("serial number it sends; letters and digits of our own", 40)
    erp_dbm: float = quantity(-15.0, "dBm", -40.0, 10.0, "radiated power with a fresh cell", PRACTICE)
    charge: float = quantity(1.0, "-", 0.0, 1.0, "what is left in its cell", SURVEY)
    presses: int = quantity(0, "-", 0, 1_000_000, "how often it was pressed before", SURVEY)
    code: Literal["rolling", "fixed"] = choice(
        "rolling", "whether its word changes with every press: rolling, or the same word each time: fixed"
    )


class RadioLink(Frozen):
    """A safety edge without wires: a transmitter with a cell in the leaf, its receiver beside the board."""

    charge: float = quantity(1.0, "-", 0.0, 1.0, "what is left in its cell", SURVEY)
    erp_dbm: float = quantity(-20.0, "dBm", -40.0, 10.0, "radiated power with a fresh cell", PRACTICE)
    distance_m: float = quantity(5.0, "m", 0.5, 50.0, "from the leaf to the receiver", SURVEY)
    shading_db: float = quantity(15.0, "dB", 0.0, 60.0, "lost in steel and posts on the way", PRACTICE)
    heartbeat_s: float = quantity(10.0, "s", 1.0, 60.0, "how often it says that it is well", PRACTICE)


class WiredContact(Frozen):
    """A contact of its own, wired beside a control to one command input."""

    cable_m: float = quantity(8.0, "m", 0.5, 300.0, "one way, from the board", SURVEY)
    output: CommandInput = choice(
        "open button", "where its contact is wired: open button, step button, timer contact, pedestrian button"
    )


class Emergency(Frozen):
    """A contact for those who must get in: closed once, it stays closed until it is set back by hand."""

    cable_m: float = quantity(8.0, "m", 0.5, 300.0, "one way, from the board", SURVEY)
    output: EmergencyInput = choice(
        "emergency contact",
        "where its contact is wired: emergency contact, open button, step button, timer contact; only at the first "
        "does the gate stay open when the contact is set back",
    )


class TimerProgramme(Frozen):
    """When the timer contact is closed, each day."""

    closes_at_h: float = quantity(7.0, "h", 0.0, 24.0, "hour at which its contact closes: the gate opens", SURVEY)
    opens_at_h: float = quantity(18.0, "h", 0.0, 24.0, "hour of day at which its contact opens again", SURVEY)


class Access(Frozen):
    """What asks for the gate beside push-buttons. Each may be `not fitted`."""

    loop: PresenceLoop | NotFitted = part("presence loop with its detector, or not fitted", default="not fitted")
    receiver: Receiver = part("the radio receiver", default=Receiver())
    keypad: WiredContact | NotFitted = part("keypad with a contact, or not fitted", default="not fitted")
    intercom: WiredContact | NotFitted = part("contact of the intercom, or not fitted", default="not fitted")
    emergency: Emergency | NotFitted = part("emergency-access contact, or not fitted", default="not fitted")
    timer: TimerProgramme | NotFitted = part(
        "programme of the clock that moves the timer contact, or not fitted: then nobody moves it",
        default="not fitted",
    )
    button_bounce_s: float = quantity(
        0.0, "s", 0.0, 0.2, "how long a push-button's contact chatters; worn ones 0.02 and more", ENGINEERING
    )


__all__ = [
    "Access",
    "CommandInput",
    "Emergency",
    "EmergencyInput",
    "NotFitted",
    "PresenceLoop",
    "RadioLink",
    "Receiver",
    "TimerProgramme",
    "Transmitter",
    "WiredContact",
]
