"""Which readings can be told apart, and how usual each cause is."""

from __future__ import annotations

import numpy as np
import pytest

from sim.faults.catalogue import FAULTS
from trainer.diagnosis.classes import Shown, alike, between, classes
from trainer.diagnosis.priors import NOTHING, RATE_OF_NOTHING, RATES, prior


@pytest.mark.parametrize(
    ("texts", "expected"),
    [
        (("24.1 V", "24.0 V", "0.0 V"), (0, 0, 1)),
        (("12.0 V", "11.9 V", "OL"), (0, 0, 1)),
        (("980 mV", "1.05 V"), (0, 0)),
        (("0.4 Ω", "0.40 kΩ", "0.41 kΩ"), (0, 1, 1)),
        (("4.7 kΩ", "4.6 kΩ", "8.2 kΩ"), (0, 0, 1)),
        (("lit", "dark", "lit"), (0, 1, 0)),
        (("0.2 to 4.1 A", "0.2 to 4.0 A", "0.2 to 8.6 A"), (0, 0, 1)),
        (("3.0 mm at 12 N·m", "3.2 mm at 12 N·m", "3.0 mm at 4 N·m"), (0, 0, 1)),
    ],
)
def test_figures_that_lie_close_are_one_class(texts, expected) -> None:
    """A unit's scale is no difference; words are."""
    assert tuple(classes(texts)) == expected


def test_a_figure_without_a_unit_has_that_of_the_measurement() -> None:
    """0.3 apart is the same voltage and another torque."""
    assert tuple(classes(("1.0", "1.15"), "V")) == (0, 0)
    assert tuple(classes(("1.0", "1.5"), "N·m")) == (0, 1)


def test_an_instrument_for_thousandths_tells_thousandths_apart() -> None:
    """6 mA of leakage is another reading than none, and 6 mA on a clamp for motors isn't."""
    assert tuple(classes(("0.000 mA", "6.000 mA"), "mA")) == (0, 1)
    assert tuple(classes(("0.000 A", "0.006 A"), "A")) == (0, 0)


def test_between_is_for_figures_and_words_alike() -> None:
    """A reading between a mild and a grave one fits; words lie between nothing."""
    mild, grave = Shown.of("10.0 V"), Shown.of("24.0 V")
    assert between(Shown.of("17.2 V"), grave, mild)
    assert not between(Shown.of("25.2 V"), grave, mild)
    assert not between(Shown.of("dark"), Shown.of("lit"), Shown.of("out"))
    assert alike(Shown.of("980 mV"), Shown.of("1.02 V"))
    assert not alike(Shown.of("980 mV"), Shown.of("1.52 V"))


def test_neighbours_hang_together() -> None:
    """What can't be told from its neighbour is of its class, so no border cuts through a crowd."""
    figures = [f"{value:.2f} V" for value in np.arange(10.0, 12.0, 0.3)]
    assert len(set(classes(figures))) == 1


def test_priors_add_up_and_one_call_in_eight_has_nothing() -> None:
    """Practice 1.3; a fault of a usual family is more likely than one of a rare one, in the stated ratio."""
    families = {name: fault.family for name, fault in FAULTS.items()}
    names = (NOTHING, *families)
    belief = dict(zip(names, prior(names, families), strict=True))
    assert sum(belief.values()) == pytest.approx(1.0)
    assert belief[NOTHING] == RATE_OF_NOTHING
    guard = next(name for name, family in families.items() if family == "guards")
    worn = next(name for name, family in families.items() if family == "motor and drive")
    assert belief[guard] / belief[worn] == pytest.approx(RATES["guards"] / RATES["motor and drive"])
    assert prior((NOTHING,), {}) == pytest.approx([1.0])
    assert sum(prior((guard, worn), families)) == pytest.approx(1.0)


def test_every_family_of_the_catalogue_has_a_rate() -> None:
    """A fault that is added to a new family can't go without."""
    assert {fault.family for fault in FAULTS.values()} <= set(RATES)
