"""The jobs: listed by family, filtered by grade, by family and by what is done; and beside them how to begin one."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Final

import pygame

from trainer.language import _
from trainer.window.kit.boxes import Column, Flow, Row, Spacer
from trainer.window.kit.button import Button
from trainer.window.kit.choice import Dropdown, RadioRow
from trainer.window.kit.entry import Entry, NumberEntry
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Heading, Label, Paragraph
from trainer.window.kit.split import Split
from trainer.window.kit.style import FIELD, GO, INK, SHEET, SMALL, SOFT, WARN, WHITE, WIRE_WASH, Style
from trainer.window.kit.widget import Size, Value, Widget
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.window.doors import JobCard, Mode, NextJob
    from trainer.window.kit.pen import Pen

MODES: Final = ("practice", "assessed")
ANY: Final = "any"
STATES: Final = (ANY, "unfinished", "not done yet", "done")
"""What of a job's state the list can be narrowed to."""


def state_of(card: JobCard) -> str:
    """What is done of a job: one of STATES, never `any`."""
    if card.unfinished:
        return "unfinished"
    return "not done yet" if card.best is None else "done"


class JobRow(Widget):
    """One job on the list: title, what is asked, grade, minutes, and what is done of it."""

    role = "job"

    def __init__(
        self,
        card: JobCard,
        on_mark: Callable[[JobCard], None],
        on_step: Callable[[int], None],
        on_take: Callable[[], None],
    ) -> None:
        super().__init__(card.title)
        self.keys_help = _("Arrows go through the list, Enter begins the job or goes on with it.")
        self.card = card
        self.number = 0
        """Its place among the jobs that are shown, from 1; 0 while it isn't."""
        self.on_mark = on_mark
        self.on_step = on_step
        self.on_take = on_take

    @property
    def marked(self) -> bool:
        """The list is one stop for Tab: only the marked job takes the focus."""
        return self.takes_focus

    @marked.setter
    def marked(self, marked: bool) -> None:
        self.takes_focus = marked

    @property
    def value(self) -> Value:
        """What is done of it, in words."""
        return self.done_words()

    def done_words(self) -> str:
        """Unfinished, best result, or nothing yet."""
        if self.card.unfinished:
            return _("unfinished")
        return _("best {score:.0f}").format(score=self.card.best) if self.card.best is not None else _("not done yet")

    def wish(self, style: Style, width: int) -> Size:
        """Title and up to two lines of what is asked."""
        return width, style.px(84)

    def draw(self, pen: Pen) -> None:
        """A card; the marked one has a thick left edge."""
        px, card, rect = pen.style.px, self.card, self.rect
        ground = WHITE if self.marked else (WIRE_WASH if pen.hover is self else SHEET)
        pen.box(rect, ground, INK if self.marked else FIELD, 3, 1.6 if self.marked else 1)
        if self.marked:
            pen.fill(pygame.Rect(rect.left, rect.top + px(3), px(5), rect.height - px(6)), INK)
        number = pygame.Rect(rect.left + px(14), rect.top, px(34), rect.height)
        pen.text(str(self.number), (number.centerx, rect.top + px(26)), 22, SOFT, anchor="centre")
        side = px(148)
        left = number.right + px(10)
        title = pygame.Rect(left, rect.top + px(12), rect.right - left - side, px(26))
        pen.text_in(_(card.title), title, 17, INK, Face.BOLD)
        about = pygame.Rect(left, rect.top + px(38), rect.right - left - side - px(8), px(40))
        pen.paragraph(_(card.about), about, 13, SOFT, most=2)
        right = rect.right - px(16)
        grade = _("{grade} · {minutes:g} min").format(grade=_(card.grade), minutes=card.minutes)
        pen.text(grade if card.grade else "", (right, rect.top + px(26)), 13, INK, anchor="right")
        colour = WARN if card.unfinished else GO if card.best is not None else SOFT
        sign = "▶ " if card.unfinished else "✓ " if card.best is not None else ""
        pen.text(sign + self.done_words(), (right, rect.top + px(50)), 13, colour, anchor="right")
        if pen.focus is self and pen.ring:
            pen.ring_round(rect)

    def press(self, point: tuple[int, int], button: int) -> bool:
        """Mark it."""
        if button == 1:
            self.on_mark(self.card)
        return button == 1

    def key(self, event: pygame.event.Event) -> bool:
        """Arrows mark the next or the one before, Enter takes it."""
        step = {pygame.K_DOWN: 1, pygame.K_UP: -1}.get(event.key)
        if step is not None:
            self.on_step(step)
        elif event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            self.on_take()
        else:
            return False
        return True


class JobList(Column):
    """All jobs, grouped by family, narrowed by words, grade, family and state. One job is marked."""

    def __init__(
        self, cards: Sequence[JobCard], on_mark: Callable[[JobCard], None], on_take: Callable[[], None]
    ) -> None:
        self.on_mark = on_mark
        self.rows = [JobRow(card, self.mark, self._step, on_take) for card in cards]
        self.marked: JobCard | None = None
        families = list(dict.fromkeys(card.family for card in cards if card.family))
        grades = list(dict.fromkeys(card.grade for card in cards if card.grade))
        self._families = {_("All families"): "", **{first_upper(_(name)): name for name in families}}
        self.words = Entry(
            _("find a job"),
            "",
            lambda _text: self._narrow(),
            empty=_("Find by a word"),
            width=170,
            most=60,
            on_change=lambda _text: self._narrow(),
            help=_("Looks in titles and in what is asked"),
        )
        self.grade = RadioRow(
            _("grade"),
            [ANY, *grades],
            ANY,
            lambda _grade: self._narrow(),
            words=_any_grade,
            help=_("Lists jobs of this grade alone"),
        )
        self.family = Dropdown(
            _("family"), list(self._families), next(iter(self._families)), lambda _name: self._narrow(), width=210,
            help=_("Lists jobs of this kind alone"),
        )  # fmt: skip
        self.state = RadioRow(
            _("what is done"),
            STATES,
            ANY,
            lambda _state: self._narrow(),
            words=_any_state,
            help=_("Lists jobs by what you have done of them"),
        )
        self.told = Label("", size=SMALL, colour=SOFT)
        self.list = Column(gap=10)
        narrowing = Flow(self.words, self.grade, self.family, self.state, gap=10, line_gap=8)
        narrowing.visible = len(cards) > 1
        super().__init__(narrowing, self.told, self.list, gap=10, role="region", label=_("jobs"))
        self._narrow()

    def _fits(self, card: JobCard) -> bool:
        family = self._families[self.family.chosen]
        words = self.words.text.strip().lower()
        return (
            self.grade.chosen in (ANY, card.grade)
            and family in ("", card.family)
            and self.state.chosen in (ANY, state_of(card))
            and all(word in f"{_(card.title)} {_(card.about)} {_(card.family)}".lower() for word in words.split())
        )

    def _narrow(self) -> None:
        shown = [row for row in self.rows if self._fits(row.card)]
        below: list[Widget] = []
        for family in dict.fromkeys(row.card.family for row in shown):
            mine = [row for row in shown if row.card.family == family]
            below += [Heading(self._head(family, [row.card for row in mine])), *mine]
        self.list.fill_with(below)
        self.in_sight = [row for row in below if isinstance(row, JobRow)]
        for row in self.rows:
            row.number = 0
        for number, row in enumerate(self.in_sight, 1):
            row.number = number
        self.told.visible = len(shown) < len(self.rows)
        self.told.show(
            _("{shown} of {all} jobs fit what is asked for.").format(shown=len(shown), all=len(self.rows))
            if shown
            else _("No job fits what is asked for: widen one of the choices above.")
        )
        if shown and self.marked not in [row.card for row in shown]:
            self.mark(shown[0].card)

    def _head(self, family: str, cards: Sequence[JobCard]) -> str:
        done = sum(card.best is not None for card in cards)
        name = first_upper(_(family)) if family else _("Other jobs")
        return _("{family}: {done} of {all} done").format(family=name, done=done, all=len(cards))

    def mark(self, card: JobCard) -> None:
        """Mark a job and say so."""
        self.marked = card
        for row in self.rows:
            row.marked = row.card is card
        self.on_mark(card)

    def go_to(self, name: str) -> None:
        """Bring a job into sight and mark it, wide as the list must be for that."""
        row = next((row for row in self.rows if row.card.name == name), None)
        if row is None:
            return
        if not self._fits(row.card):
            self.words.show("")
            self.grade.chosen = self.state.chosen = ANY
            self.family.chosen = next(iter(self._families))
            self._narrow()
        self.mark(row.card)
        root = self.top().root
        if root is not None:
            root.set_focus(row, shows=True)

    def _step(self, way: int) -> None:
        at = next((n for n, row in enumerate(self.in_sight) if row.marked), 0)
        row = self.in_sight[max(0, min(at + way, len(self.in_sight) - 1))]
        self.mark(row.card)
        root = self.top().root
        if root is not None:
            root.set_focus(row, shows=True)


def _any_grade(grade: str) -> str:
    return _("All grades") if grade == ANY else first_upper(_(grade))


def _any_state(state: str) -> str:
    return _("All") if state == ANY else first_upper(_(state))


class JobsPage(Split):
    """The list of jobs, and beside it how the marked one is begun or gone on with."""

    def __init__(
        self,
        cards: Sequence[JobCard],
        on_start: Callable[[JobCard, Mode, int], None],
        on_resume: Callable[[JobCard], None],
        following: NextJob | None = None,
    ) -> None:
        """`following` is what to practise next, where somebody says so."""
        self.on_start = on_start
        self.on_resume = on_resume
        self.card: JobCard | None = None
        self.mode = RadioRow(
            _("how"),
            MODES,
            "practice",
            self._mode,
            words=lambda w: first_upper(_(w)),
            help=_("What it means is written below"),
        )
        self.told = Paragraph("", size=SMALL, colour=SOFT)
        self.seed = NumberEntry(
            _("draw"),
            "0",
            lambda _t: self.start(),
            least=0,
            most=999999,
            width=110,
            help=_("Which gate is drawn: with the same number it is the same one again"),
        )
        self.title = Label("", face=Face.BOLD, size=17)
        self.kind = Label("", size=SMALL, colour=SOFT)
        self.about = Paragraph("", size=13)
        self.begin = Button(
            _("Start the job"), self.start, look="main", help=_("Begins with nothing done yet (Enter in the list)")
        )
        self.resume = Button(
            _("Go on where it was left"), self._resume, look="main", help=_("Everything stands as you left it")
        )
        self.jobs = JobList(cards, self.mark, self._take)
        super().__init__(self.jobs, self._side(following), least=820, second_width=430)
        first = next((card for card in cards if card.unfinished), cards[0] if cards else None)
        if first is not None:
            self.jobs.mark(first)
        self._mode("practice")

    def _side(self, following: NextJob | None) -> Column:
        start = Column(
            self.title,
            self.kind,
            self.about,
            self.resume,
            Row(Label(_("How"), width=64), self.mode, Spacer(grow=1.0)),
            self.told,
            Row(Label(_("Draw"), width=64), self.seed, Spacer(grow=1.0), self.begin),
            Paragraph(_("Draw 0 is the job as it is taught; another number varies the gate."), size=12, colour=SOFT),
            gap=10, pad=(18, 16), fill=SHEET, edge=INK, line=1.5, role="region", label=_("start"),
        )  # fmt: skip
        practise = (Heading(_("Practise next")), self._practise(following)) if following is not None else ()
        return Column(Heading(_("Start")), start, *practise, gap=8)

    def _practise(self, following: NextJob) -> Column:
        show = Button(
            _("Show the job"),
            lambda: self.jobs.go_to(following.job),
            help=_("Marks it in the list; nothing is begun"),
        )
        return Column(
            Paragraph(_(following.title), face=Face.BOLD, size=15),
            Label(first_upper(_(following.family)), size=SMALL, colour=SOFT),
            Row(Paragraph(_(following.why), size=13, grow=1.0), show, gap=10),
            gap=6, pad=(18, 12), fill=SHEET, edge=FIELD, role="region", label=_("practise next"),
        )  # fmt: skip

    def mark(self, card: JobCard) -> None:
        """Tell of the job that is marked in the list."""
        self.card = card
        self.title.show(_(card.title))
        told = [first_upper(_(word)) for word in (card.grade, card.family) if word]
        if card.best is not None:
            told.append(_("best result {score:.0f} of 100").format(score=card.best))
        self.kind.show(" · ".join(told))
        self.about.show(_(card.about))
        self.seed.show(str(card.draw))
        self.resume.visible = card.unfinished
        self.begin.look = "plain" if card.unfinished else "main"
        self.begin.relabel(_("Start anew") if card.unfinished else _("Start the job"))

    def _take(self) -> None:
        if self.card is not None and self.card.unfinished:
            self._resume()
        else:
            self.start()

    def _mode(self, mode: str) -> None:
        self.told.show(
            _("Rewind and go on from any moment. The debrief still judges what you did.")
            if mode == "practice"
            else _("Rewind only looks. What is done, is done, and the result counts.")
        )

    def start(self) -> None:
        """Begin the marked job anew."""
        number = self.seed.number()
        if self.card is not None and number is not None and not self.seed.trouble():
            mode: Mode = "assessed" if self.mode.chosen == "assessed" else "practice"
            self.on_start(self.card, mode, int(number))

    def _resume(self) -> None:
        if self.card is not None:
            self.on_resume(self.card)
