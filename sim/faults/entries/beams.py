"""Faults of photo beams: aim, lenses, a stuck contact, a link of wire, sun, mirrors, pairs that see each other."""

from __future__ import annotations

from typing import Any, Final

from sim.faults.edit import Exchanged, Fact, Leak, Setting
from sim.faults.entries.steps import DEAD, ohms, volts
from sim.faults.entry import Band, Fault, Reference, Step, WrongRepair, step

SOURCE: Final = "common practice, no source"

CLOSED: Final = Band(-0.2, 1.0, unit="V")
"""Volts across a guard's terminals with the receiver's contact closed."""

OPEN: Final = Band(20.0, 26.4, unit="V")
"""About 24 V with it open."""

OUTER: Final = volts("outer beam, contact", "outer beam, common")
INNER: Final = volts("inner beam, contact", "inner beam, common")
MARGIN: Final = step("measure", instrument="signal margin reader", function="signal margin", at="outer beam")

IN_THE_OUTER: Final = (
    step("place body", body="test body", x_m=0.6, y_m=-0.25),
    step("wait", seconds=1.0),
    OUTER,
)
"""The test body in the outer beam, near its emitter, and the guard's terminals measured."""

IN_THE_INNER: Final = (step("place body", body="adult", x_m=2.0, y_m=2.3), step("wait", seconds=1.0), INNER)
"""Somebody in the inner beam, clear of the arc."""

LINKED: Final = WrongRepair(
    (step("bridge", guard="outer beam"),), "a link across the input: the gate closes on whoever stands there"
)

MISALIGNED: Final = Fault(
    name="photo beam misaligned",
    family="guards",
    customer="It won't close any more.",
    seen="The receiver's light is out, with nothing in the way.",
    fact="the receiver's post was knocked and looks past the emitter",
    edits=(Fact("guards.outer_beam.receiver_aim_deg", 15.0, 35.0),),
    reference=Reference((OUTER,), CLOSED, OPEN),
    repair=(step("align", what="outer beam"),),
    wrong=(LINKED,),
    verification="the test body cuts the beam at three places, and the margin is read again",
    trap="a wide lobe comes back by its edge, and may pass an obstacle beside the post",
    source=SOURCE,
)

DIRTY: Final = Fault(
    name="photo beam lens dirty or wet",
    family="guards",
    customer="It opens again for no reason.",
    seen="Webs and dew on the lens; the receiver's light flickers.",
    fact="dirt and dew on the receiver's lens take most of the light",
    edits=(Fact("guards.outer_beam.receiver_dirt", 0.83, 0.95),),
    reference=Reference(
        (volts("accessory supply, plus", "accessory supply, minus"), MARGIN),
        Band(4.0, 50.0, unit="×"),
        Band(0.0, 2.0, unit="×"),
    ),
    repair=(step("clean", what="outer beam lenses"),),
    wrong=(LINKED,),
    verification="the margin is read again, and ten closings in the dew",
    trap="it is not left bridged for the night: at night nobody is seen",
    source=SOURCE,
)

WELDED: Final = Fault(
    name="photo beam output welded",
    family="guards",
    customer="It closed on the wheelbarrow.",
    seen="The receiver's light goes out, its contact stays closed.",
    fact="the contact of the receiver's relay is welded",
    edits=(
        Leak(
            "outer beam receiver, welded contact",
            "outer beam receiver.contact",
            "outer beam receiver.contact return",
            0.3,
            0.05,
        ),
    ),
    reference=Reference(IN_THE_OUTER, OPEN, CLOSED),
    repair=(*DEAD, step("replace", what="outer beam receiver")),
    wrong=(
        WrongRepair((step("set", setting="guard test", value="off"),), "the one test that finds it is switched off"),
    ),
    verification="blocked ten times, open ten times, and the test before movement on",
    trap="without the test before movement it stays hidden until it meets somebody",
    source=SOURCE,
)

BRIDGED: Final = Fault(
    name="photo beam bridged with a wire",
    family="guards",
    customer="It works since the repair, but it hit the car.",
    seen="A link of wire under the two screws.",
    fact="a piece of wire lies across the guard's input",
    edits=(Leak("outer beam, bridge", "outer beam.contact", "outer beam.common", 0.5, 0.02),),
    reference=Reference(
        (*DEAD, step("unplug", guard="outer beam"), ohms("outer beam, contact", "outer beam, common")),
        Band(3_000.0, 30_000.0, unit="Ω"),
        Band(0.0, 1.0, unit="Ω"),
        note="the board's own pull-up and rail lie beside the input: a bare input reads kiloohms, never quite open",
    ),
    repair=(*DEAD, step("remove bridge", guard="outer beam")),
    wrong=(
        WrongRepair(
            (step("set", setting="guard test", value="off"),),
            "the link still protects nobody, and now nothing else is tested",
        ),
    ),
    verification="with the plug out the gate must refuse to close",
    trap="a bridged beam is a beam that isn't there: the owner is told in writing",
    source=SOURCE,
)

EVENING: Final[dict[str, Any]] = {"surroundings.day": 96, "starts_at_h": 17.65, "weather.sunshine": 1.0}
"""The sun stands nine degrees high in the line of the outer beam."""

SUN: Final = Fault(
    name="low sun in the photo beam",
    family="guards",
    customer="In the evening it opens again, every fine day at the same time.",
    seen="The sun stands low behind the emitter, and the receiver's light is out.",
    fact="the receiver's hood is gone, and the sun shines into its lens",
    edits=(Fact("guards.outer_beam.hood_deg", 20.0, 90.0),),
    reference=Reference((MARGIN,), Band(4.0, 50.0, unit="×"), Band(0.0, 1.0, unit="×")),
    repair=(step("replace", what="outer beam hood"),),
    wrong=(LINKED,),
    verification="the margin is read at the hour at which it failed",
    trap="a hand that shades the lens is no hood: tomorrow it fails again",
    source=SOURCE,
    variant=EVENING,
)

MIRROR: Final = Fault(
    name="mirror light round the photo beam",
    family="guards",
    customer="It didn't stop for me, and yesterday it did.",
    seen="Somebody stands in the beam, and the receiver's light stays on.",
    fact="bright metal behind the inner beam throws the light round whoever stands in it",
    edits=(Fact("surroundings.mirrors.0.reflectance", 0.6, 0.9),),
    reference=Reference(IN_THE_INNER, OPEN, CLOSED),
    repair=(step("clear away", what="bright cladding"),),
    wrong=(WrongRepair((step("align", what="inner beam"),), "aimed anew, it still sees the emitter in the mirror"),),
    verification="the test body at three places of the beam opens the contact each time",
    trap="the beam passes its test before movement, and sees nobody",
    source=SOURCE,
    shows=IN_THE_INNER,
)

WIDE: Final[dict[str, Any]] = {
    f"guards.{guard}.{field}": value
    for guard in ("outer_beam", "inner_beam")
    for field, value in (("lobe_deg", 20.0), ("acceptance_deg", 20.0), ("rated_range_m", 30.0))
}
"""Pairs with wide lobes, made for six times the way they have here."""

CROSSED: Final = Fault(
    name="two photo beam pairs see each other",
    family="guards",
    customer="It worked when it was tested, and sometimes it doesn't.",
    seen="With its own beam cut, the receiver's light stays on.",
    fact="both pairs are set to one channel, and the outer receiver sees the inner emitter",
    edits=(Fact("guards.inner_beam.channel", 1),),
    reference=Reference(IN_THE_OUTER, OPEN, CLOSED),
    repair=(step("adjust", what="inner beam channel"),),
    wrong=(
        WrongRepair((step("clean", what="outer beam lenses"),), "more light comes, of the wrong emitter as well"),
    ),
    verification="each pair cut ten times alone, with the other clear",
    trap="the test before movement drops both emitters and finds nothing",
    source=SOURCE,
    variant={**WIDE, "guards.inner_beam.channel": 2},
    shows=IN_THE_OUTER,
)

ENDS_EXCHANGED: Final = Fault(
    name="photo beam emitter and receiver exchanged",
    family="commissioning",
    customer="Nothing at all: it was found at the yearly visit.",
    seen="With the emitters' supply withdrawn the receiver goes dark as well.",
    fact="emitter and receiver were mounted at each other's cable, and each hangs on the other's feed",
    edits=(
        Exchanged("outer beam, receiver plus core", "outer beam, emitter plus core", "b"),
        Exchanged("outer beam, receiver minus core", "outer beam, emitter minus core", "b"),
    ),
    reference=Reference(
        (
            step("unplug", guard="emitter supply"),
            volts("outer beam receiver, supply plus", "outer beam receiver, supply minus"),
        ),
        Band(20.0, 26.4, unit="V"),
        Band(-0.2, 1.0, unit="V"),
        note="with the emitters' supply withdrawn a receiver that is wired rightly is still fed",
    ),
    repair=(*DEAD, step("re-terminate", what="outer beam ends")),
    wrong=(
        WrongRepair(
            (step("align", what="outer beam"),), "aimed ever so well, the receiver goes out with the emitter"
        ),
    ),
    verification="with the emitters' supply withdrawn the receiver is fed and its contact opens",
    trap="the test before movement takes the receiver's own feed away: it passes whatever light the receiver sees",
    source=SOURCE,
    operates=False,
)


def _until_open(*during: Step) -> tuple[Step, ...]:
    return (
        step("press", control="open button"),
        step("wait", seconds=0.5),
        step("release", control="open button"),
        *during,
        step("wait until", what="fully open", at_most_s=40.0),
    )


REACTS: Final = Band(words=("fully open: yes",))
DOES_NOT: Final = Band(words=("fully open: not within",))

UNGUARDED: Final = Fault(
    name="auto-close without a photo beam",
    family="settings",
    customer="It closed on the car.",
    seen="The beam is cut and the gate goes on closing.",
    fact="the sheet says that the outer beam is not fitted",
    edits=(Setting("outer beam", "not fitted"),),
    reference=Reference(
        (
            step("set", setting="auto-close", value="on"),
            step("set", setting="auto-close after", value="5"),
            *_until_open(),
            step("wait until", what="the gate moves", at_most_s=60.0),
            step("wait", seconds=4.0),
            step("cover beam", guard="outer beam"),
            step("wait until", what="fully open", at_most_s=40.0),
        ),
        REACTS,
        DOES_NOT,
        note="with nobody near, a card before the receiver from outside the arc",
    ),
    repair=(step("set", setting="outer beam", value="reopen"),),
    wrong=(
        WrongRepair(
            (step("set", setting="auto-close", value="off"),), "closed by a button, it closes through the beam"
        ),
    ),
    verification="the beam is cut ten times while the gate closes by itself",
    trap="closing by itself asks for a beam and for force that is limited, both",
    source=SOURCE,
    shows=(step("cover beam", guard="outer beam"), step("wait", seconds=1.0)),
)

WRONG_WAY: Final = Fault(
    name="photo beam assigned to the wrong direction",
    family="settings",
    customer="It stops while it opens, when somebody walks by outside.",
    seen="The outer beam stops the gate in opening.",
    fact="the sheet has the outer beam hold the gate, as the inner one should",
    edits=(Setting("outer beam", "hold"),),
    reference=Reference(
        _until_open(step("wait", seconds=6.0), step("cover beam", guard="outer beam")),
        REACTS,
        DOES_NOT,
        note="this controller has no word for a beam that guards opening alone: held, the gate stands in opening",
    ),
    repair=(step("set", setting="outer beam", value="reopen"),),
    wrong=(
        WrongRepair(
            (*DEAD, step("bridge", guard="outer beam")),
            "bridged, it guards no direction, and a sheet looks as if it did",
        ),
    ),
    verification="the beam is cut in each direction five times",
    trap="the side that it should guard is unguarded while the gate closes, and a held gate bars whoever would leave",
    source=SOURCE,
    shows=_until_open(step("wait", seconds=6.0), step("cover beam", guard="outer beam")),
)

TEST_OFF: Final = Fault(
    name="test before movement off",
    family="settings",
    customer="It works better since the last visit.",
    seen="Nothing: a beam that is stuck is not reported.",
    fact="the sheet has the test before movement switched off",
    edits=(Setting("guard test", "off"),),
    reference=Reference(
        (
            step(
                "place instrument",
                instrument="multimeter",
                function="volts dc",
                at="emitter supply, plus",
                against="emitter supply, minus",
            ),
            *_until_open(),
            step("read instrument", instrument="multimeter"),
        ),
        Band(-0.2, 1.0, unit="V"),
        Band(20.0, 26.4, unit="V"),
        figure="least",
        note="the emitters' supply is dropped at a start, or it isn't; unplugged, a receiver reads open either way",
    ),
    repair=(step("set", setting="guard test", value="on"),),
    wrong=(
        WrongRepair(
            (step("replace", what="outer beam receiver"),), "a new receiver is as little tested as the old one"
        ),
    ),
    verification="a receiver bridged for the test, nobody near: the gate refuses to start; then the link comes out",
    trap="a contact that is welded now stays hidden",
    source=SOURCE,
)

GROWN: Final = Fault(
    name="plants in the photo beam",
    family="surroundings",
    customer="It opens again whenever there is a breeze.",
    seen="A branch sways through the beam.",
    fact="the bush beside the post has grown to the beam",
    edits=(Fact("surroundings.foliage.0.along_y_m", 0.8, 0.95),),
    reference=Reference(
        (
            step(
                "place instrument",
                instrument="multimeter",
                function="volts dc",
                at="outer beam, contact",
                against="outer beam, common",
            ),
            step("wait", seconds=600.0),
            step("read instrument", instrument="multimeter"),
        ),
        CLOSED,
        OPEN,
        figure="most",
        note="ten minutes of a breeze of 7 m/s",
    ),
    repair=(step("prune", what="what grows near the beams"),),
    wrong=(LINKED,),
    verification="ten minutes of breeze without a flicker, and the test body cuts the beam",
    trap="who cuts branches near a drive that is live is in its arc",
    source=SOURCE,
    variant={"weather.wind_m_s": 7.0, "weather.wind_from_deg": 180.0, "weather.gust_intensity": 0.3},
    shows=(step("wait", seconds=600.0),),
)

BEAMS: Final = (
    MISALIGNED,
    DIRTY,
    WELDED,
    BRIDGED,
    SUN,
    MIRROR,
    CROSSED,
    ENDS_EXCHANGED,
    UNGUARDED,
    WRONG_WAY,
    TEST_OFF,
    GROWN,
)
