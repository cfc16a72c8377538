"""What settings say of one another: every rule can be broken and kept, by each of the settings it names."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from sim.controller.ports import SheetWarning
from sim.controller.rules import CONTRADICTIONS, WARNINGS, Rule, about, contradiction, depends_on, warnings
from sim.controller.settings import CATALOGUE, Value, defaults
from sim.controller.sheet import checked
from sim.errors import Refused

RULES = (*CONTRADICTIONS, *WARNINGS)
NAMES = [" and ".join(rule.settings) for rule in RULES]


def _values(name: str) -> tuple[Value, ...]:
    """What a setting may hold: every choice, or its range in steps."""
    entry = CATALOGUE[name]
    if entry.choices:
        return entry.choices
    assert entry.least is not None
    assert entry.most is not None
    assert entry.step is not None
    steps = round((entry.most - entry.least) / entry.step)
    return (*(entry.least + entry.step * i for i in range(steps)), entry.most)


@pytest.mark.parametrize("rule", RULES, ids=NAMES)
def test_every_rule_names_settings_that_matter_to_it(rule: Rule) -> None:
    """For each setting a rule names there is a sheet on which that setting alone decides; none is named in vain."""
    all_values = [_values(name) for name in rule.settings]
    for place, name in enumerate(rule.settings):
        others = [values for i, values in enumerate(all_values) if i != place]
        decides = any(
            len({rule.broken(*held[:place], value, *held[place:]) for value in all_values[place]}) == 2
            for held in itertools.product(*others)
        )
        assert decides, f"{name} makes no difference to '{rule.reason}'"


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_a_setting_depends_on_what_it_is_judged_with(name: str) -> None:
    """Complete: every setting of a contradiction depends on every other of it. True: on nothing else."""
    judged_with = {other for rule in CONTRADICTIONS if name in rule.settings for other in rule.settings}
    assert set(depends_on(name)) == judged_with - {name}
    assert set(depends_on(name)) <= set(CATALOGUE)
    assert all(name in depends_on(other) for other in depends_on(name))


SHEETS = st.fixed_dictionaries({name: st.sampled_from(_values(name)) for name in CATALOGUE})
"""Any sheet at all, also such as nobody could write."""


def _refused(sheet: dict[str, Value], name: str, value: Value) -> bool:
    try:
        checked(sheet, name, value)
    except Refused:
        return True
    return False


@pytest.mark.slow
@settings(max_examples=400, derandomize=True, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
@given(one=SHEETS, other=SHEETS, data=st.data())
def test_nothing_else_forbids_a_value(one, other, data) -> None:
    """At the sheet's door: two sheets that agree in what a setting depends on agree in what it may be."""
    name = data.draw(st.sampled_from(sorted(CATALOGUE)))
    other = other | {kept: one[kept] for kept in (name, *depends_on(name))}
    assume(not contradiction(one) and not contradiction(other))
    for value in (_values(name)[0], _values(name)[-1]):
        assert _refused(one, name, value) == _refused(other, name, value)


@pytest.mark.parametrize("end", [0, -1], ids=["least", "most"])
@pytest.mark.parametrize("name", list(CATALOGUE))
def test_both_ends_of_every_range_are_written_or_refused_with_a_reason(name: str, end: int) -> None:
    """On the sheet as it leaves the works, both ends stand, or a rule says why not."""
    value = _values(name)[end]
    sheet = defaults()
    broken = [rule.reason for rule in CONTRADICTIONS if rule.breaks({**sheet, name: value})]
    if not broken:
        assert checked(sheet, name, value) == value
        return
    with pytest.raises(Refused) as refused:
        checked(sheet, name, value)
    assert broken[0] in str(refused.value)


@pytest.mark.parametrize("end", [0, -1], ids=["least", "most"])
@pytest.mark.parametrize("name", list(CATALOGUE))
def test_written_behind_the_panel_it_is_answered_in_words(fresh, name: str, end: int) -> None:
    """The same at the service panel: done, or refused with a sentence; the sheet then holds what the answer says."""
    value = _values(name)[end]
    before = fresh.controller.panel().settings[name]
    answer = fresh.ask("set", name, value)
    after = fresh.controller.panel().settings[name]
    if answer == f"done: {name}":
        assert after == value
    else:
        assert answer.startswith(f"refused: {name} can't be ")
        assert len(answer.split(": ", 2)[2]) > 20
        assert after == before


def test_a_sheet_from_the_works_looks_right() -> None:
    """What is set when nobody has set anything neither contradicts itself nor draws a warning."""
    assert contradiction(defaults()) == ""
    assert warnings(defaults()) == ()


@pytest.mark.parametrize("rule", WARNINGS, ids=[" and ".join(rule.settings) for rule in WARNINGS])
def test_every_warning_can_stand_on_a_sheet_that_is_allowed(rule: Rule) -> None:
    """A warning is for what may be written: some sheet breaks it and contradicts nothing, and one change ends it."""
    held = itertools.product(*(_values(name) for name in rule.settings))
    sheets = [
        sheet
        for values in held
        if rule.broken(*values)
        and not contradiction(sheet := defaults() | dict(zip(rule.settings, values, strict=True)))
    ]
    assert sheets
    assert any(told.reason == rule.reason and told.settings == rule.settings for told in warnings(sheets[0]))


@pytest.mark.parametrize("rule", WARNINGS, ids=[" and ".join(rule.settings) for rule in WARNINGS])
def test_a_warning_is_one_sentence(rule: Rule) -> None:
    """A whole sentence after the names of its settings, and those are in the sheet."""
    assert rule.reason.endswith(".")
    assert rule.reason.count(". ") == 0
    assert set(rule.settings) <= set(CATALOGUE)
    assert all(rule in about(name) for name in rule.settings)


def test_the_panel_shows_what_looks_wrong(fresh) -> None:
    """Written all the same, shown with its names and its reason, and gone when it is put right."""
    assert fresh.controller.panel().warnings == ()
    fresh.write({"warning before moving": 0})
    (told,) = fresh.controller.panel().warnings
    assert told.settings == ("warning before moving",)
    assert told.reason == "the gate starts without a warning, and nobody has time to step back."
    fresh.write({"warning before moving": 2, "guard test": "off"})
    assert fresh.controller.panel().warnings == ()
    fresh.write({"auto-close": "on"})
    assert [told.settings for told in fresh.controller.panel().warnings] == [("guard test", "auto-close")]


ONE = {"leaves fitted": "1"}
ON = {"auto-close": "on"}
MAINS = {"motor kind": "mains, one speed"}
LOCK = {"electric lock": "fitted"}
BY_TIME = {"position sensing": "running time"}
BY_SWITCH = {"position sensing": "limit switches"}
BOUNDS = [
    (
        {"leaf delay, opening": 10.5, "leaf delay, closing": 10.5},
        {"leaf delay, opening": 10.0},
        "leaf delay, opening",
    ),
    ({"leaf delay, closing": 10.5}, {"leaf delay, closing": 10.0}, "leaf delay, closing"),
    ({"leaf delay, closing": 10.5}, ONE, "leaf delay, closing"),
    ({"leaf delay, opening": 3.0, "leaf delay, closing": 2.5}, {"leaf delay, closing": 3.0}, "leaf delay, closing"),
    ({"leaf delay, opening": 3.0, "leaf delay, closing": 2.5}, ONE, "leaf delay, closing"),
    ({"slow zone before stop": 9.0}, {"slow zone before stop": 10.0}, "slow zone before stop"),
    ({"slow speed": 45.0, "run speed": 45.0}, {"run speed": 50.0}, "slow speed"),
    ({"slow speed": 25.0}, {"slow speed": 30.0}, "slow speed"),
    ({"motor effort, opening": 95.0}, {"motor effort, opening": 90.0}, "motor effort, opening"),
    ({"motor effort, closing": 95.0}, {"motor effort, closing": 90.0}, "motor effort, closing"),
    ({"obstacle margin": 55.0}, {"obstacle margin": 50.0}, "obstacle margin"),
    ({"obstacle retries": 4.0, **ON}, {"obstacle retries": 3.0}, "obstacle retries"),
    ({"obstacle retries": 4.0, **ON}, {"auto-close": "off"}, "obstacle retries"),
    ({"guard test": "off", **ON}, {"auto-close": "off"}, "guard test"),
    ({"guard test": "off", **ON}, {"guard test": "on"}, "guard test"),
    (
        {"auto-close after a passage": 31.0},
        {"auto-close after a passage": 30.0},
        "auto-close after a passage",
    ),
    ({"auto-close after": 5.0, **ON}, {"auto-close after": 10.0}, "auto-close after"),
    ({"auto-close after": 5.0, **ON}, {"auto-close": "off"}, "auto-close after"),
    ({"warning before moving": 0.0}, {"warning before moving": 0.5}, "warning before moving"),
    ({"outer beam": "not fitted", "inner beam": "not fitted"}, {"inner beam": "hold"}, "inner beam"),
    ({"outer beam": "not fitted", "inner beam": "not fitted"}, {"outer beam": "hold"}, "outer beam"),
    ({"active edge": "not fitted", "inactive edge": "not fitted"}, {"inactive edge": "reopen"}, "inactive edge"),
    ({"active edge": "not fitted", "inactive edge": "not fitted"}, {"active edge": "reopen"}, "active edge"),
    ({"active edge": "not fitted", **ONE}, {"leaves fitted": "2"}, "active edge"),
    ({"outer beam": "halt", **ON}, {"outer beam": "hold"}, "outer beam"),
    ({"outer beam": "halt", **ON}, {"auto-close": "off"}, "outer beam"),
    ({"inner beam": "halt", **ON}, {"inner beam": "hold"}, "inner beam"),
    ({"inner beam": "halt", **ON}, {"auto-close": "off"}, "inner beam"),
    ({"relief push": 0.0, **LOCK}, {"relief push": 0.1}, "relief push"),
    ({"relief push": 0.0, **LOCK}, {"electric lock": "not fitted"}, "relief push"),
    ({"lock pulse": 1.2, "relief push": 1.0, "soft start": 0.3, **LOCK}, {"lock pulse": 1.3}, "lock pulse"),
    ({"lock pulse": 1.2, "relief push": 1.0, "soft start": 0.3, **LOCK}, {"relief push": 0.9}, "relief push"),
    ({"lock pulse": 1.4, **LOCK}, {"lock pulse": 1.5}, "lock pulse"),
    ({"soft start": 1.1, **LOCK}, {"soft start": 1.0}, "soft start"),
    ({"lock pulse": 0.7, **LOCK}, {"electric lock": "not fitted"}, "lock pulse"),
    ({"yard light": "on", "yard light after": 0.0}, {"yard light after": 10.0}, "yard light after"),
    ({"yard light": "on", "yard light after": 0.0}, {"yard light": "off"}, "yard light after"),
    ({"position sensing": "running time", **ON}, {"auto-close": "off"}, "auto-close"),
    ({"position sensing": "running time", **ON}, {"position sensing": "encoder"}, "auto-close"),
    ({**MAINS, "active edge": "not fitted"}, {"active edge": "reopen"}, "active edge"),
    ({**MAINS, "inactive edge": "not fitted"}, {"inactive edge": "reopen"}, "inactive edge"),
    ({**MAINS, "inactive edge": "not fitted"}, ONE, "inactive edge"),
    ({**MAINS, "active edge": "not fitted"}, {"motor kind": "direct current"}, "active edge"),
    ({"battery low": "as usual"}, {"battery low": "opens only"}, "battery low"),
    ({"motor kind": "mains, one speed"}, {"motor kind": "direct current"}, "motor kind"),
    (BY_TIME, {"position sensing": "encoder"}, "position sensing"),
    ({**BY_TIME, "slow speed": 35.0}, {"slow speed": 40.0}, "slow speed"),
    ({**BY_TIME, "slow speed": 35.0}, {"motor kind": "mains, one speed"}, "slow speed"),
    ({**BY_SWITCH, **LOCK}, {"limit switches": "to the board, open when reached"}, "limit switches"),
    ({**BY_SWITCH, **LOCK}, {"electric lock": "not fitted"}, "limit switches"),
]
"""(what is written, the nearest change that is not warned of any more, a setting that the warning names)."""


@pytest.mark.parametrize(("written", "mended", "name"), BOUNDS)
def test_where_a_warning_begins(written, mended, name: str) -> None:
    """Just inside it is shown, once; the smallest step to the other side ends it."""
    wrong = defaults() | written
    assert contradiction(wrong) == ""
    told = [each for each in warnings(wrong) if name in each.settings]
    assert len(told) == 1
    assert told[0] not in warnings(wrong | mended)


def test_every_warning_has_its_bound_tested() -> None:
    """A rule that comes new is asked for the place where it begins."""
    seen = {told for written, _, name in BOUNDS for told in warnings(defaults() | written) if name in told.settings}
    assert seen == {SheetWarning(rule.settings, rule.reason) for rule in WARNINGS}


@pytest.mark.parametrize(
    "stands",
    [
        {"slow speed": 60.0, "run speed": 60.0},
        {"leaf delay, opening": 10.0, "run-time limit": 20.0},
        {"leaf delay, closing": 10.0, "run-time limit": 20.0},
        {"leaves fitted": "2", "opens first": "inactive"},
        {"leaves fitted": "1", "opens first": "active"},
        {"stop circuit": "not fitted", "stop circuit by the survey": "not needed"},
        {"auto-close": "on", "inner beam": "not fitted"},
        {"auto-close": "on", "outer beam": "not fitted"},
        {"auto-close": "off", "outer beam": "not fitted", "inner beam": "not fitted"},
    ],
)
def test_what_stands_just_beside_a_contradiction_is_allowed(stands) -> None:
    """The bounds themselves belong to what may be written."""
    assert contradiction(defaults() | stands) == ""


@pytest.mark.parametrize(
    ("wrong", "why"),
    [
        ({"stop circuit": "not fitted", "stop circuit by the survey": "needed"}, "needs a stop circuit"),
        ({"slow speed": 60.0, "run speed": 55.0}, "above the run speed"),
        ({"leaf delay, opening": 10.5, "run-time limit": 20.0}, "less than 10 s to arrive"),
        ({"leaf delay, closing": 10.5, "run-time limit": 20.0}, "less than 10 s to arrive"),
        ({"leaves fitted": "1", "opens first": "inactive"}, "no inactive leaf"),
        ({"auto-close": "on", "outer beam": "not fitted", "inner beam": "not fitted"}, "needs a beam"),
        ({"on battery": "closes once", "outer beam": "not fitted", "inner beam": "not fitted"}, "needs a beam"),
    ],
)
def test_the_nearest_sheet_that_cannot_stand_says_why(wrong, why: str) -> None:
    """One step beyond what may be written."""
    assert why in contradiction(defaults() | wrong)


@pytest.mark.parametrize(
    ("end", "name"),
    [
        ({"leaf delay, opening": 15.0, "leaf delay, closing": 15.0, "run-time limit": 60.0}, "leaf delay, opening"),
        ({"leaf delay, closing": 15.0, "run-time limit": 60.0}, "leaf delay, closing"),
        ({"leaf delay, opening": 10.0}, "leaf delay, closing"),
        ({"slow zone before stop": 5.0}, "slow zone before stop"),
        ({"slow speed": 20.0}, "slow speed"),
        ({"motor effort, opening": 100.0}, "motor effort, opening"),
        ({"motor effort, closing": 100.0}, "motor effort, closing"),
        ({"obstacle margin": 80.0}, "obstacle margin"),
        ({"obstacle retries": 5.0, **ON}, "obstacle retries"),
        ({"auto-close after a passage": 60.0}, "auto-close after a passage"),
        ({**BY_TIME, "slow speed": 30.0}, "slow speed"),
        ({"lock pulse": 0.5, "relief push": 1.0, "soft start": 0.3, **LOCK}, "relief push"),
    ],
)
def test_a_warning_does_not_end_beyond_its_bound(end, name: str) -> None:
    """What looks wrong at its bound looks wrong at the far end of the range too."""
    wrong = defaults() | end
    assert contradiction(wrong) == ""
    assert any(name in each.settings for each in warnings(wrong))


@pytest.mark.parametrize("survey", CATALOGUE["stop circuit by the survey"].choices)
@pytest.mark.parametrize("stop", CATALOGUE["stop circuit"].choices)
def test_only_a_survey_that_asks_for_a_stop_circuit_does(stop: str, survey: str) -> None:
    """Every word of both settings."""
    refused = "needs a stop circuit" in contradiction(
        defaults() | {"stop circuit": stop, "stop circuit by the survey": survey}
    )
    assert refused is (stop == "not fitted" and survey == "needed")


@pytest.mark.parametrize("motor", CATALOGUE["motor kind"].choices)
@pytest.mark.parametrize("auto", ["on", "off"])
@pytest.mark.parametrize("leaves", CATALOGUE["leaves fitted"].choices)
@pytest.mark.parametrize("without", [(), ("active edge",), ("inactive edge",), ("active edge", "inactive edge")])
def test_a_mains_motor_closes_by_itself_only_with_an_edge_on_each_leaf(motor, auto, leaves, without) -> None:
    """It has no limit of effort, so nothing else would notice a person; a leaf that isn't there needs no edge."""
    sheet = defaults() | {"motor kind": motor, "auto-close": auto, "leaves fitted": leaves}
    refused = "edge" in contradiction(sheet | dict.fromkeys(without, "not fitted"))
    bare = "active edge" in without or ("inactive edge" in without and leaves != "1")
    assert refused is (motor != "direct current" and auto == "on" and bare)
