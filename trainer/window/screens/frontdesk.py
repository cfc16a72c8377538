"""The front desk: who is there, and for each of them what she came for; the settings of the window."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, cast, get_args

from trainer.language import _
from trainer.window.kit.boxes import Column, Row, Spacer
from trainer.window.kit.button import Button
from trainer.window.kit.choice import RadioRow
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Label, Note
from trainer.window.kit.style import SHEET, SOFT, WARN, WARN_WASH, Style
from trainer.window.kit.widget import Size, Widget
from trainer.window.preferences import Who
from trainer.window.screens.joblist import JobsPage
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.window.doors import Coach, Desk, DrillShelf, JobCard, Mode, WorkSession
    from trainer.window.kit.pen import Pen
    from trainer.window.screens.freeyard import Start

CAUTION = (
    "A training model: it certifies nothing. Real gates crush and kill. Isolate and prove dead. "
    "Follow the standard in force, local codes and licensed practice."
)
PAGES: Final = {
    "apprentice": ("Jobs", "Free yard"),
    "instructor": ("Drills", "Jobs", "Free yard"),
    "engineer": ("Free yard", "Bench", "Jobs"),
}
"""What each of them finds here, the first of it open."""


@dataclass(frozen=True, slots=True)
class Ways:
    """Where the front desk leads."""

    start: Callable[[JobCard, Mode, int], None]
    resume: Callable[[JobCard], None]
    yard: Start
    resume_yard: Callable[[], None]
    drill: Callable[[Callable[[Callable[[str], None]], WorkSession]], None]
    """Begins a drill or goes on with one, given where its instructor's words go."""
    settings: Callable[[], None]
    be: Callable[[Who], None]
    """Somebody else is there now; it is remembered."""


class Subtitle(Label):
    """A line that is left out where it has no room: nobody needs the beginning of it."""

    def wish(self, style: Style, width: int) -> Size:
        """One line, never more."""
        return min(style.width(self.text, self.size, self.face), width), style.line(self.size, self.face)

    def draw(self, pen: Pen) -> None:
        """All of it or nothing."""
        if pen.style.width(self.text, self.size, self.face) <= self.rect.width:
            super().draw(pen)


class FrontDesk(Column):
    """Say who you are, and choose what to do."""

    def __init__(
        self, desk: Desk, who: Who, ways: Ways, shelf: DrillShelf | None = None, coach: Coach | None = None
    ) -> None:
        """Without a `shelf` there are no drills to choose from; without a `coach` nobody says what to practise."""
        self.desk = desk
        self.shelf = shelf
        self.coach = coach
        self.ways = ways
        self.who = RadioRow(
            _("who you are"),
            get_args(Who),
            who,
            self._be,
            words=lambda w: first_upper(_(w)),
            help=_("It decides what is offered here, and nothing else"),
        )
        self.pages = RadioRow(
            _("shown"), PAGES[who], PAGES[who][0], self._open, words=_, help=_("What is shown here")
        )
        self.tabs = Row(self.pages, Spacer(grow=1.0))
        self._made: dict[str, Widget] = {}
        self.body = Column(gap=0, pad=(28, 12), grow=1.0)
        super().__init__(self._head(), self.body, self._foot(), gap=0, role="screen", label=_("front desk"))
        self._be_shown(who)

    def _head(self) -> Column:
        return Column(
            Row(
                Label("Gudgeon", face=Face.BOLD, size=26),
                Subtitle(_("the training yard for an automated swing gate"), colour=SOFT, size=14, grow=1.0),
                self.who,
                Button(_("Settings…"), self.ways.settings, help=_("Language, text, colours, motion, sound")),
                gap=16,
            ),
            self.tabs,
            gap=10,
            pad=(28, 14),
            fill=SHEET,
        )

    def _foot(self) -> Column:
        return Column(Note(_(CAUTION), WARN, WARN_WASH, sign="⚠", size=13), pad=(28, 14))

    def _be(self, who: str) -> None:
        self.ways.be(cast("Who", who))
        self._be_shown(cast("Who", who))

    def _be_shown(self, who: Who) -> None:
        self.pages.choices = list(PAGES[who])
        self.pages.chosen = PAGES[who][0]
        self.tabs.visible = len(PAGES[who]) > 1
        self.stale()
        self._open(self.pages.chosen)

    def _open(self, page: str) -> None:
        """Show a page; it is made when it is opened for the first time."""
        makers: dict[str, Callable[[], Widget]] = {
            "Jobs": self._jobs,
            "Free yard": self._yard,
            "Drills": self._drills,
            "Bench": self._bench,
        }
        if page not in self._made:
            self._made[page] = makers[page]()
        self.body.fill_with([self._made[page]])

    def pass_time(self, wall_s: float) -> None:
        """For the page that is open."""
        for page in self.body.children:
            page.pass_time(wall_s)

    def _jobs(self) -> Widget:
        cards = list(self.desk.jobs())
        following = self.coach.next(cards) if self.coach is not None else None
        return JobsPage(cards, self.ways.start, self.ways.resume, following)

    def _yard(self) -> Widget:
        from trainer.window.screens.freeyard import FreeYardPage

        return FreeYardPage(self.desk, self.ways.yard, self.ways.resume_yard)

    def _drills(self) -> Widget:
        from trainer.window.screens.drillpage import DrillPage

        shelf = self.shelf
        if shelf is None:
            return DrillPage((), lambda _card: None, lambda _card: None)
        return DrillPage(
            shelf.drills(),
            lambda card: self.ways.drill(lambda say: shelf.start(card.path, say)),
            lambda card: self.ways.drill(lambda say: shelf.resume(card.path, say)),
        )

    def _bench(self) -> Widget:
        from trainer.window.screens.benchwork import BenchPage

        return BenchPage()
