"""The catalogues: what is offered is complete, the compiled form is the readable one, and gaps are kept."""

from __future__ import annotations

import gettext
import re
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

from trainer.window.languages import ENGLISH, catalogues, languages

FOLDER = catalogues()
CODES = sorted(path.parts[-3] for path in FOLDER.glob("*/LC_MESSAGES/gudgeon.po"))
OFFERED = [code for code in languages() if code != ENGLISH]
GAP = re.compile(r"\{[^{}]*\}")


def read(code: str) -> Catalog:
    """The catalogue that translators write."""
    with (FOLDER / code / "LC_MESSAGES" / "gudgeon.po").open("rb") as file:
        return read_po(file, locale=code)


def pairs(catalogue: Catalog) -> dict[str, str]:
    """Sentences and what was made of them."""
    return {str(message.id): str(message.string) for message in catalogue if message.id}


def other_gaps(told: dict[str, str]) -> list[str]:
    """Sentences whose translation has other gaps: one that is missing, made up or written otherwise."""
    return [text for text, made in told.items() if made and set(GAP.findall(text)) != set(GAP.findall(made))]


def test_a_gap_that_was_lost_is_found() -> None:
    """The rule can fail."""
    assert other_gaps({"At {when}": "Alle {quando}", "{n} of {all}": "{n} di {all}", "open": "apri"}) == ["At {when}"]


@pytest.mark.parametrize("code", CODES)
def test_gaps_of_a_translation_are_those_of_its_sentence(code: str) -> None:
    """Or it could not be filled, or would lose a number."""
    assert other_gaps(pairs(read(code))) == []


@pytest.mark.parametrize("code", OFFERED)
def test_a_language_is_offered_when_all_that_is_said_is_in_it(sentences: frozenset[str], code: str) -> None:
    """Every sentence that is gathered has a translation."""
    told = pairs(read(code))
    assert sorted(sentence for sentence in sentences if not told.get(sentence)) == []


@pytest.mark.parametrize("code", OFFERED)
def test_the_compiled_catalogue_says_what_the_readable_one_does(code: str) -> None:
    """It was compiled after the last change."""
    compiled = gettext.translation("gudgeon", FOLDER, [code])
    assert isinstance(compiled, gettext.GNUTranslations)
    told = {text: made for text, made in compiled._catalog.items() if text}  # type: ignore[attr-defined]
    assert told == pairs(read(code))


def test_the_readable_catalogues_are_beside_the_script() -> None:
    """So that none of the above looks at nothing."""
    assert (FOLDER / "gather.py").is_file()
    assert Path(FOLDER / "es" / "LC_MESSAGES" / "gudgeon.po").is_file()
    assert {"es", "it"} <= set(CODES)
