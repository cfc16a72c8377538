"""Pages and prints in another language: its sentences, its letters, its mark; English again afterwards."""

from __future__ import annotations

import io
import string
from collections.abc import Iterator
from typing import Any

import pytest
from babel.messages.pofile import read_po
from fontTools.ttLib import TTFont
from pypdf import PdfReader

from trainer.language import speak
from trainer.reports.commissioning import commissioning_html, record_of
from trainer.reports.debrief import debrief_html
from trainer.reports.debrief_pdf import debrief_pdf
from trainer.reports.page import Heading
from trainer.reports.typeface import font_files
from trainer.reports.written import write_debrief
from trainer.session.view import DebriefView, StripView, View
from trainer.window.languages import catalogues

HEADING = Heading("First run", "Tannery Lane", "working", "practice", 3, "0:42:12.40", who="Begoña Núñez")

LETTERS = string.ascii_letters + "áéíóúüñÁÉÍÓÚÜÑ" + "àèéìíòóùÀÈÉÌÍÒÓÙ" + "¿¡«»“”‘’–—…·ªº€°×−½²Ω"
"""Letters of the Spanish and the Italian alphabet with their accents (Real Academia Española; Accademia della
Crusca), and the marks that go with them."""

SPANISH = {
    "Debrief": "Informe de la práctica",
    "Findings": "Qué se halló",
    "First run": "Primera puesta en marcha",
    "practice": "práctica",
    "Why it matters:": "Por qué importa:",
    "line {line}": "línea {line}",
    "{score:.0f}{small} of 100{plain}": "{score:.0f}{small} de 100{plain}",
    "{result}: {score:.0f} of 100": "{result}: {score:.0f} de 100",
    "leaf angle [°]": "ángulo de la hoja [°]",
    "motor current [A]": "intensidad [A] < 3 & más",
    "Survey": "Reconocimiento «previo» <del> sitio",
    "page {page} of {pages}": "página {page} de {pages}",
    "debrief {job}": "informe {job}",
    "grave": "¡gravísimo!",
}


@pytest.fixture
def spanish() -> Iterator[None]:
    """Some sentences of Spanish; English again afterwards."""
    speak(lambda text: SPANISH.get(text, text), "es")
    yield
    speak(str)


def test_a_page_is_written_in_the_language_spoken(
    spanish, debrief: DebriefView, view: View, trace: StripView, reader: Any
) -> None:
    """Words, figures and drawings; the page says which language it is in; what is not in the catalogue stays."""
    html = debrief_html(HEADING, debrief, view.curves, trace)
    words = reader(html).words
    assert '<html lang="es">' in html
    for text in ("Informe de la práctica", "Primera puesta en marcha", "Tannery Lane", "línea 23", "39 de 100",
                 "Qué se halló", "ángulo de la hoja [°]", "What was measured"):  # fmt: skip
        assert text in words
    assert "Findings" not in words


def test_a_catalogue_is_text_and_no_markup(spanish, view: View, reader: Any) -> None:
    """What a sentence of a catalogue holds is read as it stands, in running text and in what fills a gap."""
    words = reader(commissioning_html(HEADING, record_of(view))).words
    assert "Reconocimiento «previo» <del> sitio" in words


def test_english_is_the_same_to_the_byte_afterwards(debrief: DebriefView, view: View, trace: StripView) -> None:
    """No page keeps a word of the language before."""
    before = debrief_html(HEADING, debrief, view.curves, trace)
    speak(lambda text: SPANISH.get(text, text), "es")
    try:
        assert debrief_html(HEADING, debrief, view.curves, trace) != before
    finally:
        speak(str)
    assert debrief_html(HEADING, debrief, view.curves, trace) == before
    assert '<html lang="en">' in before


def test_a_print_is_written_in_the_language_spoken(
    spanish, debrief: DebriefView, view: View, trace: StripView
) -> None:
    """Read back with another library (pypdf): accents, the marks before a question, and the person's own name."""
    document = PdfReader(io.BytesIO(debrief_pdf(HEADING, debrief, view.curves, trace)))
    told = " ".join(" ".join(sheet.extract_text() for sheet in document.pages).split())
    for text in ("INFORME DE LA PRÁCTICA", "Primera puesta en marcha", "Begoña Núñez", "práctica · working",
                 "Qué se halló", "¡gravísimo!", "línea 23", "39 de 100", "página 1 de"):  # fmt: skip
        assert text in told
    assert document.trailer["/Root"]["/Lang"] == "es"


def test_a_file_is_called_in_the_language_spoken(spanish, view: View, tmp_path) -> None:
    """By its job, which has a title there too."""
    assert write_debrief(view, tmp_path, "page").name == "informe Primera puesta en marcha.html"


@pytest.mark.parametrize("face", ["regular", "bold"])
def test_the_typeface_has_every_letter(face: str) -> None:
    """Of both alphabets, and of every sentence that stands in a catalogue: a print shows no empty box."""
    written = set(LETTERS)
    for file in sorted(catalogues().glob("*/LC_MESSAGES/gudgeon.po")):
        with file.open("rb") as source:
            written |= {letter for entry in read_po(source) for letter in str(entry.string or "")}
    has = TTFont(font_files()[face]).getBestCmap()
    assert len(written) > len(set(LETTERS))
    assert sorted(letter for letter in written if ord(letter) not in has and not letter.isspace()) == []
