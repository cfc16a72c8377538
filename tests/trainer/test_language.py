"""What is said in English is shown in the language spoken, gaps and all."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from sim.said import begun, joined, listed, said
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
