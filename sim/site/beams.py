"""A photo beam: where its two ends stand, how they aim, how far they reach, and in what state their lenses are."""

from __future__ import annotations

from sim.site.fields import PRACTICE, SURVEY, Frozen, quantity


class Beam(Frozen):
    """A through-beam pair in a plane parallel to the opening: emitter on one side, receiver on the other."""

    y_m: float = quantity(-0.25, "m", -20.0, 20.0, "plane of the beam; negative is outside", SURVEY)
    height_m: float = quantity(0.25, "m", 0.05, 2.5, "above ground; 0.2 to 0.3 sees a lying body", PRACTICE)
    emitter_x_m: float = quantity(-0.2, "m", -10.0, 20.0, "emitter, along the opening from the active hinge", SURVEY)
    receiver_x_m: float = quantity(
        4.22, "m", -10.0, 20.0, "receiver, along the opening from the active hinge", SURVEY
    )
    rated_range_m: float = quantity(
        15.0,
        "m",
        1.0,
        100.0,
        "distance over which it just works, aimed, clean, in clear air; usual 10 to 20",
        PRACTICE,
    )
    lobe_deg: float = quantity(
        5.0, "°", 0.5, 45.0, "half width of the emitter's light at half its strength; usual 3 to 10", PRACTICE
    )
    acceptance_deg: float = quantity(
        6.0, "°", 0.5, 45.0, "half width of what the receiver sees at half its strength; usual 3 to 10", PRACTICE
    )
    emitter_aim_deg: float = quantity(
        0.0, "°", -90.0, 90.0, "how far the emitter is turned off its line; positive: towards the inside", SURVEY
    )
    receiver_aim_deg: float = quantity(
        0.0, "°", -90.0, 90.0, "how far the receiver is turned off its line; positive: towards the inside", SURVEY
    )
    emitter_lean_deg: float = quantity(
        0.0, "°", -45.0, 45.0, "how far its post leans along the line; positive: it looks up", SURVEY
    )
    receiver_lean_deg: float = quantity(
        0.0, "°", -45.0, 45.0, "how far its post leans along the line; positive: it looks up", SURVEY
    )
    emitter_dirt: float = quantity(
        0.0, "-", 0.0, 1.0, "share of its light that dirt, webs or dew on the emitter's lens take", SURVEY
    )
    receiver_dirt: float = quantity(
        0.0, "-", 0.0, 1.0, "share of the light that dirt, webs or dew on the receiver's lens take", SURVEY
    )
    rain_loss: float = quantity(
        0.0, "-", 0.0, 1.0, "share of the light that rain on a lens without a cover takes, at each end", PRACTICE
    )
    hood_deg: float = quantity(
        90.0,
        "°",
        1.0,
        90.0,
        "from this far off its axis nothing bright dazzles the receiver; a hood gives 10",
        PRACTICE,
    )
    dazzle: float = quantity(
        300.0, "-", 0.0, 1000.0, "how many times its threshold the full sun straight in its lens adds", PRACTICE
    )
    channel: int = quantity(
        1, "-", 1, 4, "what the pair is set to; a receiver sees emitters of its own channel", SURVEY
    )


__all__ = ["Beam"]
