"""The table of a site: what each cause shows is what the simulator shows, and somebody's reading is known again."""

from __future__ import annotations

import os
import re
from pathlib import Path

import numpy as np
import pytest

from sim.bench.fault_seen import CYCLED, EYES, LIVE, SHEET
from sim.bench.fault_sweep import ISOLATED, UNPLUGGED
from sim.faults.catalogue import FAULTS
from tests.trainer.diagnosis.conftest import FEW
from trainer.diagnosis import keeping
from trainer.diagnosis.classes import Shown, alike
from trainer.diagnosis.costs import minutes
from trainer.diagnosis.keeping import MAKERS, Tables
from trainer.diagnosis.policy import course
from trainer.diagnosis.priors import NOTHING
from trainer.diagnosis.site_table import NOT_NOW
from trainer.diagnosis.table import gains

PANEL = (CYCLED, EYES, "opening", "panel", "")


def belief_after(small, *read):
    belief = small.prior
    for column, text in read:
        likely = small.likelihood(small.at(column), text)
        belief = belief * likely
    return dict(zip(small.causes, belief / belief.sum(), strict=True))


def test_every_cause_that_fits_is_there(small) -> None:
    """No fault first, and the faults that were asked for."""
    assert small.causes[0] == NOTHING
    assert {name.removesuffix(NOT_NOW) for name in small.causes[1:]} == {name for name in FEW if name in FAULTS}
    assert len(small.causes) >= 8


def test_a_gate_without_power_is_told_by_looking(small) -> None:
    """Facts 8.1: nothing moves and the panel is dark; the supply's voltage says the same."""
    told = belief_after(small, (PANEL, "no power"))
    assert max(told, key=told.get) == "no mains at the box"
    assert told["no mains at the box"] > 0.5
    dead = next(c for c in small.columns if c[0] == LIVE and c[2] == "volts ac" and "inlet, live" in c[3])
    told = belief_after(small, (dead, "0.0 V"))
    assert max(told, key=told.get) == "no mains at the box"


def test_a_guard_that_holds_the_gate_is_told_by_its_panel(small) -> None:
    """Facts 8.4: a broken edge line keeps the gate still and the panel says which."""
    told = belief_after(small, (PANEL, "closed: open refused: active edge reads line open"))
    assert max(told, key=told.get) == "edge line broken"


def test_the_sheet_is_read_at_a_glance(small) -> None:
    """A setting that is other than it should be is seen where it stands."""
    pause = next(column for column in small.columns if column[1:4] == (EYES, SHEET, "auto-close after"))
    assert minutes(pause) == pytest.approx(0.3)
    known = small.at(pause)
    wrong = small.texts[small.shown[small.causes.index("pause too short"), 0, known]]
    told = belief_after(small, (pause, wrong))
    assert max(told, key=told.get) == "pause too short"


def test_what_comes_and_goes_may_read_sound(small) -> None:
    """A sound gate speaks against what is always there, never for good against what may be away (practice 1.3)."""
    comes, stays = "residual-current device trips in rain", "no mains at the box"
    assert FAULTS[comes].trigger is not None
    assert comes + NOT_NOW in small.causes
    assert stays + NOT_NOW not in small.causes
    sound = [(column, small.texts[small.shown[0, 0, index]]) for index, column in enumerate(small.columns)]
    told = belief_after(small, *sound)
    before = dict(zip(small.causes, small.prior, strict=True))
    assert told[comes] < before[comes] / 100
    assert told[stays] < before[stays] / 100
    assert told[comes + NOT_NOW] / told[NOTHING] == pytest.approx(before[comes + NOT_NOW] / before[NOTHING])


def test_a_reading_between_mild_and_grave_fits(small) -> None:
    """What a fault of half the weight reads was never simulated, and lies between."""
    found = 0
    for cause, index in np.ndindex(len(small.causes), len(small.columns)):
        grave, mild = (Shown.of(small.texts[small.shown[cause, draw, index]]) for draw in (0, 1))
        if grave.shape == mild.shape and len(grave.figures) == 1:
            middle = grave.shape.replace("#", f"{(grave.figures[0] + mild.figures[0]) / 2:.4f}")
            unit = small.units[index]
            read = Shown.of(middle)
            if read.shape == grave.shape and not any(alike(read, each, unit) for each in (grave, mild)):
                likely = small.likelihood(index, middle)
                assert likely[cause] > 5 * np.median(likely)
                found += 1
    assert found


def test_a_reading_like_nothing_known_tells_nothing(small) -> None:
    """An unheard-of answer leaves belief alone, where it would else rule out everything alike."""
    assert small.likelihood(small.at(PANEL), "a sentence that no panel ever showed") is None


def test_the_next_measurement_is_cheap_and_there_is_an_end(small) -> None:
    """First operate and look, then the meter (practice 1.1, six steps): information for a minute says the same."""
    found = course(small.classed[:, 0, :], small.table.minutes, small.prior)
    assert small.columns[found.measurement][1] in (EYES, "look", "service panel")
    steps = found.steps()
    assert set(steps) == set(range(len(small.causes)))
    together = {cause for group in found.alike() for cause in group}
    assert small.causes.index("no mains at the box") not in together


def test_costs_are_as_stated() -> None:
    """Practice 1.3: operate 0.5, a voltage 1, isolate, prove dead and ohms 3."""
    assert minutes(PANEL) == pytest.approx(0.5)
    assert minutes((LIVE, "multimeter", "volts dc", "a", "b")) == pytest.approx(1.0)
    assert minutes((ISOLATED, "multimeter", "ohms", "a", "b")) == pytest.approx(3.0)
    assert minutes((ISOLATED, "multimeter", "ohms", "a", "b"), ISOLATED) == pytest.approx(1.0)
    assert minutes((UNPLUGGED, "multimeter", "ohms", "a", "b")) == pytest.approx(5.0)


def test_a_kept_table_is_the_same(small, site, tmp_path) -> None:
    """Kept, read again, and it tells the same to the last bit."""
    tables = Tables(tmp_path)
    assert tables.find(site) is None
    tables.keep(site, small)
    again = tables.find(site)
    assert again.causes == small.causes
    assert again.columns == small.columns
    assert np.array_equal(again.table.given, small.table.given)
    assert np.array_equal(gains(again.table, again.prior), gains(small.table, small.prior))
    assert again.likelihood(again.at(PANEL), "no power") == pytest.approx(
        small.likelihood(small.at(PANEL), "no power")
    )


@pytest.mark.parametrize("damage", [b"", b"PK\x03\x04 half", b"not a table at all"])
def test_a_damaged_table_is_told_and_thrown_away(small, site, tmp_path, damage) -> None:
    """Nothing of it is believed, and it is told once."""
    heard = []
    tables = Tables(tmp_path, heard.append)
    tables.keep(site, small)
    (file,) = tmp_path.glob("*.npz")
    file.write_bytes(damage)
    assert tables.find(site) is None
    assert len(heard) == 1
    assert "damaged" in heard[0]
    assert not file.exists()
    assert tables.find(site) is None
    assert len(heard) == 1


def test_a_table_cut_short_is_damaged(small, site, tmp_path) -> None:
    """Half a file is none."""
    heard = []
    tables = Tables(tmp_path, heard.append)
    tables.keep(site, small)
    (file,) = tmp_path.glob("*.npz")
    file.write_bytes(file.read_bytes()[: file.stat().st_size // 2])
    assert tables.find(site) is None
    assert heard


def test_the_oldest_tables_go(small, site, tmp_path, monkeypatch) -> None:
    """The folder doesn't grow without end."""
    monkeypatch.setattr("trainer.diagnosis.keeping.MOST_TABLES", 3)
    for number in range(5):
        old = tmp_path / f"{number}.npz"
        old.write_bytes(b"x")
        os.utime(old, (number, number))
    Tables(tmp_path).keep(site, small)
    assert len(list(tmp_path.glob("*.npz"))) == 3
    assert Tables(tmp_path).find(site) is not None
    assert not list(tmp_path.glob("*.part"))


def test_a_folder_that_cant_be_written_is_told(small, site, tmp_path) -> None:
    """Then the table is made each time; nothing breaks."""
    heard = []
    (tmp_path / "file").write_text("in the way")
    Tables(tmp_path / "file", heard.append).keep(site, small)
    assert "can't be kept" in heard[0]


def test_what_makes_a_table_is_in_its_fingerprint() -> None:
    """Every file of the room that the makers of tables read from; a change of any other leaves tables as they are."""
    room = Path(keeping.__file__).parent
    read = set()
    for name in MAKERS:
        read |= set(re.findall(r"^from trainer\.diagnosis\.(\w+) import", (room / name).read_text(), re.MULTILINE))
        read |= set(re.findall(r"^from trainer\.diagnosis import (\w+)$", (room / name).read_text(), re.MULTILINE))
    assert {"site_table", "table", "classes"} <= read
    assert {f"{name}.py" for name in read} <= set(MAKERS)
