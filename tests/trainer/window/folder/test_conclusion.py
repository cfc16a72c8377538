"""What is concluded: chosen from the whole catalogue, taken back, and offered only where a job asks for a cause."""

from __future__ import annotations

import pygame

from sim.faults.catalogue import FAULTS
from trainer.window.folder.conclusion import causes, families


def asked(work):
    """The notebook of a job that asks for a cause."""
    work.session.asks_cause = True
    work.page("Notebook")
    return work


def choose(work, field: str, choice: str) -> None:
    """By the dropdown's own keys: its list is opened and the entry typed."""
    work.hand.click("dropdown", field)
    work.hand.type(choice)
    work.hand.key(pygame.K_RETURN)
    work.frame()


def held(work) -> list[str]:
    return [told["label"] for told in work.hand.all("conclusion")]


def test_every_fault_of_the_catalogue_can_be_concluded_and_that_nothing_is_wrong() -> None:
    """The same list in every job: it gives nothing away."""
    offered = [cause for family in families() for cause in causes(family)]
    assert sorted(offered) == sorted([*FAULTS, "no fault"])


def test_a_cause_is_concluded_and_taken_back(work) -> None:
    """Both are acts of the journal."""
    asked(work)
    choose(work, "where it lies", "motor")
    choose(work, "the cause", "worn")
    choose(work, "how sure", "95")
    work.hand.click("button", "Conclude")
    work.frame()
    assert work.acts("conclude") == [{"cause": "worn brushes", "sure": 95}]
    assert held(work) == ["worn brushes"]
    work.hand.click("button", "Take back")
    work.frame()
    assert work.acts("take back conclusion") == [{"cause": "worn brushes"}]
    assert held(work) == []


def test_a_hint_is_asked_for_beside_it(work) -> None:
    """An act of the journal; what is answered stands in the notebook."""
    asked(work)
    work.hand.click("button", "Ask for a hint")
    work.frame()
    assert len(work.acts("ask for a hint")) == 1
    assert any("still good" in note.text for note in work.session.observe().notes)


def test_a_job_that_asks_for_no_cause_offers_no_conclusion(work) -> None:
    """A commissioning has none."""
    work.page("Notebook")
    assert not work.hand.all("dropdown", "the cause")


def test_after_the_end_conclusions_only_stand_there(work) -> None:
    """Nothing can be chosen any more."""
    asked(work)
    work.hand.click("button", "Conclude")
    work.frame()
    page = work.screen.folder.page
    work.session.finished = True
    work.screen.show(work.session.observe())
    assert not page.conclusion.cause.enabled
    assert [widget for widget in page.walk() if widget.role == "conclusion"]
    assert not [widget for widget in page.walk() if widget.label == "Take back"]
