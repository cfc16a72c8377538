"""Guards and controls: what protects people, and which command inputs are wired."""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

from sim.site.access import NotFitted, RadioLink, Transmitter
from sim.site.beams import Beam
from sim.site.fields import PRACTICE, SURVEY, Frozen, choice, part, quantity

GuardName: TypeAlias = Literal["outer beam", "inner beam", "active edge", "inactive edge", "stop circuit"]
ControlName: TypeAlias = Literal[
    "open button", "close button", "step button", "key switch", "timer contact", "pedestrian button"
]
ProfileWiring: TypeAlias = Literal[
    "in series, one end resistor", "in series, a resistor each", "in parallel, a resistor each"
]

GUARD_NAMES: Final[tuple[GuardName, ...]] = (
    "outer beam",
    "inner beam",
    "active edge",
    "inactive edge",
    "stop circuit",
)
"""Every guard input there can be, in the order of the terminals."""


class Edge(Frozen):
    """A soft closing edge with an end resistor, on the leaf it is named after."""

    ohm: float = quantity(8200.0, "Ω", 100.0, 100_000.0, "end resistor", PRACTICE)
    stiffness_n_m: float = quantity(20_000.0, "N/m", 1_000.0, 500_000.0, "of the profile", PRACTICE)
    working_travel_m: float = quantity(
        0.03, "m", 0.005, 0.1, "how far the profile gives before it is hard; usual 0.01 to 0.05", PRACTICE
    )
    trip_force_n: float = quantity(40.0, "N", 5.0, 150.0, "force at which it switches", PRACTICE)
    bottom_m: float = quantity(0.0, "m", 0.0, 4.0, "where the profile begins, above ground", SURVEY)
    top_m: float = quantity(4.5, "m", 0.1, 4.5, "where it ends, above ground", SURVEY)
    profiles: int = quantity(1, "-", 1, 3, "how many profiles it is made of", SURVEY)
    wiring: ProfileWiring = choice(
        "in series, one end resistor",
        "how several profiles are wired: in series, one end resistor; or wrongly: in series, a resistor each; "
        "in parallel, a resistor each",
    )
    dead_from_m: float = quantity(0.0, "m", 0.0, 4.5, "where a part that doesn't react begins, above ground", SURVEY)
    dead_to_m: float = quantity(0.0, "m", 0.0, 4.5, "where it ends; not above its begin: there is none", SURVEY)
    water: float = quantity(0.0, "-", 0.0, 1.0, "how much water stands in the profile", SURVEY)
    radio: RadioLink | None = part("its radio link, or null when it is wired", default=None)

    def reacts(self, low_m: float, high_m: float) -> bool:
        """Whether anything of the profile that reacts lies between two heights above ground [m]."""
        low, high = max(low_m, self.bottom_m), min(high_m, self.top_m)
        dead = self.dead_from_m < self.dead_to_m
        return low <= high and not (dead and self.dead_from_m <= low and high <= self.dead_to_m)


class Stop(Frozen):
    """One stop button or several in series, each with a normally closed contact."""

    x_m: float = quantity(-0.5, "m", -10.0, 20.0, "where it hangs, along the opening", SURVEY)
    y_m: float = quantity(0.3, "m", -20.0, 20.0, "where it hangs, towards the inside", SURVEY)
    buttons: int = quantity(1, "-", 1, 3, "how many buttons there are in its loop", SURVEY)


Device: TypeAlias = Beam | Edge | Stop


class Guards(Frozen):
    """What stands on the site, whatever the sheet says. A beam or edge may be `not fitted`."""

    outer_beam: Beam | NotFitted = part("beam outside the arc, or not fitted", default=Beam())
    inner_beam: Beam | NotFitted = part("beam inside the arc, or not fitted", default="not fitted")
    active_edge: Edge | NotFitted = part("soft edge of the active leaf, or not fitted", default=Edge())
    inactive_edge: Edge | NotFitted = part("soft edge of the inactive leaf, or not fitted", default=Edge())
    stop_circuit: Stop = part("the stop circuit; always there", default=Stop())

    def device(self, guard: str) -> Device | None:
        """The device that stands there, by the guard's name in words; None when it is not fitted."""
        if guard not in GUARD_NAMES:
            raise KeyError(f"there is no guard '{guard}'; the guards are: {', '.join(GUARD_NAMES)}")
        device: Device | NotFitted = getattr(self, guard.replace(" ", "_"))
        return None if device == "not fitted" else device

    @property
    def fitted(self) -> dict[str, bool]:
        """Guard name: does a device stand on site. In the order of the terminals."""
        return {name: self.device(name) is not None for name in GUARD_NAMES}


__all__ = [
    "GUARD_NAMES",
    "Beam",
    "ControlName",
    "Device",
    "Edge",
    "GuardName",
    "Guards",
    "NotFitted",
    "ProfileWiring",
    "Stop",
    "Transmitter",
]
