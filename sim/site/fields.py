"""How a field of a site or job describes itself: words, unit, range and where its number comes from.

The range is written once, as limits; the description is made from it, so that the text can't disagree with the
check. `PRACTICE` is common practice without a source; a default so marked is data to be changed, not truth.
"""

from __future__ import annotations

from typing import Any, Final

from pydantic import BaseModel, ConfigDict, Field

PRACTICE: Final = "common practice, no source"
MEMORY: Final = "from memory of the named standard"
SURVEY: Final = "measured on the site"
ENGINEERING: Final = "engineering value of no particular product"
OURS: Final = "our own format"


class Frozen(BaseModel):
    """Base of everything read from a file: immutable, no unknown keys, no silent conversion of types."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        strict=True,
        allow_inf_nan=False,
        validate_default=True,
        str_max_length=4000,
        use_attribute_docstrings=False,
    )


TOLD_BY_KIND: Final = ConfigDict(json_schema_extra={"required": ["kind"]})
"""For a kind that must be written, or another is meant: editors with the schema then take it for one kind only."""


def quantity(default: float, unit: str, least: float, most: float, text: str, source: str) -> Any:
    """A number with a unit and closed limits. `unit` is `-` for a pure number."""
    bracket = "" if unit == "-" else f" [{unit}]"
    return Field(
        default,
        ge=least,
        le=most,
        description=f"{text}{bracket}; {least:g} to {most:g}; default {default:g}; source: {source}",
        json_schema_extra={"unit": unit, "source": source},
    )


def required_quantity(unit: str, least: float, most: float, text: str, source: str, *, typical: float) -> Any:
    """As `quantity`, for a number that must be given; `typical` is a usual one."""
    bracket = "" if unit == "-" else f" [{unit}]"
    return Field(
        ge=least,
        le=most,
        description=f"{text}{bracket}; {least:g} to {most:g}; typical {typical:g}; source: {source}",
        json_schema_extra={"unit": unit, "source": source},
    )


def optional_quantity(unit: str, least: float, most: float, text: str, absent: str, source: str) -> Any:
    """As `quantity`, for a number that may be left out; `absent` says what holds then."""
    bracket = "" if unit == "-" else f" [{unit}]"
    return Field(
        None,
        ge=least,
        le=most,
        description=f"{text}{bracket}; {least:g} to {most:g}; left out: {absent}; source: {source}",
        json_schema_extra={"unit": unit, "source": source},
    )


def words(default: str, text: str, most: int = 200) -> Any:
    """A text of 1 to `most` characters."""
    return Field(
        default,
        min_length=1,
        max_length=most,
        description=f"{text}; 1 to {most} characters; source: {SURVEY}",
        json_schema_extra={"unit": "text", "source": SURVEY},
    )


def required_words(text: str, most: int = 200, source: str = SURVEY) -> Any:
    """A text that must be given."""
    return Field(
        min_length=1,
        max_length=most,
        description=f"{text}; 1 to {most} characters; source: {source}",
        json_schema_extra={"unit": "text", "source": source},
    )


def choice(default: Any, text: str, source: str = SURVEY) -> Any:
    """One of the names its type allows, or true or false."""
    shown = {True: "true", False: "false", None: "null"}.get(default, default)
    return Field(
        default,
        description=f"{text}; default {shown}; source: {source}",
        json_schema_extra={"unit": "one of", "source": source},
    )


def part(text: str, source: str = SURVEY, *, most: int | None = None, **default: Any) -> Any:
    """A nested part or a list of parts; pass `default=` or `default_factory=`, or neither when it is required."""
    limit = "" if most is None else f"; at most {most}"
    usual = f"; default {default['default']}" if isinstance(default.get("default"), str) else ""
    return Field(
        description=f"{text}{limit}{usual}; source: {source}",
        max_length=most,
        json_schema_extra={"unit": "part", "source": source},
        **default,
    )
