"""The front desk: the jobs in the order to be done in, with what is done; practice or assessed; a draw; resuming."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import pygame

from trainer.window.kit.boxes import Column, Row, Spacer
from trainer.window.kit.button import Button, Toggle
from trainer.window.kit.choice import RadioRow
from trainer.window.kit.entry import NumberEntry
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Heading, Label, Note, Paragraph
from trainer.window.kit.slider import Slider
from trainer.window.kit.split import Split
from trainer.window.kit.style import (
    FIELD,
    GO,
    INK,
    SHEET,
    SMALL,
    SOFT,
    WARN,
    WARN_WASH,
    WHITE,
    WIRE_WASH,
    Style,
)
from trainer.window.kit.widget import Size, Value, Widget
from trainer.window.words import _, first_upper

if TYPE_CHECKING:
    from trainer.window.doors import Desk, JobCard, Mode
    from trainer.window.kit.pen import Pen

MODES = ("practice", "assessed")
CAUTION = (
    "A training model: it certifies nothing. Real gates crush and kill. Isolate and prove dead. "
    "Follow the standard in force, local codes and licensed practice."
)


class JobRow(Widget):
    """One job on the list: title, what is asked, grade, minutes, and what is done of it."""

    role = "job"

    def __init__(
        self,
        card: JobCard,
        number: int,
        on_mark: Callable[[JobCard], None],
        on_step: Callable[[int], None],
        on_take: Callable[[], None],
    ) -> None:
        super().__init__(card.title)
        self.card = card
        self.number = number
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
        pen.text_in(card.title, title, 17, INK, Face.BOLD)
        about = pygame.Rect(left, rect.top + px(38), rect.right - left - side - px(8), px(40))
        pen.paragraph(card.about, about, 13, SOFT, most=2)
        right = rect.right - px(16)
        grade = f"{_(card.grade)} · {card.minutes:g} min"
        pen.text(grade, (right, rect.top + px(26)), 13, INK, anchor="right")
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


class FrontDesk(Column):
    """Choose a job and how to do it."""

    def __init__(
        self,
        desk: Desk,
        on_start: Callable[[JobCard, Mode, int], None],
        on_resume: Callable[[JobCard], None],
        look: dict[str, object],
    ) -> None:
        self.cards = list(desk.jobs())
        self.on_start = on_start
        self.on_resume = on_resume
        self.rows = [JobRow(card, n, self.mark, self._step, self._take) for n, card in enumerate(self.cards, 1)]
        self.card: JobCard | None = None
        self.mode = RadioRow(_("how"), MODES, "practice", self._mode, words=lambda w: first_upper(_(w)))
        self.told = Paragraph("", size=SMALL, colour=SOFT)
        self.seed = NumberEntry(_("draw"), "0", lambda _t: self.start(), least=0, most=999999, width=110)
        self.title = Label("", face=Face.BOLD, size=17)
        self.about = Paragraph("", size=13)
        self.begin = Button(_("Start the job"), self.start, look="main")
        self.resume = Button(_("Go on where it was left"), self._resume, look="main")
        jobs = Column(Heading(_("Jobs")), *self.rows, gap=10, role="region", label=_("jobs"))
        middle = Split(jobs, self._side(look), least=820, second_width=430)
        body = Column(middle, gap=0, pad=(28, 12), grow=1.0)
        super().__init__(self._head(), body, self._foot(), gap=0, role="screen", label=_("front desk"))
        first = next((card for card in self.cards if card.unfinished), self.cards[0] if self.cards else None)
        if first is not None:
            self.mark(first)
        self._mode("practice")

    def _head(self) -> Column:
        return Column(
            Row(
                Label("Gudgeon", face=Face.BOLD, size=26),
                Label(_("the training yard for an automated swing gate"), colour=SOFT, size=14, grow=1.0),
                gap=16,
            ),
            pad=(28, 14),
            fill=SHEET,
        )

    def _foot(self) -> Column:
        return Column(Note(_(CAUTION), WARN, WARN_WASH, sign="⚠", size=13), pad=(28, 14))

    def _side(self, look: dict[str, object]) -> Column:
        scale, calm = look["scale"], look["calm"]
        on_scale, on_calm = look["on_scale"], look["on_calm"]
        assert isinstance(scale, float)
        assert callable(on_scale)
        assert callable(on_calm)
        start = Column(
            self.title,
            self.about,
            self.resume,
            Row(Label(_("How"), width=64), self.mode, Spacer(grow=1.0)),
            self.told,
            Row(Label(_("Draw"), width=64), self.seed, Spacer(grow=1.0), self.begin),
            Paragraph(_("Draw 0 is the job as it is taught; another number varies the gate."), size=12, colour=SOFT),
            gap=10, pad=(18, 16), fill=SHEET, edge=INK, line=1.5, role="region", label=_("start"),
        )  # fmt: skip
        text = Slider(_("text size"), scale, 1.0, 2.0, 0.1, on_scale, words=lambda v: f"{v * 100:.0f} %", grow=1.0)
        settings = Column(
            Heading(_("The window")),
            Row(Label(_("Text size"), width=84), text),
            Toggle(_("Reduced motion: nothing blinks"), bool(calm), on_calm),
            gap=6, role="region", label=_("the window"),
        )  # fmt: skip
        return Column(Heading(_("Start")), start, Spacer(4), settings, gap=8)

    def mark(self, card: JobCard) -> None:
        """Take a job from the list."""
        self.card = card
        for row in self.rows:
            row.marked = row.card is card
        self.title.show(card.title)
        self.about.show(card.about)
        self.seed.show(str(card.draw))
        self.resume.visible = card.unfinished
        self.begin.look = "plain" if card.unfinished else "main"
        self.begin.relabel(_("Start anew") if card.unfinished else _("Start the job"))

    def _step(self, way: int) -> None:
        at = next(n for n, row in enumerate(self.rows) if row.marked)
        row = self.rows[max(0, min(at + way, len(self.rows) - 1))]
        self.mark(row.card)
        root = self.top().root
        if root is not None:
            root.set_focus(row, shows=True)

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
