"""The sheet that every printed page is: title block, caution, fonts and colours; and how a template is filled.

Everything a person typed is escaped; a template that asks for what it wasn't given fails.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from html import escape
from pathlib import Path
from typing import Any, Final

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from sim.instruments.rule_sets import RuleSet
from sim.said import begun, joined, said
from sim.units import clock_text
from trainer import CAUTION
from trainer.language import _, spoken
from trainer.reports import typeface
from trainer.session.view import View

TEMPLATES: Final = Path(__file__).with_name("templates")

_COLOURS: Final = ("PAPER", "SHEET", "INK", "SOFT", "RULE", "CLEAR", "WIRE", "DANGER", "AMBER", "BLUSH")


@dataclass(frozen=True, slots=True)
class Heading:
    """What the title block says."""

    job: str
    place: str
    grade: str
    mode: str
    seed: int
    time: str
    """Time spent at the job."""
    when: str = ""
    """Date of the attempt, as the caller writes it; left out when empty."""
    who: str = ""
    """Who did the job, as they wrote it; left out when empty."""

    @classmethod
    def of(cls, view: View, when: str = "", who: str = "") -> Heading:
        """The title block of a session."""
        return cls(view.job, view.place, view.grade, view.mode, view.seed, clock_text(view.now), when, who)


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["clock"] = clock_text
    environment.filters["begun"] = begun
    environment.filters["_"] = _
    environment.globals["_"] = _written
    environment.globals["limits_of"] = limits_of
    return environment


def _written(sentence: str, **fields: Any) -> Markup:
    """A sentence of a template in the language spoken; what fills its gaps is escaped, its own quotes stay."""
    told = {name: field if isinstance(field, Markup) else _(field) if isinstance(field, str) else field
            for name, field in fields.items()}  # fmt: skip
    return Markup(escape(_(sentence), quote=False)).format(**told)


def limits_of(rules: RuleSet) -> str:
    """What a rule set is called, where it applies, and its limits, in one sentence."""
    limits = joined(map(str, rules.limits()), "; ")
    return said("{rules}, {applies}: {limits}.", rules=rules.name, applies=rules.applies, limits=limits)


def page(template: str, kind: str, heading: Heading, **filled: Any) -> str:
    """A whole page from a template of this room. `kind` is what the title block calls it, in the
    language spoken, as all of the page is."""
    return (
        _environment()
        .get_template(template)
        .render(
            kind=kind,
            heading=heading,
            caution=CAUTION,
            language=spoken(),
            fonts=Markup(typeface.font_face_rules()),  # ours, from the shipped files
            colours={name.lower(): getattr(typeface, name) for name in _COLOURS},
            **filled,
        )
    )


def drawn(svg: str) -> Markup:
    """A drawing of our own making, which has escaped what it was given."""
    return Markup(svg)
