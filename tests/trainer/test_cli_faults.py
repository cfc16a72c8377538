"""`gudgeon faults`: the list, one fault in words, and what it does on a gate, side by side and computed."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from sim.faults.catalogue import FAULTS
from trainer import CAUTION

SITES = Path(__file__).resolve().parents[2] / "scenarios/sites"


def test_the_list_has_a_line_for_each_fault_by_family(gudgeon: Callable[..., Any]) -> None:
    """Name and what the customer says stand on one line; the caution is there."""
    said = gudgeon("faults")
    assert said.code == 0
    lines = said.out.splitlines()
    for fault in FAULTS.values():
        assert [line for line in lines if line.startswith(f"  {fault.name} ") and fault.customer.rstrip(".") in line]
    for family in {fault.family for fault in FAULTS.values()}:
        assert [line for line in lines if line.startswith(f"{family} (")]
    assert CAUTION in said.out


def test_the_list_as_data_has_them_all(gudgeon: Callable[..., Any]) -> None:
    """For programs."""
    said = gudgeon("faults", "--json")
    assert [row["name"] for row in json.loads(said.out)] == list(FAULTS)


def test_every_fault_is_explained(gudgeon: Callable[..., Any]) -> None:
    """Whatever it tells of itself is printed: also its danger and what a wrong repair hides."""
    for name, fault in FAULTS.items():
        said = gudgeon("faults", *name.split())
        assert said.code == 0
        flat = " ".join(said.out.split())
        for text in (fault.customer, fault.seen, fault.fact, fault.verification, fault.trap, fault.source):
            assert " ".join(text.split()) in flat, name
        assert all(" ".join(wrong.hides.split()) in flat for wrong in fault.wrong)
        assert CAUTION in said.out


def test_an_explanation_as_data_can_be_played(gudgeon: Callable[..., Any]) -> None:
    """Its steps are the actions themselves."""
    name = next(iter(FAULTS))
    told = json.loads(gudgeon("faults", name, "--json").out)
    steps = FAULTS[name].reference.steps
    assert [step["action"] for step in told["reference"]["steps"]] == [step.kind for step in steps]


def test_a_fault_is_shown_on_a_gate_beside_the_gate_without_it(gudgeon: Callable[..., Any]) -> None:
    """The two readings of the measurement lie in its bands, and something else of the gate reads otherwise too."""
    bench = SITES / "reference_bench.yaml"
    said = gudgeon("faults", "edge wet", "--site", bench, "--json")
    assert said.code == 0
    told = json.loads(said.out)
    assert told["tells"] is True
    assert (told["healthy_lies_in"], told["faulty_lies_in"]) == (True, True)
    assert told["others"]
    page = gudgeon("faults", "edge", "wet", "--site", bench)
    assert (page.code, CAUTION in page.out) == (0, True)
    assert told["reference"]["healthy"] in page.out
    assert told["reference"]["faulty"] in page.out


def test_how_grave_it_is_moves_the_reading(gudgeon: Callable[..., Any]) -> None:
    """Mild and grave water read differently, and nothing is a number written down."""
    bench = SITES / "reference_bench.yaml"
    mild, grave = (
        json.loads(gudgeon("faults", "edge wet", "--site", bench, "--share", share, "--json").out)
        for share in ("0", "1")
    )
    assert mild["reference"]["healthy"] == grave["reference"]["healthy"]
    assert mild["reference"]["faulty"] != grave["reference"]["faulty"]


def test_what_does_not_fit_a_site_is_said_in_words(gudgeon: Callable[..., Any]) -> None:
    """No presence loop there, no broken one: one sentence, code 2."""
    said = gudgeon("faults", "presence loop broken", "--site", SITES / "orchard_row.yaml")
    assert (said.code, said.out) == (2, "")
    assert "'presence loop broken' doesn't fit Orchard Row" in said.err
    assert "Traceback" not in said.err


def test_what_a_gate_lacks_to_bring_a_fault_out_is_named(gudgeon: Callable[..., Any]) -> None:
    """Low sun at ten in the morning is none: the keys that the bench has are named, here and in its explanation."""
    said = gudgeon("faults", "low sun in the photo beam", "--site", SITES / "mill_lane.yaml")
    assert said.code == 1
    page = " ".join(said.out.split())
    assert "On this gate both read the same. On the bench it is shown with" in page
    for key in ("surroundings.day as", "starts_at_h as"):
        assert key in page
        assert key in " ".join(gudgeon("faults", "low sun in the photo beam").out.split())


def test_an_unknown_name_gets_the_nearest_right_one(gudgeon: Callable[..., Any]) -> None:
    """And code 2."""
    said = gudgeon("faults", "edgewet")
    assert said.code == 2
    assert said.err == "there is no fault 'edgewet'; did you mean 'edge wet'?\n"


def test_a_site_without_a_fault_is_no_question(gudgeon: Callable[..., Any]) -> None:
    """It says what is missing."""
    said = gudgeon("faults", "--site", SITES / "orchard_row.yaml")
    assert said.code == 2
    assert "say which fault" in said.err
