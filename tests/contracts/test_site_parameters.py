"""Every parameter of a site says what it is: unit, range, usual value, and where its figures come from.

The walk goes through every model that a site can hold, in unions, lists and tables too, so that a new kind of drive
or ground is tested the day it is added.
"""

from __future__ import annotations

import types
from collections.abc import Iterator
from typing import Annotated, Any, Final, Literal, Union, get_args, get_origin

import pytest
from annotated_types import Ge, Le
from pydantic import BaseModel, Discriminator, Field, Tag
from pydantic.fields import FieldInfo

from sim.site import Site, site_schema
from sim.site.fields import Frozen, choice, quantity, required_quantity

SUFFIXES: Final[dict[str, tuple[str, ...]]] = {
    "-": ("",), "m": ("_m",), "kg": ("_kg",), "°": ("_deg",), "°C": ("_c",), "m/s": ("_m_s",), "mm²": ("_mm2",),
    "V": ("_v",), "A": ("_a",), "Ah": ("_ah",), "Ω": ("ohm",), "H": ("_h",), "N": ("_n",), "N/m": ("_n_m",),
    "N·m": ("_n_m",),
    "N·s/m": ("_n_s_m",), "N·m·s/rad": ("_n_m_s", "_n_m_s_rad"), "N·m/rad": ("_n_m_rad",),
    "V·s/rad = N·m/A": ("_v_s_rad",), "kg·m²": ("_kg_m2",), "s": ("_s",), "1/K": ("_per_k",), "J/K": ("_j_k",),
    "W": ("_w",), "W/K": ("_w_k",), "µF": ("_uf",), "rad/s": ("_rad_s",), "cm³": ("_cm3", "_cm3_per_turn"),
    "cm²": ("_cm2",),
    "bar": ("_bar",), "cm³/(s·bar)": ("_cm3_s_bar",), "nF": ("_nf",), "mm": ("_mm",), "kHz": ("_khz",),
    "MHz": ("_mhz",), "mm/h": ("_mm_h",), "dB": ("_db",), "dBm": ("_dbm",), "h": ("_h",),
}  # fmt: skip
"""How a name ends that carries this unit."""


def options(annotation: Any) -> Iterator[Any]:
    """The types an annotation allows: each branch of a union, without what is annotated to it."""
    origin = get_origin(annotation)
    if origin is Annotated:
        yield from options(get_args(annotation)[0])
    elif origin in (Union, types.UnionType):
        for branch in get_args(annotation):
            yield from options(branch)
    elif hasattr(annotation, "__value__"):  # a named alias
        yield from options(annotation.__value__)
    else:
        yield annotation


def contained(annotation: Any) -> Iterator[Any]:
    """The types an annotation allows, and those inside its lists and tables."""
    for option in options(annotation):
        yield option
        if get_origin(option) is not Literal:
            for inner in get_args(option):
                if inner is not Ellipsis:
                    yield from contained(inner)


def models(model: type[BaseModel], seen: dict[type[BaseModel], None] | None = None) -> dict[type[BaseModel], None]:
    """A model and every model that can be reached from it, in order."""
    seen = {} if seen is None else seen
    if model not in seen:
        seen[model] = None
        for field in model.model_fields.values():
            for option in contained(field.annotation):
                if isinstance(option, type) and issubclass(option, BaseModel):
                    models(option, seen)
    return seen


def breaches(model: type[BaseModel]) -> list[str]:
    """What a model's fields fail to say, field by field."""
    found = []
    for name, field in model.model_fields.items():
        said = [*_source(field), *_number(name, field), *_choice(field)]
        found += [f"{model.__name__}.{name}: {each}" for each in said]
    return found


def _extra(field: FieldInfo) -> dict[str, Any]:
    return field.json_schema_extra if isinstance(field.json_schema_extra, dict) else {}


def _source(field: FieldInfo) -> Iterator[str]:
    words = field.description or ""
    what, _, source = words.rpartition("; source: ")
    if not what or not source.strip():
        yield "no words with a source"
    elif _extra(field).get("source") != source:
        yield "the schema names another source than the words"


def _number(name: str, field: FieldInfo) -> Iterator[str]:
    allowed = list(contained(field.annotation))
    if not {int, float} & set(allowed):
        return
    if not {int, float} & set(options(field.annotation)):
        yield "numbers in a list have neither unit nor range; make them a model"
        return
    words, unit = field.description or "", str(_extra(field).get("unit", ""))
    least = [limit.ge for limit in field.metadata if isinstance(limit, Ge)]
    most = [limit.le for limit in field.metadata if isinstance(limit, Le)]
    if len(least) != 1 or len(most) != 1:
        yield "no closed range"
    elif f"; {least[0]:g} to {most[0]:g}; " not in words:
        yield "its range is not in its words"
    if unit not in SUFFIXES:
        yield f"unknown unit {unit!r}"
    elif not name.endswith(SUFFIXES[unit]):
        yield f"its name does not carry its unit {unit}"
    elif unit != "-" and f" [{unit}]; " not in words:
        yield "its unit is not in its words"
    if field.is_required():
        usual = "; typical "
    else:
        usual = "; left out: " if field.default is None else f"; default {field.default:g};"
    if usual not in words:
        yield "no usual value in its words"


def _choice(field: FieldInfo) -> Iterator[str]:
    words = field.description or ""
    for option in contained(field.annotation):
        if option is bool and "true or false" not in words:
            yield "does not say that it is true or false"
        for word in get_args(option) if get_origin(option) is Literal else ():
            if str(word) not in words:
                yield f"does not name {word!r}"
    if isinstance(field.default, str | bool) and not _is_free_text(field):
        shown = str(field.default).lower() if isinstance(field.default, bool) else field.default
        if f"; default {shown};" not in words:
            yield "no usual value in its words"


def _is_free_text(field: FieldInfo) -> bool:
    return str in set(options(field.annotation))


@pytest.mark.parametrize("model", models(Site), ids=lambda model: model.__name__)
def test_every_parameter_says_what_it_is(model: type[BaseModel]) -> None:
    """Words and source; of a number unit, range and usual value; of a choice what can be chosen."""
    assert breaches(model) == []


def test_the_walk_misses_no_model() -> None:
    """The schema that pydantic writes by itself names the same models, unions and lists included."""
    assert {model.__name__ for model in models(Site)} == {*site_schema()["$defs"], "Site"}
    assert sum(len(model.model_fields) for model in models(Site)) > 150


# planted breaches: a rule that can't fail is no rule


class Mute(Frozen):
    """Nothing is said about its fields."""

    width_m: float = 1.0


class Hidden(Frozen):
    """One breach a field."""

    width: float = quantity(1.0, "m", 0.0, 2.0, "unit not in the name", "invented")
    depth_m: float = Field(1.0, ge=0.0, le=2.0, description="usual value missing; 0 to 2; source: invented")
    height_furlong: float = quantity(1.0, "furlong", 0.0, 2.0, "a unit nobody knows", "invented")
    lengths_m: tuple[float, ...] = Field((), description="bare numbers in a list; source: invented")
    way: Literal["in", "out"] = choice("in", "only says in", "invented")
    is_shut: bool = choice(False, "does not say what can be chosen", "invented")


class Sound(Frozen):
    """Says everything."""

    kind: Literal["sound"] = choice("sound", "kind: sound", "invented")
    width_m: float = required_quantity("m", 0.0, 2.0, "how wide", "invented", typical=1.0)


Either = Annotated[
    Annotated[Sound, Tag("sound")] | Annotated[Hidden, Tag("hidden")], Discriminator(lambda value: "sound")
]


class Planted(Frozen):
    """Holds them where a walk may fail to look."""

    one: Either | None = None
    many: tuple[dict[str, list[Mute | Literal["none"]]], ...] = ()


def test_a_planted_breach_is_found_wherever_it_hides() -> None:
    """In a tagged union that may be absent, and in a list in a table in a tuple."""
    assert list(models(Planted)) == [Planted, Sound, Hidden, Mute]
    assert breaches(Sound) == []
    assert breaches(Mute) == [
        "Mute.width_m: no words with a source",
        "Mute.width_m: no closed range",
        "Mute.width_m: unknown unit ''",
        "Mute.width_m: no usual value in its words",
    ]
    assert breaches(Hidden) == [
        "Hidden.width: its name does not carry its unit m",
        "Hidden.depth_m: the schema names another source than the words",
        "Hidden.depth_m: unknown unit ''",
        "Hidden.depth_m: no usual value in its words",
        "Hidden.height_furlong: unknown unit 'furlong'",
        "Hidden.lengths_m: the schema names another source than the words",
        "Hidden.lengths_m: numbers in a list have neither unit nor range; make them a model",
        "Hidden.way: does not name 'out'",
        "Hidden.is_shut: does not say that it is true or false",
    ]
