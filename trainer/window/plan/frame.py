"""What lies above the plan: title block with the weather, north, and the wind as it blows at this instant."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import pygame

from trainer.language import _
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import INK, SHEET, SMALL, SOFT, WIRE
from trainer.window.plan.viewport import Viewport

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.session.yard_view import WeatherView
    from trainer.window.kit.pen import Pen
    from trainer.window.kit.style import Style

BLOCK_WIDE: Final = 286
BLOCK_HIGH: Final = 70
"""The title block [logical px]."""

WEATHER_WIDE: Final = 172
WEATHER_LINE: Final = 15
"""The weather beside it, and from line to line in it [logical px]."""


def draw_frame(pen: Pen, port: Viewport, view: View) -> None:
    """What lies above everything that stands still: title block, weather and north."""
    if is_small(pen.style, port):
        _title_line(pen, port)
    else:
        _title_block(pen, port)
        _weather(pen, port, view.weather)
    _north(pen, port)


def weather_lines(weather: WeatherView) -> tuple[str, ...]:
    """The weather in words: speed and pressure, Beaufort number and words, gusts, air."""
    air = _("air {air:.0f} °C").format(air=weather.temperature_c).replace("-", "−")
    if weather.mean_m_s <= 0.0:
        return _("No wind"), air
    lines = [
        _("Wind {speed:.1f} m/s · {pressure:.0f} Pa").format(speed=weather.mean_m_s, pressure=weather.pressure_pa),
        _("Beaufort {number}, {words}").format(number=weather.beaufort, words=_(weather.words)),
    ]
    if weather.gust_intensity > 0.0:
        lines.append(_("gust intensity {share:.0f} %").format(share=weather.gust_intensity * 100))
    return *lines, air


def block_height(pen: Pen, port: Viewport) -> int:
    """How much of the plan the title block takes at its foot, or where leaves open outwards at its head [px]."""
    return pen.style.px(22 if is_small(pen.style, port) else BLOCK_HIGH + 10)


def weather_height(style: Style, port: Viewport, view: View) -> int:
    """The same of the weather in the other corner; nothing where there is no room for it [px]."""
    return 0 if is_small(style, port) else style.px(WEATHER_LINE * len(weather_lines(view.weather)) + 12 + 10)


def is_small(style: Style, port: Viewport) -> bool:
    """Whether there is no room for the title block."""
    return port.area.width < style.px(620) or port.area.height < style.px(330)


def frame_places(pen: Pen, port: Viewport, view: View) -> list[pygame.Rect]:
    """Where all this stands: words of the yard keep off it."""
    places = [_north_place(pen, port)]
    if view.weather.mean_m_s > 0.0:
        places.append(_wind_place(pen, port, view.weather))
    if is_small(pen.style, port):
        return [*places, _line_place(pen, port)]
    return [*places, _block_place(pen, port), _weather_place(pen, port, view.weather)]


def _block_place(pen: Pen, port: Viewport) -> pygame.Rect:
    wide, high, off = (pen.style.px(each) for each in (BLOCK_WIDE, BLOCK_HIGH, 10))
    top = port.area.top + off if port.outwards else port.area.bottom - high - off
    return pygame.Rect(port.area.right - wide - off, top, wide, high)


def _weather_place(pen: Pen, port: Viewport, weather: WeatherView) -> pygame.Rect:
    px = pen.style.px
    high = px(WEATHER_LINE) * len(weather_lines(weather)) + px(12)
    top = port.area.top + px(10) if port.outwards else port.area.bottom - high - px(10)
    return pygame.Rect(port.area.left + px(10), top, px(WEATHER_WIDE), high)


def _line_place(pen: Pen, port: Viewport) -> pygame.Rect:
    high = pen.style.px(22)
    return pygame.Rect(port.area.left, port.area.bottom - high, port.area.width, high)


def _north_place(pen: Pen, port: Viewport) -> pygame.Rect:
    """Room for the arrow and the words over it, in the corner."""
    px = pen.style.px
    wide = max(px(60), pen.style.width(_("plan north"), 10, Face.REGULAR) + px(6))
    return pygame.Rect(port.area.right - px(8) - wide, _level(pen, port) - px(33), wide, px(54))


def _wind_words(weather: WeatherView) -> str:
    return _("wind {speed:.1f} m/s").format(speed=max(weather.wind_m_s, 0.0))


def _wind_place(pen: Pen, port: Viewport, weather: WeatherView) -> pygame.Rect:
    """The same for the wind, beside it."""
    px = pen.style.px
    wide = max(px(84), pen.style.width(_wind_words(weather), SMALL, Face.REGULAR) + px(6))
    return pygame.Rect(_north_place(pen, port).left - px(2) - wide, _level(pen, port) - px(33), wide, px(54))


def _title_block(pen: Pen, port: Viewport) -> None:
    px, box = pen.style.px, _block_place(pen, port)
    wide, high = box.size
    pen.fill(box, SHEET)
    pen.box(box, None, INK, 0, 1.5)
    pen.line((box.left, box.top + px(27)), (box.right - 1, box.top + px(27)), INK, 1.5)
    title = pygame.Rect(box.left + px(10), box.top + px(4), wide - px(20), px(20))
    words = pen.text_in(_("PLAN · lengths in metres"), title, 11, INK)
    _scale_bar(pen, port, box, title.right - words.right - px(8))
    caution = _("Training model: it certifies nothing. Real gates crush and kill.")
    pen.paragraph(caution, pygame.Rect(box.left + px(10), box.top + px(34), wide - px(20), high - px(36)), 11, SOFT)


def _weather(pen: Pen, port: Viewport, weather: WeatherView) -> None:
    """The weather beside the title block, in the corner where nobody has to stand."""
    px, lines = pen.style.px, weather_lines(weather)
    box = _weather_place(pen, port, weather)
    pen.fill(box, SHEET)
    pen.box(box, None, INK, 0, 1.5)
    for n, line in enumerate(lines):
        row = pygame.Rect(box.left + px(8), box.top + px(6) + px(WEATHER_LINE) * n, box.width - px(16), px(15))
        pen.text_in(line, row, 11, WIRE if n == 0 and weather.mean_m_s > 0.0 else INK)


def _scale_bar(pen: Pen, port: Viewport, box: pygame.Rect, room: int) -> None:
    """The longest of some lengths that has room [px] beside the title."""
    px = pen.style.px
    length = next((m for m in (2.0, 1.0, 0.5, 0.25) if m * port.scale < min(room, box.width - px(176))), 0.0)
    bar = round(length * port.scale)
    if bar:
        x, y = box.right - px(10) - bar, box.top + px(17)
        pen.fill(pygame.Rect(x, y, bar // 2, px(4)), INK)
        pen.box(pygame.Rect(x, y, bar, px(4)), None, INK, 0, 1)
        pen.text(f"{length:g} m", (box.right - px(10), box.top + px(9)), 10, SOFT, anchor="right")


def _title_line(pen: Pen, port: Viewport) -> None:
    """Where there is no room for the block, its caution stands in one line along the foot."""
    px = pen.style.px
    box = _line_place(pen, port)
    pen.fill(box, SHEET)
    pen.line(box.topleft, box.topright, INK, 1.5)
    pen.text_in(
        _("Training model: it certifies nothing. Real gates crush and kill."), box.inflate(-px(16), 0), 11, SOFT
    )


def _level(pen: Pen, port: Viewport) -> int:
    """Where north and wind stand: in the corner that the title block leaves free."""
    return port.area.bottom - pen.style.px(34) if port.outwards else port.area.top + pen.style.px(40)


def _north(pen: Pen, port: Viewport) -> None:
    px, place = pen.style.px, _north_place(pen, port)
    x, y = place.centerx + px(6), _level(pen, port)
    pen.fill(place, SHEET)
    pen.line((x, y + px(18)), (x, y - px(12)), INK, 1.4)
    pen.shape([(x, y - px(16)), (x - px(4), y - px(5)), (x + px(4), y - px(5))], INK, None)
    pen.text(_("plan north"), (place.centerx, y - px(25)), 10, SOFT, anchor="centre")


def draw_wind(pen: Pen, port: Viewport, view: View) -> pygame.Rect | None:
    """The wind of this instant as an arrow that flies with it; answers where it is."""
    weather = view.weather
    if weather.mean_m_s <= 0.0:
        return None
    px = pen.style.px
    words, place = _wind_words(weather), _wind_place(pen, port, weather)
    x, y = place.centerx, _level(pen, port)
    pen.fill(place, SHEET)
    bearing = math.radians(weather.from_deg)
    towards = (-math.sin(bearing), math.cos(bearing))
    side = (-towards[1], towards[0])
    reach, barb = px(17), px(7)
    tip = (x + towards[0] * reach, y + towards[1] * reach)
    pen.line((x - towards[0] * reach, y - towards[1] * reach), tip, WIRE, 1.4)
    for way in (-1, 1):
        back = (
            tip[0] - towards[0] * barb + way * side[0] * barb * 0.7,
            tip[1] - towards[1] * barb + way * side[1] * barb * 0.7,
        )
        pen.line(tip, back, WIRE, 1.4)
    pen.text(words, (x, y - px(25)), SMALL, WIRE, anchor="centre")
    return place
