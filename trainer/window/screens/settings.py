"""The settings of the window: each holds at once and is kept for the next start."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, get_args

from trainer.language import _
from trainer.window.kit.boxes import Row
from trainer.window.kit.button import Toggle
from trainer.window.kit.choice import Dropdown, RadioRow
from trainer.window.kit.dialog import Dialog
from trainer.window.kit.label import Label, Paragraph
from trainer.window.kit.slider import Slider
from trainer.window.kit.style import SMALL, SOFT
from trainer.window.kit.widget import Widget
from trainer.window.languages import languages
from trainer.window.preferences import TEXT_SCALES, Colours, Contrast
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.window.appearance import Appearance
    from trainer.window.preferences import Preferences

NAMES = 104.0
"""Width of the names before the choices [logical px]."""


def settings_dialog(appearance: Appearance) -> Dialog:
    """A dialog on what is preferred now; each change is put to work by its name."""
    now, prefer = appearance.now, appearance.prefer
    spoken = languages()
    codes = {name: code for code, name in spoken.items()}
    language = Dropdown(
        _("language"),
        list(codes),
        spoken.get(now.language, spoken["en"]),
        lambda name: prefer(language=codes[name]),
        width=190,
    )
    text = Slider(
        _("text size"),
        now.text_scale,
        *TEXT_SCALES,
        0.1,
        lambda scale: prefer(text_scale=round(scale, 2)),
        words=lambda v: f"{v * 100:.0f} %",
        grow=1.0,
    )
    contrast = RadioRow(
        _("contrast"),
        get_args(Contrast),
        now.contrast,
        lambda c: prefer(contrast=c),
        words=lambda w: first_upper(_(w)),
    )
    colours = RadioRow(
        _("colours"), get_args(Colours), now.colours, lambda c: prefer(colours=c), words=lambda w: first_upper(_(w))
    )
    body: list[Widget] = [
        _named(_("Language"), language),
        _named(_("Text size"), text),
        _named(_("Contrast"), contrast),
        _named(_("Colours"), colours),
        Paragraph(_("Safe colours stay apart for every common way of seeing colours."), size=SMALL, colour=SOFT),
        Toggle(_("Reduced motion: nothing blinks or glides"), now.calm, lambda on: prefer(calm=on)),
        *_sound(now, prefer),
    ]
    if appearance.keeper.path is not None:
        body.append(Paragraph(_("Kept in {path}").format(path=appearance.keeper.path), size=SMALL, colour=SOFT))
    return Dialog(_("Settings"), body, [(_("Done"), "main", lambda: None)], width=500)


def _sound(now: Preferences, prefer: Callable[..., Any]) -> list[Widget]:
    volume = Slider(
        _("volume"),
        now.volume,
        0.0,
        1.0,
        0.1,
        lambda loud: prefer(volume=round(loud, 2)),
        words=lambda v: f"{v * 100:.0f} %",
        grow=1.0,
    )
    volume.enabled = now.sound

    def turn(on: bool) -> None:
        volume.enabled = on
        prefer(sound=on)

    return [
        Toggle(_("Sound: motor, lamp, relay and contact are heard"), now.sound, turn),
        _named(_("Volume"), volume),
        Toggle(_("Captions: what can be heard is written as well"), now.captions, lambda on: prefer(captions=on)),
    ]


def _named(name: str, *widgets: Widget) -> Row:
    return Row(Label(name, width=NAMES), *widgets, gap=10)
