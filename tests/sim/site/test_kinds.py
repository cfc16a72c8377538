"""A drive or motor is complained about as what it was written to be: never with the keys of another kind."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from sim.site import DRIVE_KINDS, ArticulatedArm, Drive, HydraulicRam, Site, Underground, site_schema

Refusals = Callable[[str], list[str]]

KINDS = "linear ram, hydraulic ram, articulated arm, underground"


def only(sentences: list[str]) -> str:
    assert len(sentences) == 1, sentences
    return sentences[0]


def allowed(sentence: str) -> list[str]:
    """The keys that a sentence lists as allowed."""
    return sentence.split("allowed: ")[1].split(";")[0].split(", ")


@pytest.mark.parametrize(
    ("kind", "model"),
    list(zip(DRIVE_KINDS, (Drive, HydraulicRam, ArticulatedArm, Underground), strict=True)),
)
def test_an_unknown_key_lists_the_keys_of_the_kind_that_was_written(
    refusals: Refusals, kind: str, model: type[Drive]
) -> None:
    """Exactly the keys of that model, no more and no fewer."""
    said = only(refusals(f"drives:\n  active:\n    kind: {kind}\n    nonsense: 1\n"))
    assert said.startswith("yard.yaml:6:5 drives.active.nonsense: there is no such key where the kind is ")
    assert allowed(said) == list(model.model_fields)


@pytest.mark.parametrize(
    ("drive", "key", "where", "near"),
    [
        # a key of another kind says whose it is, and what comes near it here
        ("{kind: underground, slip_n: 450}", "slip_n", "underground; it belongs to linear ram; a", "slip_n_m"),
        ("{kind: hydraulic ram, gear_ratio: 20}", "gear_ratio", "linear ram, articulated arm, underground; a", ""),
        ("{kind: hydraulic ram, screw_lead_m: 0.005}", "screw_lead_m", "belongs to linear ram; a", ""),
        ("{kind: articulated arm, stroke_m: 0.4}", "stroke_m", "belongs to linear ram, hydraulic ram; a", ""),
        # a misspelt key gets the nearest one of its own kind
        ("{kind: hydraulic ram, relief: 25}", "relief", "the kind is hydraulic ram; a", "relief_bar"),
        ("{kind: articulated arm, play: 5}", "play", "the kind is articulated arm; a", "play_deg"),
        ("{kind: linear ram, play: 5}", "play", "the kind is linear ram; a", "play_m"),
        # nothing written is a linear ram, and that is said
        ("{crank_m: 0.3}", "crank_m", "no kind is written, which means linear ram; it belongs to articulated", ""),
        ("{type: underground}", "type", "no kind is written, which means linear ram; a", ""),
        # motors likewise
        ("{motor: {stall_a: 20}}", "motor.stall_a", "direct current; it belongs to mains induction; a", ""),
        ("{motor: {kind: mains induction, brush_ohm: 2}}", "motor.brush_ohm", "belongs to direct current; a", ""),
        ("{motor: {kind: mains induction, pull_out: 2}}", "motor.pull_out", "mains induction; a", "pull_out_n_m"),
    ],
)
def test_a_key_of_another_kind_is_told_from_a_misspelt_one(
    refusals: Refusals, drive: str, key: str, where: str, near: str
) -> None:
    """Whose key it is, what is allowed here, and a nearest key only where one is near."""
    said = only(refusals(f"drives: {{active: {drive}}}\n"))
    assert f" drives.active.{key}: there is no such key where " in said
    assert where in said
    assert said.partition("; did you mean ")[2] == (f"'{near}'?" if near else "")


@pytest.mark.parametrize(
    ("drive", "sentence"),
    [
        ("{kind: hydraulic, bore_cm2: 12}", f"read 'hydraulic'; allowed: {KINDS}; did you mean 'hydraulic ram'?"),
        ("{kind: articulated arms, crank_m: 0.2}", f"read 'articulated arms'; allowed: {KINDS}; did you mean 'art"),
        ("{kind: Linear-Ram}", f"read 'Linear-Ram'; allowed: {KINDS}; did you mean 'linear ram'?"),
        ("{kind: 3}", f"read 3; allowed: {KINDS}"),
        ("{kind: [underground]}", f"read a list of 1; allowed: {KINDS}"),
        ("{kind: }", f"read nothing; allowed: {KINDS}"),
        (
            "{motor: {kind: mains, pull_out_n_m: 1}}",
            "read 'mains'; allowed: direct current, mains induction; did you",
        ),
    ],
)
def test_a_kind_that_does_not_exist_is_the_only_complaint(refusals: Refusals, drive: str, sentence: str) -> None:
    """What the other keys of the drive are worth can't be told before its kind is."""
    said = only(refusals(f"drives: {{active: {drive}}}\n"))
    assert ".kind: " + sentence in said


@pytest.mark.parametrize(
    ("drive", "sentence"),
    [
        (
            "underground",
            "drives.active: read 'underground'; allowed: a mapping with a kind (linear ram, hydraulic ram",
        ),
        ("", "drives.active: read nothing; allowed: a mapping with a kind (linear ram, hydraulic ram"),
        (
            "{motor: induction}",
            "drives.active.motor: read 'induction'; allowed: a mapping with a kind (direct current",
        ),
    ],
)
def test_in_the_place_of_a_drive_a_mapping_is_asked_for(refusals: Refusals, drive: str, sentence: str) -> None:
    """The kinds are named; the keys of all of them at once would help nobody."""
    said = only(refusals(f"drives:\n  active: {drive}\n"))
    assert sentence in said
    assert "crank_m" not in said


@pytest.mark.parametrize(
    ("drive", "meaning"),
    [
        ("{gear_ratio: 3600}", "motor turns to one turn of the screw; 1 to 500; default 20"),
        ("{kind: underground, gear_ratio: 36000}", "motor turns to one turn of the pin; 1 to 10000; default 3600"),
        ("{kind: hydraulic ram, damping_n_s_m: -1}", "oil through its throttles [N·s/m]; 0 to 200000; default 60000"),
        ("{motor: {resistance_ohm: 30}}", "winding with sound brushes [Ω]; 0.05 to 20; default 1.2"),
        ("{motor: {kind: mains induction, resistance_ohm: 0.1}}", "for an ohmmeter and for its heat [Ω]; 0.5 to 200"),
    ],
)
def test_a_value_out_of_range_gets_the_range_of_its_own_kind(refusals: Refusals, drive: str, meaning: str) -> None:
    """One key may mean other things, within other limits, in another kind."""
    assert meaning in only(refusals(f"drives: {{active: {drive}}}\n"))


@pytest.mark.parametrize(
    ("value", "ends"),
    [
        ("'2.5'", "did you mean 2.5, without quotes?"),
        ("2,5", "did you mean 2.5?"),
        ("180 kg", "source: measured on the site)"),
    ],
)
def test_a_number_that_is_text_says_how_to_make_it_one(refusals: Refusals, value: str, ends: str) -> None:
    """Quotes and the decimal comma are habits; a unit in words is what the key says already."""
    said = only(refusals(f"leaves:\n  active:\n    mass_kg: {value}\n"))
    assert said.startswith("yard.yaml:5:5 leaves.active.mass_kg: read '")
    assert said.endswith(ends)


def test_a_key_that_is_called_like_a_kind_is_refused_like_any_other(refusals: Refusals) -> None:
    """pydantic names the kind among the keys of a place: the two must not be taken for each other."""
    said = only(refusals("drives: {active: {linear ram: {stroke_m: 0.4}}}\n"))
    assert said.startswith("yard.yaml:3:19 drives.active.linear ram: there is no such key here; allowed: ")


def test_a_class_of_wind_that_is_a_number_is_named(refusals: Refusals) -> None:
    """`3` for `class 3` is what everybody writes at first."""
    assert only(refusals("weather: {wind_class: 3}\n")).endswith("did you mean 'class 3'?")


def test_a_word_is_not_lost_among_the_keys_of_a_mapping(refusals: Refusals) -> None:
    """What may stand there in one word comes first."""
    assert "allowed: not fitted or a mapping with the keys y_m" in only(refusals("guards: {outer_beam: none}\n"))


@pytest.mark.parametrize(("holder", "key"), [("Drives", "active"), ("Drives", "inactive"), ("Drive", "motor")])
def test_the_schema_lets_only_one_kind_be_meant_without_being_written(
    site_from: Callable[[str], Site], holder: str, key: str
) -> None:
    """`oneOf` of JSON Schema 2020-12 fails where two alternatives fit: all kinds but one must ask to be written."""
    schema = site_schema()["$defs"]
    place = schema[holder]["properties"][key]
    kinds = next((each for each in place.get("anyOf", ()) if "oneOf" in each), place)["oneOf"]
    options = [schema[option["$ref"].rpartition("/")[2]] for option in kinds]
    silent = [option for option in options if "kind" not in option.get("required", ())]
    drive = site_from("").drives.active
    meant = drive.kind if holder == "Drives" else drive.motor.kind
    assert [option["properties"]["kind"]["const"] for option in silent] == [meant]
