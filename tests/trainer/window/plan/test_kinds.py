"""Every kind of drive, both sides to open to, ridges and weather, drawn from what real sites say of themselves."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pygame
import pytest

from sim.site import load_site
from sim.world.world import World
from trainer.session.observe import leaf_views, weather_view
from trainer.session.view import View
from trainer.session.yard_view import WeatherView
from trainer.window.kit.style import INK, WHITE
from trainer.window.plan.drives import OIL, STEEL
from trainer.window.plan.frame import weather_lines

SITES = Path(__file__).parents[4] / "scenarios" / "sites"
KINDS = ("orchard_row", "brick_field", "ferry_terrace", "walnut_court")


@pytest.fixture
def seen(work) -> Callable[..., View]:
    """The canned yard with the leaves of a real site at an angle [°], drawn; answers what was drawn."""

    def show(name: str, degrees: float = 0.0, **changes: object) -> View:
        world = World(load_site(SITES / f"{name}.yaml"))
        view = work.session.observe()
        leaves = tuple(replace(leaf, angle_deg=degrees) for leaf in leaf_views(world))
        shown = {"leaves": leaves, "opening_m": world.site.opening_width_m, "walls": (), "guards": ()}
        view = replace(view, weather=weather_view(world), **(shown | changes))
        work.session.observe = lambda: view
        work.frame()
        work.app.root.resize(work.app.window.get_size())  # another yard: the viewport is placed anew
        work.frame()
        return view

    return show


def near(surface: pygame.Surface, point: tuple[float, float], colour, reach: int = 2) -> bool:
    """Whether a pixel near a point has about a colour."""
    x, y = round(point[0]), round(point[1])
    spots = [(x + dx, y + dy) for dx in range(-reach, reach + 1) for dy in range(-reach, reach + 1)]
    return any(all(abs(a - b) <= 40 for a, b in zip(surface.get_at(s)[:3], colour, strict=True)) for s in spots)


def between(a, b, part: float) -> tuple[float, float]:
    return a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part


@pytest.mark.parametrize("name", KINDS)
@pytest.mark.parametrize("degrees", [0.0, 40.0, 88.0])
def test_leaf_and_drive_lie_where_the_site_has_them(work, seen, name: str, degrees: float) -> None:
    """The tip of each leaf is on the side it opens to, and the drive's parts lie between its pivots."""
    view = seen(name, degrees)
    port, surface = work.screen.plan.port, work.app.window
    assert port.outwards is (view.leaves[0].opens_towards == "outside")
    for leaf in view.leaves:
        tip = leaf.spot(leaf.width_m, 0.0)
        assert tip[1] == 0.0 or (tip[1] < 0.0) is port.outwards
        assert near(surface, port.to_screen(*leaf.spot(leaf.width_m * 0.85, 0.0)), WHITE, reach=0)
        pivots = [port.to_screen(*pivot) for pivot in leaf.drive_xy_m]
        if leaf.drive.kind == "underground":
            assert near(surface, (pivots[0][0] + 5, pivots[0][1]), STEEL)
        elif leaf.drive.kind == "articulated arm":
            axis, knee, bracket = pivots
            assert near(surface, between(axis, knee, 0.5), STEEL, reach=1)
            assert near(surface, knee, WHITE, reach=1)
            assert near(surface, between(knee, bracket, 0.4), INK)
        else:
            body = OIL if leaf.drive.kind == "hydraulic ram" else STEEL
            assert near(surface, between(*pivots, 0.25), body, reach=1)


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("orchard_row", "linear ram"),
        ("brick_field", "hydraulic ram"),
        ("ferry_terrace", "articulated arm"),
        ("walnut_court", "drive in the ground"),
    ],
)
def test_the_words_under_the_mouse_say_what_drives_it(work, seen, name: str, says: str) -> None:
    """Beside the leaf, at the drive itself, the help names its kind and whether it holds the leaf."""
    leaf = seen(name, 60.0).leaves[0]
    pivots = leaf.drive_xy_m
    point = pivots[0] if len(pivots) == 1 else between(pivots[0], pivots[1], 0.1)
    work.hand.move(tuple(map(round, work.screen.plan.port.to_screen(*point))))
    assert work.screen.plan.help == f"Active leaf: {says}, holds the leaf. Click for more"


def test_what_lies_under_a_leaf_is_drawn_and_named(work, seen) -> None:
    """The lifted paving of Walnut Court is hatched at its angle; the help says where its crest is and how high."""
    seen("walnut_court")
    (ridge,) = work.hand.all("ridge")
    x, y = pygame.Rect(ridge["rect"]).center
    colours = {work.app.window.get_at((x + n, y))[:3] for n in range(-12, 13)}
    assert len(colours) > 2, "no hatching"
    work.hand.move((x, y))
    assert work.screen.plan.help == (
        "Lifted paving under the active leaf: crest at 62°, 35 mm high, 1.35 m from the hinge"
    )


def test_the_weather_is_told_in_figures_and_words() -> None:
    """Facts 4: 17.5 m/s is Beaufort 8, a gale (table of the scale), and ½·1.25·17.5² = 191 Pa; 4 m/s is 3, a gentle
    breeze, and 10 Pa."""
    gale = WeatherView(22.0, 17.5, 180.0, 0.25, -8.0)
    assert weather_lines(gale) == ("Wind 17.5 m/s · 191 Pa", "Beaufort 8, gale", "gust intensity 25 %", "air −8 °C")
    breeze = WeatherView(4.0, 4.0)
    assert weather_lines(breeze) == ("Wind 4.0 m/s · 10 Pa", "Beaufort 3, gentle breeze", "air 15 °C")
    assert weather_lines(WeatherView(temperature_c=21.0)) == ("No wind", "air 21 °C")


def test_the_arrow_tells_the_wind_of_this_instant(work, seen) -> None:
    """A gust changes the picture over the ground, and the ground is not painted anew for it."""
    view = seen("ferry_terrace")
    before = work.screen.plan.key_of()
    rect = work.screen.plan.places["weather", "wind"]
    calm = pygame.image.tobytes(work.app.window.subsurface(rect), "RGB")
    gust = replace(view, weather=replace(view.weather, wind_m_s=9.9))
    work.session.observe = lambda: gust
    work.frame(2)
    assert work.screen.plan.key_of() == before
    assert pygame.image.tobytes(work.app.window.subsurface(rect), "RGB") != calm


def test_what_is_held_at_a_hinge_is_drawn_and_told(work) -> None:
    """A dot in the gap, its name while it is free, its force once it is squeezed; the menu there takes it out."""
    work.session.do("hold in hinge gap", {"leaf": "inactive", "what": "stick of 40 mm"})
    work.frame()
    assert work.hand.find("hinge gap", "inactive")["value"] == "stick of 40 mm"
    view = work.session.observe()
    active, inactive = view.leaves
    squeezed = replace(view, leaves=(active, replace(inactive, gap=replace(inactive.gap, force_n=2911.0))))
    work.session.observe = lambda: squeezed
    work.frame()
    told = work.hand.find("hinge gap", "inactive")
    assert told["value"] == "2911 N on the stick of 40 mm"
    work.hand.move(pygame.Rect(told["rect"]).center)
    assert work.screen.plan.help == "2911 N on the stick of 40 mm in the gap at the hinge, 130 mm now"
    work.hand.click_at(pygame.Rect(told["rect"]).center)
    work.frame()
    assert "Take the stick of 40 mm out of its hinge gap" in work.hand.texts()
