"""The shelf of drills: all of them listed, a broken one with its reason, one begun with a person at work."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.errors import ScenarioError
from trainer.drills.shelf import Shelf
from trainer.job import scenarios_folder
from trainer.session.desk import Desk


def test_every_shipped_drill_is_listed_and_usable(tmp_path: Path) -> None:
    """With the job that it is a drill of."""
    cards = Shelf(Desk(folder=tmp_path)).drills()
    assert len(cards) == len(list((scenarios_folder() / "drills").glob("*.yaml")))
    assert all(card.usable and card.job and card.minutes > 0 for card in cards)


def test_a_broken_drill_stands_on_the_list_with_its_reason(tmp_path: Path) -> None:
    """And can't be begun."""
    file = tmp_path / "broken.yaml"
    file.write_text("format: gudgeon-drill/1\n", encoding="utf-8")
    shelf = Shelf(Desk(folder=tmp_path / "sessions"), tmp_path)
    (card,) = shelf.drills()
    assert (card.usable, card.title) == (False, "broken")
    assert str(file) in card.about
    with pytest.raises(ScenarioError):
        shelf.start(card.path, lambda _said: None)


def test_a_drill_is_begun_the_instructor_is_heard_and_leaving_closes_it(tmp_path: Path) -> None:
    """His first word comes five seconds after the start; afterwards another process may open the journal."""
    desk = Desk(folder=tmp_path)
    heard: list[str] = []
    person = Shelf(desk).start(str(scenarios_folder() / "drills" / "beam_goes_dark.yaml"), heard.append)
    for _ in range(60):
        person.tick(0.1)
    assert heard == ["The customer waves from the window: go ahead, try it."]
    person.close()
    assert not any(card.unfinished for card in desk.jobs())
    from trainer.session.journal import Journal

    Journal.open(person.session.journal.folder).close()
