"""The terminals of the cabinet as open boxes with words; the leads of the instrument in hand go onto them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pygame

from trainer.window.folder.bench import Bench
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import FIELD, INK, SMALL, STOP, WARN, WHITE, WIRE_WASH, Style
from trainer.window.kit.widget import Size, Widget
from trainer.window.words import _, first_upper

if TYPE_CHECKING:
    from trainer.session.view import TerminalView
    from trainer.window.kit.pen import Pen

HEAD, ROW, GAP = 24.0, 25.0, 8.0


class TerminalPlate(Widget):
    """Click puts a lead, red first; R and B put one by key; arrows walk."""

    role = "terminals"
    takes_focus = True
    takes_repeats = True

    def __init__(self, bench: Bench) -> None:
        super().__init__(_("terminals"))
        self.bench = bench
        self.terminals: tuple[TerminalView, ...] = ()
        self.mark = 0
        self._cells: list[pygame.Rect] = []
        self._boxes: list[tuple[str, bool, pygame.Rect]] = []
        self._over = -1

    def show(self, terminals: tuple[TerminalView, ...]) -> None:
        """What stands in the cabinet."""
        if terminals != self.terminals:
            self.terminals = terminals
            self.mark = min(self.mark, max(len(terminals) - 1, 0))
            self.stale()

    def _parts(self) -> list[tuple[str, list[int]]]:
        parts: list[tuple[str, list[int]]] = []
        for n, terminal in enumerate(self.terminals):
            if not parts or parts[-1][0] != terminal.part:
                parts.append((terminal.part, []))
            parts[-1][1].append(n)
        return parts

    def wish(self, style: Style, width: int) -> Size:
        """Two columns of boxes when there is room for two."""
        return width, max(self._pack(style, pygame.Rect(0, 0, width, 0))[0], style.px(ROW))

    def _pack(self, style: Style, area: pygame.Rect) -> tuple[int, list[tuple[str, list[int], pygame.Rect]]]:
        columns = 2 if area.width >= style.px(300) else 1
        gap = style.px(GAP)
        wide = (area.width - gap * (columns - 1)) // columns
        foot = [area.top] * columns
        out = []
        for part, members in self._parts():
            column = foot.index(min(foot))
            high = style.px(HEAD) + style.px(ROW) * len(members)
            out.append((part, members, pygame.Rect(area.left + column * (wide + gap), foot[column], wide, high)))
            foot[column] += high + gap
        return max(foot) - area.top - gap, out

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """A cell for each terminal."""
        super().place(style, rect)
        self._cells = [pygame.Rect(0, 0, 0, 0) for _t in self.terminals]
        self._boxes = []
        for part, members, box in self._pack(style, rect)[1]:
            live = any(self.terminals[n].live for n in members)
            self._boxes.append((part, live, box))
            for row, n in enumerate(members):
                top = box.top + style.px(HEAD) + style.px(ROW) * row
                self._cells[n] = pygame.Rect(box.left, top, box.width, style.px(ROW))

    def tree(self) -> dict[str, Any]:
        """Each terminal is told as a child, with the lead that is on it."""
        told = super().tree()
        told["children"] = [
            {
                "role": "terminal",
                "label": terminal.name,
                "value": self._lead(terminal.name),
                "enabled": True,
                "rect": tuple(cell),
            }
            for terminal, cell in zip(self.terminals, self._cells, strict=False)
        ]
        return told

    def _lead(self, name: str) -> str:
        return "red" if name == self.bench.red else "black" if name == self.bench.black else ""

    def draw(self, pen: Pen) -> None:
        """Boxes with a heading; a screw and a word for each terminal."""
        px = pen.style.px
        for part, live, box in self._boxes:
            pen.box(box, WHITE, INK, 0, 1.2)
            head = pygame.Rect(box.left + px(8), box.top, box.width - px(30), px(HEAD))
            pen.text_in(first_upper(part), head, SMALL, INK, Face.BOLD)
            if live:
                pen.text("⚡", (box.right - px(13), box.top + px(HEAD) / 2), 13, WARN, Face.BOLD, "centre")
        for n, (terminal, cell) in enumerate(zip(self.terminals, self._cells, strict=True)):
            marked = n == self.mark and pen.focus is self and pen.ring
            if marked or (n == self._over and pen.hover is self):
                pen.fill(cell.inflate(-px(4), -2), WIRE_WASH)
            lead = self._lead(terminal.name)
            screw = (cell.left + px(16), cell.centery)
            pen.dot(screw, 5, WHITE, FIELD)
            pen.line((screw[0] - px(3), screw[1] + px(2)), (screw[0] + px(3), screw[1] - px(2)), FIELD, 1)
            if lead:
                pen.dot(screw, 6, STOP if lead == "red" else INK)
            words = pygame.Rect(cell.left + px(30), cell.top, cell.width - px(36), cell.height)
            pen.text_in(terminal.pin + (f"  ({_(lead)})" if lead else ""), words, SMALL, INK)
        if pen.focus is self and pen.ring:
            pen.ring_round(self.rect)

    def _cell_at(self, point: tuple[int, int]) -> int:
        return next((n for n, cell in enumerate(self._cells) if cell.collidepoint(point)), -1)

    def hover(self, point: tuple[int, int]) -> None:
        """Which terminal the mouse is over."""
        self._over = self._cell_at(point)
        live = self._over >= 0 and self.terminals[self._over].live
        self.help = _("May be live. Click puts a lead here.") if live else _("Click puts a lead here.")

    def help_rect(self) -> pygame.Rect:
        """Help stands at the terminal."""
        return self._cells[self._over] if 0 <= self._over < len(self._cells) else self.rect

    def press(self, point: tuple[int, int], button: int) -> bool:
        """Left: the next lead; right: the black one."""
        n = self._cell_at(point)
        if n >= 0:
            self.mark = n
            self.bench.put(self.terminals[n].name, "black" if button == 3 else "")
        return True

    def key(self, event: pygame.event.Event) -> bool:
        """Arrows walk, R and B put a lead, Enter the next one."""
        step = {pygame.K_DOWN: 1, pygame.K_RIGHT: 1, pygame.K_UP: -1, pygame.K_LEFT: -1}.get(event.key)
        if step is not None and self.terminals:
            self.mark = max(0, min(self.mark + step, len(self.terminals) - 1))
            self.reveal(self._cells[self.mark])
            return True
        lead = {pygame.K_r: "red", pygame.K_b: "black", pygame.K_RETURN: "", pygame.K_SPACE: ""}.get(event.key)
        if lead is not None and self.terminals:
            self.bench.put(self.terminals[self.mark].name, lead)
            return True
        return False
