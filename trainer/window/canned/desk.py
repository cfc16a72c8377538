"""A front desk with a few made-up jobs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sim.errors import Refused
from trainer.window.canned.session import CannedSession
from trainer.window.doors import JobCard, Mode

CARDS = (
    JobCard(
        "meet-the-gate",
        "Meet the gate",
        "learner",
        5,
        best=96.0,
        about="A healthy gate, nothing to set: say what each guard will do, then see it.",
        family="first steps",
    ),
    JobCard(
        "first-run",
        "First run",
        "learner",
        45,
        unfinished=True,
        about="A new two-leaf gate on its first day: survey, sheet, directions, guards, travel, force, hand-over.",
        family="commissioning from bare",
    ),
    JobCard(
        "opens-again",
        "It closes, then opens again",
        "working",
        25,
        best=61.5,
        about="The carter says it is worst in the morning. Find what reverses it, and prove it.",
        family="guards",
    ),
    JobCard(
        "after-the-storm",
        "After the storm",
        "senior",
        40,
        about="One leaf stands open and nobody remembers who released it.",
        family="weather",
    ),
)


@dataclass(frozen=True)
class CannedSite:
    """A made-up site."""

    path: str
    name: str
    setting: str
    usable: bool = True


@dataclass(frozen=True)
class CannedFault:
    """A made-up row of the catalogue."""

    name: str
    family: str
    customer: str


SITES = (
    CannedSite(
        "sites/orchard_row.yaml", "Orchard Row", "Shared drive of two houses, off a quiet lane with a footpath."
    ),
    CannedSite(
        "sites/bellows_passage.yaml", "Bellows Passage", "Narrow side entrance of a row of workshops; one leaf."
    ),
    CannedSite("sites/broken.yaml", "broken", "sites/broken.yaml:3 name: read 7; allowed: words", usable=False),
)
FAULTS = (
    CannedFault("board fuse blown by a short", "supply", "All of a sudden nothing works at all."),
    CannedFault("photo beam lens dirty or wet", "beam", "In the morning it won't close; by noon it does."),
    CannedFault("edge wet", "edge", "After rain it opens a hand's breadth and stops."),
    CannedFault("seized hinge", "mechanics", "It groans, and one side has become slow."),
    CannedFault("worn brushes", "motor", "Sometimes one leaf doesn't start until it is pushed."),
)


class CannedDesk:
    """Answers as a desk does."""

    def __init__(self, cards: Sequence[JobCard] = CARDS) -> None:
        self.cards = cards
        self.started: list[tuple[str, str, int]] = []
        self.session: CannedSession | None = None
        self.yards: list[tuple[str, tuple[tuple[str, float], ...], bool, int]] = []
        """Free yards that were begun: site file, faults, commissioned or not, draw."""
        self.left = ""

    def jobs(self) -> Sequence[JobCard]:
        """The made-up jobs."""
        return self.cards

    def start(self, name: str, mode: Mode, seed: int) -> CannedSession:
        """Any job opens the same gate."""
        if name == "after-the-storm":
            raise Refused("The site file of ‘After the storm’ could not be read.")
        self.started.append((name, mode, seed))
        self.session = CannedSession(mode, seed)
        return self.session

    def resume(self, name: str) -> CannedSession:
        """Any unfinished job opens the same gate."""
        self.started.append((name, "resume", -1))
        self.session = CannedSession()
        return self.session

    def sites(self) -> Sequence[CannedSite]:
        """The made-up sites."""
        return SITES

    def site(self, file: str) -> CannedSite:
        """Any file is a site, but for a broken one."""
        if "broken" in file:
            raise Refused(f"{file}:3 name: read 7; allowed: words")
        return CannedSite(file, "My own gate", "A gate of one's own.")

    def faults(self, site: str) -> Iterator[CannedFault]:
        """A gate with one leaf has no edge here."""
        return (fault for fault in FAULTS if "bellows" not in site or fault.family != "edge")

    def start_yard(
        self, site: str, faults: Sequence[tuple[str, float]], commissioned: bool, seed: int
    ) -> CannedSession:
        """Any yard opens the same gate."""
        self.yards.append((site, tuple(faults), commissioned, seed))
        self.session = CannedSession("practice", seed, graded=False)
        return self.session

    def yard_left(self) -> str:
        """What the test says was left."""
        return self.left

    def resume_yard(self) -> CannedSession:
        """The same gate again."""
        return self.start_yard(self.left, (), True, 0)
