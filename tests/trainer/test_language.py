"""What is said in English is shown in the language spoken, gaps and all."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from sim.said import Verbatim, begun, joined, listed, said
from sim.site.complaints import listing, nearest, refuse, shown
from sim.site.document import Document
from trainer.language import _, speak

ITALIAN = {
    "The {guard} stands {distance_m:.1f} m before the {leaf} leaf": "A {distance_m:.1f} m dall'anta {leaf}: {guard}",
    "photo beam": "fotocellula",
    "active": "principale",
    "{before} and {last}": "{before} e {last}",
    "{guard} is interrupted": "è interrotta la {guard}",
}


@pytest.fixture
def italian() -> Iterator[None]:
    """Three entries of Italian; English again afterwards."""
    speak(lambda text: ITALIAN.get(text, text))
    yield
    speak(str)


def test_gaps_are_filled_in_the_order_of_the_language_and_translated(italian) -> None:
    """Names by the catalogue, figures by the format."""
    told = said(
        "The {guard} stands {distance_m:.1f} m before the {leaf} leaf",
        guard="photo beam",
        distance_m=0.25,
        leaf="active",
    )
    assert told == "The photo beam stands 0.2 m before the active leaf"
    assert _(told) == "A 0.2 m dall'anta principale: fotocellula"
    assert _(joined([told, "photo beam"], "; ")) == "A 0.2 m dall'anta principale: fotocellula; fotocellula"


def test_what_no_catalogue_has_stays_as_it_is(italian) -> None:
    """So does nothing."""
    assert (_("inactive"), _("")) == ("inactive", "")
    assert _(said("{what}!", what="active")) == "principale!"


def test_the_first_letter_is_that_of_the_translated_text(italian) -> None:
    """Whatever stood first in English."""
    told = begun(said("{guard} is interrupted", guard="photo beam"))
    assert (told, _(told)) == ("Photo beam is interrupted", "È interrotta la fotocellula")
    assert _(listed(["active", "photo beam", "edge"])) == "principale, fotocellula e edge"


def test_what_a_person_wrote_is_the_same_in_every_language(italian) -> None:
    """Also where it stands in a sentence, and where a word of it has an entry."""
    assert (_(Verbatim("active")), _(Verbatim("photo beam, active"))) == ("active", "photo beam, active")
    assert _(said("{guard} is interrupted", guard=Verbatim("photo beam"))) == "è interrotta la photo beam"


def test_a_mistake_in_a_file_is_told_with_the_words_of_the_file(italian) -> None:
    """The sentence is translated; the place, what was read and what is allowed stand as in the file."""
    document = Document("gate.yaml", {"leaf": "activ"})
    told = said("read {read}; allowed: {allowed}{hint}", read=shown("activ"), allowed=listing(["active", "edge"]),
                hint=nearest("activ", ["active", "edge"]))  # fmt: skip
    speak(lambda text: {told.sentence: "letto {read}; ammesso: {allowed}{hint}", **ITALIAN}.get(text, text))
    error = refuse([document.complaint(("leaf",), told)])
    assert str(error) == "gate.yaml leaf: read 'activ'; allowed: active, edge; did you mean 'active'?"
    assert _(str(error)) == "gate.yaml leaf: letto 'activ'; ammesso: active, edge; did you mean 'active'?"


def test_a_name_of_several_parts_is_told_part_by_part(italian) -> None:
    """A terminal, a core, a joint: each part is in the catalogue, not every name that can be made of them."""
    assert _("photo beam, active") == "fotocellula, principale"
    assert _(said("{at}: 24.1 V", at="photo beam, active")) == "fotocellula, principale: 24.1 V"
