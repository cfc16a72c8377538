"""A site: what is installed in one place, as it really is. The sheet of the controller may say otherwise.

Frozen models; every field carries its unit in its name and describes itself with range and source. Axes: x along
the opening from the active leaf's hinge to the inactive leaf's hinge, y towards the inside.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal, TypeAlias

from pydantic import Field, model_validator

from sim.site import one_leaf, plausible
from sim.site.access import Access, Emergency, PresenceLoop, RadioLink, Receiver, TimerProgramme, WiredContact
from sim.site.drives import (
    DRIVE_KINDS,
    AnyDrive,
    ArticulatedArm,
    Drive,
    Drives,
    HydraulicRam,
    Sensing,
    Underground,
)
from sim.site.electrics import SECTIONS_MM2, Battery, Cable, Cables, Lock, Supply, YardLight
from sim.site.enclosure import Enclosure
from sim.site.fields import MEMORY, OURS, PRACTICE, SURVEY, Frozen, choice, part, quantity, required_words, words
from sim.site.guards import (
    GUARD_NAMES,
    Beam,
    ControlName,
    Device,
    Edge,
    GuardName,
    Guards,
    NotFitted,
    Stop,
    Transmitter,
)
from sim.site.leaves import Bearings, CoverStrip, Fitting, HingeGap, Leaf, Leaves, Post, Ridge
from sim.site.motors import AnyMotor, InductionMotor, Motor, Warmth
from sim.site.surroundings import Foliage, Mirror, Surroundings
from sim.units import LeafName

UserGroup: TypeAlias = Literal["instructed", "instructed with public", "anyone"]
ShortText: TypeAlias = Annotated[str, Field(min_length=1, max_length=120)]


class Weather(Frozen):
    """The weather of the day."""

    temperature_c: float = quantity(15.0, "°C", -40.0, 50.0, "air", SURVEY)
    wind_m_s: float = quantity(0.0, "m/s", 0.0, 40.0, "mean wind", SURVEY)
    wind_class: Literal["class 0", "class 1", "class 2", "class 3", "class 4"] | None = part(
        "in the place of a speed, the wind that presses as a class of EN 12424 says: class 0, class 1, class 2, "
        "class 3, class 4, or null",
        MEMORY,
        default=None,
    )
    gust_intensity: float = quantity(
        0.0, "-", 0.0, 0.6, "deviation of the gusts as a share of the mean wind; near ground 0.2 to 0.35", PRACTICE
    )
    gust_time_s: float = quantity(2.0, "s", 0.5, 10.0, "how long a gust hangs together; usual 1 to 3", PRACTICE)
    wind_from_deg: float = quantity(
        0.0,
        "°",
        0.0,
        360.0,
        "where it blows from: 0 inside, 90 the inactive side, 180 outside, 270 the active side",
        SURVEY,
    )
    rain_mm_h: float = quantity(0.0, "mm/h", 0.0, 150.0, "rain; 2 is light, 10 heavy", SURVEY)
    visibility_m: float = quantity(20_000.0, "m", 10.0, 50_000.0, "how far one sees; fog is below 1000", SURVEY)
    sunshine: float = quantity(0.0, "-", 0.0, 1.0, "share of the sun that comes through; 0 overcast, 1 clear", SURVEY)


class Wall(Frozen):
    """A rectangle of masonry on the plan."""

    name: str = words("wall", "what it is", 60)
    x_m: float = quantity(0.0, "m", -50.0, 50.0, "corner nearest to the active side, along the opening", SURVEY)
    y_m: float = quantity(0.0, "m", -50.0, 50.0, "corner nearest to the outside", SURVEY)
    along_x_m: float = quantity(0.3, "m", 0.01, 50.0, "extent along the opening", SURVEY)
    along_y_m: float = quantity(0.3, "m", 0.01, 50.0, "extent towards the inside", SURVEY)


class Hazard(Frozen):
    """A place where people can be hurt, and what may be written down as its protection."""

    hazard: str = required_words("the place, in words", 120)
    covers: Annotated[tuple[ShortText, ...], Field(strict=False)] = part(
        "every right answer: guards by name, or other means in words", most=10, default=()
    )
    choices: Annotated[tuple[ShortText, ...], Field(strict=False)] = part(
        "every answer offered, the right ones among them", most=20, default=()
    )


class Site(Frozen):
    """Everything that stands in one place."""

    format: Literal["gudgeon-site/1"] = choice("gudgeon-site/1", "format of the file: gudgeon-site/1", OURS)
    name: str = required_words("the place, invented", 80)
    setting: str = words("a drive between two posts", "the place in one line", 300)
    opens_towards: Literal["inside", "outside"] = choice("inside", "which side the leaves open to: inside or outside")
    opening_width_m: float = quantity(
        4.02, "m", 1.0, 12.0, "hinge line to hinge line; with one leaf, to the face of its closing post", SURVEY
    )
    user_group: UserGroup = choice(
        "instructed with public", "who really uses it: instructed, instructed with public, anyone"
    )
    leaves: Leaves = part("what hangs here: two leaves, or the active one alone", default=Leaves())
    cover_strip: CoverStrip | NotFitted = part(
        "the strip over the meeting gap, or not fitted where there is one leaf", default=CoverStrip()
    )
    drives: Drives = part("the drive of every leaf", default=Drives())
    cables: Cables = part("cable runs", default=Cables())
    supply: Supply = part("supply, fuse and battery", default=Supply())
    lock: Lock | NotFitted = part("electric lock, or not fitted", default="not fitted")
    enclosure: Enclosure = part("the control box", default=Enclosure())
    yard_light: YardLight | NotFitted = part("light over the yard, or not fitted", default="not fitted")
    guards: Guards = part("what protects people", default=Guards())
    controls: Annotated[tuple[ControlName, ...], Field(strict=False)] = part(
        "which command terminals are wired: open button, close button, step button, key switch, timer contact, "
        "pedestrian button",
        most=6,
        default=("open button", "close button", "step button"),
    )
    access: Access = part("loop, radio, keypad, intercom, timer, emergency access", default=Access())
    transmitters: Annotated[tuple[Transmitter, ...], Field(strict=False)] = part(
        "transmitters in the box", most=20, default=()
    )
    starts_at_h: float = quantity(10.0, "h", 0.0, 24.0, "hour of day at which the visible clock starts", SURVEY)
    weather: Weather = part("the weather", default=Weather())
    surroundings: Surroundings = part("place on earth, day, what grows and what mirrors", default=Surroundings())
    walls: Annotated[tuple[Wall, ...], Field(strict=False)] = part("masonry on the plan", most=40, default=())
    hazards: Annotated[tuple[Hazard, ...], Field(strict=False)] = part("truth of the survey", most=20, default=())

    @model_validator(mode="before")
    @classmethod
    def _one_leaf(cls, data: Any) -> Any:
        return one_leaf.completed(data)

    @model_validator(mode="after")
    def _possible(self) -> Site:
        plausible.check(self)
        return self

    @property
    def opens_first(self) -> LeafName:
        """Which leaf is free to move when the other is shut: the strip's carrier if the strip lies on the side
        the leaves open to, else the other leaf (common practice). One leaf alone is always free."""
        if self.cover_strip == "not fitted":
            return "active"
        carrier = self.cover_strip.carrier
        if self.cover_strip.face == self.opens_towards:
            return carrier
        return "inactive" if carrier == "active" else "active"

    @property
    def meeting_gap_m(self) -> float:
        """Clear distance between the closing edges when all is shut, or from one leaf's to its closing post [m]."""
        return self.opening_width_m - sum(leaf.width_m for leaf in self.leaves.hung)

    def right_answers(self) -> dict[str, tuple[str, ...]]:
        """Hazard: every right answer on this site. A guard that is not fitted is no answer."""
        fitted = self.guards.fitted
        return {
            row.hazard: tuple(answer for answer in row.covers if fitted.get(answer, True)) for row in self.hazards
        }


__all__ = [
    "DRIVE_KINDS",
    "GUARD_NAMES",
    "SECTIONS_MM2",
    "Access",
    "AnyDrive",
    "AnyMotor",
    "ArticulatedArm",
    "Battery",
    "Beam",
    "Bearings",
    "Cable",
    "Cables",
    "ControlName",
    "CoverStrip",
    "Device",
    "Drive",
    "Drives",
    "Edge",
    "Emergency",
    "Fitting",
    "Foliage",
    "GuardName",
    "Guards",
    "Hazard",
    "HingeGap",
    "HydraulicRam",
    "InductionMotor",
    "Leaf",
    "Leaves",
    "Lock",
    "Mirror",
    "Motor",
    "NotFitted",
    "Post",
    "PresenceLoop",
    "RadioLink",
    "Receiver",
    "Ridge",
    "Sensing",
    "Site",
    "Stop",
    "Supply",
    "Surroundings",
    "TimerProgramme",
    "Transmitter",
    "Underground",
    "UserGroup",
    "Wall",
    "Warmth",
    "Weather",
    "WiredContact",
    "YardLight",
]
