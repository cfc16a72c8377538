"""Where the tour stops: what is pointed at, what is said of it, and which part of the screen has to be shown."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from trainer.window.kit.widget import Widget
    from trainer.window.screens.work import WorkScreen


@dataclass(frozen=True, slots=True)
class TourStop:
    """One callout. Title and text are English; they go through the catalogue where they are shown."""

    title: str
    text: str
    shown: str
    """The part of a narrow screen on which it is: `Yard`, `Folder` or `Time`."""
    at: Callable[[WorkScreen], Widget]
    """What is pointed at."""
    tab: str = ""
    """English name of the folder's tab that is meant, where it is one."""


STOPS: Final = (
    TourStop(
        "The yard",
        "The gate from above, to scale. Press a leaf, a drive or a guard and you are told what can be done there. "
        "Drag to move the plan, turn the wheel to come nearer.",
        "Yard",
        lambda work: work.plan,
    ),
    TourStop(
        "Controls",
        "These act only while you hold them, as on site: mouse, Space or Enter. Letting go lets go.",
        "Yard",
        lambda work: work.controls,
    ),
    TourStop(
        "Stop",
        "Stops everything that moves. The key S presses it and lets it out again, whatever else you hold.",
        "Yard",
        lambda work: work.controls.held["stop button"],
    ),
    TourStop(
        "Supply",
        "What feeds the cabinet now. There are two sources, mains and battery: with one off it is still live.",
        "Yard",
        lambda work: work.bar.supply,
    ),
    TourStop(
        "Job folder",
        "Your job on paper. Read the brief, do the survey, then go down the tabs; a badge says what waits there.",
        "Folder",
        lambda work: work.folder.tabs,
    ),
    TourStop(
        "Cabinet",
        "Isolate, prove dead, then put your hands in: terminals, plugs and fuses are on this page and its drawing.",
        "Folder",
        lambda work: work.folder.tabs,
        tab="Cabinet",
    ),
    TourStop(
        "Time strip",
        "Everything that happens is drawn here. Drag along it to look back; in practice you can go on from there.",
        "Time",
        lambda work: work.time,
    ),
    TourStop(
        "More help",
        "Rest the pointer on anything and it says what it is. F1 explains the words of the trade. "
        "This tour is under More.",
        "Yard",
        lambda work: work.bar.more,
    ),
)
