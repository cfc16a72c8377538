"""The plan as a canvas: draws the yard, and lets bodies be placed, dragged and taken away, leaves be pushed, things
be stepped through by keys and looked at closely."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Final

import pygame

from sim.units import SECOND
from trainer.language import _
from trainer.window.closeup.pane import CloseUp
from trainer.window.closeup.subject import Subject, subjects
from trainer.window.kit.canvas import Canvas
from trainer.window.kit.glyphs import Face
from trainer.window.kit.lists import open_list
from trainer.window.kit.style import INK, WARN, Style
from trainer.window.plan.carrying import Carrying
from trainer.window.plan.frame import draw_frame, draw_wind, frame_places, is_small, weather_height
from trainer.window.plan.ground import draw_ground
from trainer.window.plan.ground_words import draw_ground_words
from trainer.window.plan.leaves import leaf_name, slip_text
from trainer.window.plan.scene import draw_scene
from trainer.window.plan.targets import Target, menu_for, target_at
from trainer.window.plan.things import Mark, looks, states
from trainer.window.plan.tools import PlanTools
from trainer.window.plan.viewport import Viewport
from trainer.window.plan.walking import Walking
from trainer.window.words import moment

if TYPE_CHECKING:
    from trainer.window.hands import Hands
    from trainer.window.kit.pen import Pen

STEP_M: Final = 0.1
"""How far an arrow key moves a body that is being carried [m]; a tenth of it with Shift."""

CLICK_PX: Final = 4
"""A mouse that moved less than this was clicked, not dragged."""


class Plan(Canvas):
    """The hero of the work screen."""

    takes_focus = True
    takes_repeats = True
    takes_middle = True

    def __init__(self, hands: Hands) -> None:
        super().__init__(_("plan of the yard"))
        self.keys_help = _("Arrows move the plan, + and − bring it nearer or farther. All acts on it are below, too.")
        self.hands = hands
        self.port = Viewport()
        self.carrying = Carrying(hands)
        """The body on the way to its place."""
        self.walking = Walking(hands)
        """The way that is being drawn for a body."""
        self.pushing: tuple[str, float] | None = None
        """A released leaf that is being pushed, and the angle asked for [°]."""
        self.places: dict[tuple[str, str], pygame.Rect] = {}
        """Where things were drawn: (what kind, its name) to its place."""
        self._down: tuple[int, int] | None = None
        self._panning: tuple[int, int] | None = None
        self._target: Target | None = None
        self.mark = Mark(hands, self.port, self.places)
        """The thing that the keys stepped to."""
        self.closeup = CloseUp(hands, self.look_away)
        self.tools = PlanTools(
            lambda times: self.port.zoom_at(self.rect.center, times),
            self.port.fit,
            lambda: list(subjects(hands.view)),
            lambda words: self.look(subjects(hands.view)[words]),
        )
        self.fill_with([self.tools, self.closeup])

    # -- drawing

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """The viewport follows the canvas."""
        super().place(style, rect)
        view = self.hands.view
        self.port.area = pygame.Rect(rect)
        self.port.opening_m = view.opening_m
        self.port.reach_m = max(leaf.width_m for leaf in view.leaves)
        self.port.outwards = view.leaves[0].opens_towards == "outside"
        small = is_small(style, self.port)
        taken = weather_height(style, self.port, view) if self.port.outwards else 0
        self.tools.settle(style, self.rect, taken, small)
        self.closeup.settle(style, self.rect, self.port.outwards, small)

    def key_of(self) -> object:
        """The ground changes with the viewport, the cordon and the weather."""
        view = self.hands.view
        weather = replace(view.weather, wind_m_s=0.0)  # the wind of this instant is drawn over it
        return (self.port.key(), view.cordoned, weather, view.walls, view.loop)

    def paint(self, pen: Pen) -> None:
        """The ground and the frame, with the corner of the canvas at (0, 0)."""
        still = replace(self.port, area=pygame.Rect((0, 0), self.rect.size))
        draw_ground(pen, still, self.hands.view)
        draw_frame(pen, still, self.hands.view)

    def draw_over(self, pen: Pen) -> None:
        """Everything that can change from one frame to the next."""
        with pen.words_last():
            self._draw_yard(pen)
        if pen.focus is self and pen.ring:
            pen.ring_round(self.rect.inflate(-pen.style.px(8), -pen.style.px(8)))

    def _draw_yard(self, pen: Pen) -> None:
        view, port, places = self.hands.view, self.port, self.places
        places.clear()
        frame = frame_places(pen, port, view)
        pen.taken += [self.tools.rect, *frame]
        draw_ground_words(pen, port, view)
        draw_scene(pen, port, view, places, self.carrying.body)
        self._show_again(pen, frame)
        if (blows := draw_wind(pen, port, view)) is not None:
            places["weather", "wind"] = blows
        self._draw_hand(pen)
        if pen.focus is self and (marked := self.mark.target()) is not None:
            pen.ring_round(marked.rect)
        past = view.strip.shown_s
        edge, thick = (INK, 1.5) if past is None else (WARN, 4.0)
        pen.box(self.rect, None, edge, 0, thick)
        if past is not None:
            words = _("as it was at {when}").format(when=moment(round(past * SECOND)))
            at = (self.rect.centerx, self.rect.top + pen.style.px(17))
            slip_text(pen, words, at, WARN, "centre", Face.BOLD, must=True)

    def _show_again(self, pen: Pen, places: Sequence[pygame.Rect]) -> None:
        """The still picture over what stands there: nothing of the yard hides the title block and its caution."""
        if self._picture is not None:
            for place in places:
                pen.surface.blit(self._picture, place, place.move(-self.rect.left, -self.rect.top))

    def _draw_hand(self, pen: Pen) -> None:
        self.walking.draw(pen, self.port, self.carrying.at_m)
        self.carrying.draw(pen, self.port)
        if self.pushing is not None:
            name, angle = self.pushing
            at = self.places["leaf", name].center
            words = _("push {leaf} to {angle:.0f}°").format(leaf=leaf_name(name), angle=angle)
            slip_text(pen, words, at, INK, "centre", must=True)

    def tree(self) -> dict[str, Any]:
        """What stands on the plan is told as children, with its state in words."""
        told = super().tree()
        values = states(self.hands.view)
        told["children"] = told.get("children", []) + [
            {
                "role": kind,
                "label": name,
                "value": values.get((kind, name)) or None,
                "enabled": True,
                "rect": tuple(rect),
            }
            for (kind, name), rect in self.places.items()
        ]
        return told

    # -- carrying

    def carry(self, body: str, lying: bool = False) -> None:
        """Take a body in hand; a click, or arrows and Enter, put it down."""
        standing = next((b for b in self.hands.view.bodies if b.name == body), None)
        start = (self.hands.view.opening_m / 2, 1.0 if self.port.outwards else -1.0)
        self.carrying.begin(body, lying, (standing.x_m, standing.y_m) if standing is not None else start)
        root = self.top().root
        if root is not None:
            root.set_focus(self, shows=False)
            root.toast(_("Click where it shall stand, or use the arrows and Enter. Esc puts it back."))

    def send(self, body: str) -> None:
        """Draw a way for a body: clicks are its corners, the last one sends it."""
        self.carrying.give_up()
        self.walking.begin(body)
        stands = next(b for b in self.hands.view.bodies if b.name == body)
        self.carrying.at_m = (stands.x_m, stands.y_m)
        root = self.top().root
        if root is not None:
            root.set_focus(self, shows=False)
            root.toast(_("Click where it shall go; Shift and click makes a corner first. Arrows and Enter do too."))

    def blurred(self) -> None:
        """A drag that was begun is given up; what is carried stays in hand."""
        self._down = self._panning = self._target = self.pushing = None

    # -- mouse

    def hover(self, point: tuple[int, int]) -> None:
        """What is carried follows the mouse; help tells what is under it."""
        if self.carrying.body is not None or self.walking.body:
            self.carrying.at_m = self.port.to_plan(point)
        self.mark.at = None
        self._target = target_at(self.hands.view, self.port, self.places, point)
        self.help = self._target.told if self._target is not None else ""

    def leave(self) -> None:
        """No help for what is no longer under the mouse."""
        self.help = ""

    def help_rect(self) -> pygame.Rect:
        """Help stands at what it is about."""
        return self._target.rect if self._target is not None else self.rect

    def press(self, point: tuple[int, int], button: int) -> bool:
        """Put down what is carried, or begin a click or a drag."""
        if button == 2:
            self._panning = point
            return True
        if self.walking.body:
            self.carrying.at_m = self.port.to_plan(point)
            if button == 3:
                self.walking.give_up()
            else:
                self.walking.corner(self.carrying.at_m, last=not pygame.key.get_mods() & pygame.KMOD_SHIFT)
            return True
        if button == 3:
            if self.carrying.body is not None:
                self.carrying.give_up()
            else:
                self._open_menu(point)
            return True
        if self.carrying.body is not None:
            self.carrying.at_m = self.port.to_plan(point)
            self.carrying.put_down()
            return True
        self._down = self._panning = point
        self._target = target_at(self.hands.view, self.port, self.places, point)
        return True

    def drag(self, point: tuple[int, int]) -> None:
        """A body follows, a released leaf is pushed, the ground is moved."""
        if self._down is None:  # the middle button
            self._pan(point)
            return
        if math.dist(point, self._down) < CLICK_PX:
            return
        target = self._target
        if target is not None and target.kind == "body":
            body = next(b for b in self.hands.view.bodies if b.name == target.name)
            self.carrying.begin(body.name, body.lying, self.port.to_plan(point))
        elif target is not None and target.kind == "leaf":
            leaf = next(leaf for leaf in self.hands.view.leaves if leaf.name == target.name)
            angle = max(0.0, min(leaf.angle_of(self.port.to_plan(point)), leaf.open_stop_deg))
            self.pushing = (leaf.name, float(round(angle)))
        else:
            self._pan(point)

    def _pan(self, point: tuple[int, int]) -> None:
        if self._panning is not None:
            scale = self.port.scale
            self.port.move((self._panning[0] - point[0]) / scale, (point[1] - self._panning[1]) / scale)
            self._panning = point

    def drop(self, point: tuple[int, int]) -> None:
        """Finish what was begun."""
        down, self._down, self._panning = self._down, None, None
        if self.carrying.body is not None and down is not None:
            self.carrying.put_down()
        elif self.pushing is not None:
            (name, angle), self.pushing = self.pushing, None
            self.hands.do("push leaf", {"leaf": name, "to_deg": angle})
        elif down is not None and math.dist(point, down) < CLICK_PX:
            self._open_menu(point)

    def wheel(self, turns: float, point: tuple[int, int]) -> bool:
        """Zoom at the pointer."""
        self.port.zoom_at(point, 1.15**turns)
        return True

    def _open_menu(self, point: tuple[int, int]) -> None:
        if (target := target_at(self.hands.view, self.port, self.places, point)) is not None:
            self._offer(target)

    def _offer(self, target: Target) -> None:
        """What can be done to a thing, or its close-up where there is nothing else."""
        entries, close = menu_for(self.hands.view, target), looks(self.hands.view, target)
        if not entries:
            for subject in close.values():
                self.look(subject)
            return
        acts = {words: (kind, arguments) for words, kind, arguments in entries}

        def take(words: str) -> None:
            if words in close:
                self.look(close[words])
                return
            kind, arguments = acts[words]
            if kind == "walk body":
                self.send(str(arguments["body"]))
            elif kind == "carry body":
                self.carry(str(arguments["body"]), bool(arguments["lying"]))
            else:
                self.hands.do(kind, arguments)

        open_list(self, [*acts, *close], None, take, target.rect)

    # -- close-ups

    def look(self, subject: Subject) -> None:
        """Open a close-up; the keys go to it."""
        self.closeup.look(subject)
        self.hands.root.set_focus(self.closeup.choice, shows=self.hands.root.focus_shows)

    def look_away(self) -> None:
        """Close it; the keys come back to the plan."""
        root = self.hands.root
        if self.closeup.holds(root.focus):
            root.set_focus(self, shows=root.focus_shows)
        self.closeup.visible = False

    # -- keys

    def key(self, event: pygame.event.Event) -> bool:
        """Arrows move what is carried, or the plan; Page Up and Page Down step through what is there."""
        way = {
            pygame.K_LEFT: (-1, 0),
            pygame.K_RIGHT: (1, 0),
            pygame.K_UP: (0, 1),
            pygame.K_DOWN: (0, -1),
        }.get(event.key)
        if way is not None:
            step = STEP_M * (0.1 if event.mod & pygame.KMOD_SHIFT else 1.0)
            if self.carrying.body is not None or self.walking.body:
                x, y = self.carrying.at_m
                self.carrying.at_m = (x + way[0] * step, y + way[1] * step)
            else:
                self.port.move(way[0] * 0.3, way[1] * 0.3)
            return True
        if event.key in (pygame.K_PLUS, pygame.K_KP_PLUS, pygame.K_EQUALS) and not event.mod & pygame.KMOD_CTRL:
            self.port.zoom_at(self.rect.center, 1.25)
        elif event.key in (pygame.K_MINUS, pygame.K_KP_MINUS) and not event.mod & pygame.KMOD_CTRL:
            self.port.zoom_at(self.rect.center, 0.8)
        elif event.key == pygame.K_HOME:
            self.port.fit()
        elif event.key in (pygame.K_PAGEUP, pygame.K_PAGEDOWN):
            self._target = self.mark.step(1 if event.key == pygame.K_PAGEDOWN else -1)
            self.help = self._target.told
        elif event.key == pygame.K_ESCAPE:
            return self._back()
        elif event.key in (pygame.K_RETURN, pygame.K_KP_ENTER, pygame.K_SPACE):
            return self._act(last=event.key != pygame.K_SPACE)
        else:
            return False
        return True

    def _back(self) -> bool:
        """One step back: the way, the body in hand, the mark, the close-up."""
        if self.walking.body:
            self.walking.give_up()
        elif self.carrying.body is not None:
            self.carrying.give_up()
        elif self.mark.at is not None:
            self.mark.at, self.help = None, ""
        elif self.closeup.visible:
            self.look_away()
        else:
            return False
        return True

    def _act(self, last: bool) -> bool:
        """Put down, send on its way, or open what belongs to the marked thing; Space makes a corner of a way."""
        marked = self.mark.target()
        if self.walking.body:
            self.walking.corner(self.carrying.at_m, last)
        elif self.carrying.body is not None and last:
            self.carrying.put_down()
        elif marked is not None:
            self._offer(marked)
        else:
            return False
        return True
