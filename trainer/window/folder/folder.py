"""The folder: pages with index tabs along the right edge; only the open page is kept up to date."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from trainer.language import _
from trainer.window.folder.acceptance import AcceptancePage
from trainer.window.folder.bench import Bench
from trainer.window.folder.brief import BriefPage
from trainer.window.folder.cabinet import CabinetPage
from trainer.window.folder.instruments import InstrumentsPage
from trainer.window.folder.notebook import NotebookPage
from trainer.window.folder.page import Page
from trainer.window.folder.repair import RepairPage
from trainer.window.folder.sheet import SheetPage
from trainer.window.folder.stillness import StillPage
from trainer.window.folder.survey import SurveyPage
from trainer.window.kit.boxes import Column, Stretched
from trainer.window.kit.style import INK, SHEET
from trainer.window.kit.tabs import IndexTabs

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands

PAGES = ("Brief", "Survey", "Cabinet", "Sheet", "Instruments", "Repair", "Notebook", "Acceptance", "Why still")

TOLD = (
    "What the customer says, what is asked, and the steps of a guided job",
    "Who uses the gate, where it can hurt, and what protects there",
    "Sources, plugs, motor leads and terminals, with the drawing beside them",
    "Every setting of the controller",
    "The bench of tools: take one in hand, place it, read it",
    "Put one thing right, or take a part out",
    "What you saw, suspect and ruled out",
    "The checks to pass, the closing force, and the hand-over",
    "Every input as the controller reads it, and what it waits for",
)
"""What each page is for."""


class Folder(Stretched):
    """Opens one page at a time; pages are made when they are first opened and kept."""

    def __init__(self, hands: Hands, on_open: Callable[[str], None] = lambda _name: None) -> None:
        self.hands = hands
        self.on_open = on_open
        """Told the English name of each page that is opened."""
        self.bench = Bench()
        self.makers: dict[str, Callable[[], Page]] = {
            "Brief": lambda: BriefPage(hands),
            "Survey": lambda: SurveyPage(hands),
            "Cabinet": lambda: CabinetPage(hands, self.bench),
            "Sheet": lambda: SheetPage(hands),
            "Instruments": lambda: InstrumentsPage(hands, self.bench),
            "Repair": lambda: RepairPage(hands),
            "Notebook": lambda: NotebookPage(hands),
            "Acceptance": lambda: AcceptancePage(hands),
            "Why still": lambda: StillPage(hands),
        }
        self.pages: dict[str, Page] = {}
        self.tabs = IndexTabs(_("folder"), [_(name) for name in PAGES], self._turn)
        self.tabs.helps = {_(name): _(told) for name, told in zip(PAGES, TOLD, strict=True)}
        self.tabs.keys_help = _("Arrows up and down turn the pages.")
        self.sheet = Column(pad=(16, 12), fill=SHEET, edge=INK, line=1.5, grow=1.0)
        super().__init__(self.sheet, self.tabs, gap=0, role="region", label=_("job folder"))
        self.page = self._page(PAGES[0])
        self.sheet.fill_with([self.page])

    def _page(self, name: str) -> Page:
        if name not in self.pages:
            self.pages[name] = self.makers[name]()
            self.pages[name].show(self.hands.view)
        return self.pages[name]

    def _turn(self, shown: str) -> None:
        self.page = self._page(PAGES[self.tabs.names.index(shown)])
        self.page.show(self.hands.view)
        self.sheet.fill_with([self.page])
        self.on_open(PAGES[self.tabs.names.index(shown)])

    def open(self, name: str) -> None:
        """Open a page by its English name."""
        self.tabs.choose(self.tabs.names[PAGES.index(name)])

    @property
    def opened(self) -> str:
        """English name of the page that is open."""
        return PAGES[self.tabs.names.index(self.tabs.chosen)]

    def show(self, view: View) -> None:
        """The open page, and badges on the tabs."""
        self.page.show(view)
        self.tabs.badges = self._badges(view)

    def _badges(self, view: View) -> dict[str, tuple[str, bool]]:
        names = dict(zip(PAGES, self.tabs.names, strict=True))
        badges: dict[str, tuple[str, bool]] = {}
        blocked = sum(line.blocks for line in view.panel.inputs)
        if not view.board_on:
            badges[names["Why still"]] = ("!", True)
        elif blocked:
            badges[names["Why still"]] = (str(blocked), True)
        open_rows = sum(not row.protection for row in view.survey)
        if view.survey and open_rows < len(view.survey):
            badges[names["Survey"]] = ("✓" if not open_rows else str(open_rows), bool(open_rows))
        failing = sum(state in ("failed", "stale") for _check, state in view.acceptance)
        if failing:
            badges[names["Acceptance"]] = (str(failing), True)
        elif view.acceptance and all(state == "passed" for _check, state in view.acceptance):
            badges[names["Acceptance"]] = ("✓", False)
        if any(not answer for _q, _a, answer in view.questions):
            badges[names["Brief"]] = ("?", False)
        return badges
