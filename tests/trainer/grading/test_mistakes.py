"""The eight classic mistakes, each with its own named finding; and the other unsafe acts."""

from __future__ import annotations

import pytest

from trainer.grading import grade
from trainer.grading.safety.catalogue import RULES

PAR = 90.0

ADULT = {"body": "adult", "x_m": 1.5, "y_m": 1.0}


def bridged_and_left(run):
    def absent(p):
        p.power(False).prove_dead().do("bridge", guard="inner beam").stands(bridged=("inner beam",))
        return p.do("note", text="inner beam linked out for now").power(True)

    return run(absent=absent)


def worked_live(run):
    return run(swap=lambda p: p.swap(dead=False))


def wrong_order(run):
    def sheet(p):
        return p.set("opens first", "inactive").press().opens("inactive").tell("clash", force_n=420.0)

    return run(without=["transmitter", "beam", "receiver", "force"], sheet=sheet)


def not_swapped(run):
    return run(without=["swap", "jog again"])


def not_proved(run):
    return run(without=["guards"])


def full_effort(run):
    return run(force=lambda p: p.set("motor effort, closing", 100).measure(peak=700.0))


def one_reading(run):
    return run(force=lambda p: p.measure(1))


def learned_on_somebody(run):
    def learn(p):
        p.do("place body", **ADULT).do("learn travel")
        p.tell("danger", what="person in the arc", detail="adult", by="learning")
        return p.tell("learned", active=900, inactive=890).stands(learned=True).do("remove body", body="adult")

    return run(learn=learn)


CLASSIC = {
    "bridge left": bridged_and_left,
    "work live": worked_live,
    "wrong leaf order": wrong_order,
    "leads not swapped": not_swapped,
    "guards not proved": not_proved,
    "effort at maximum": full_effort,
    "one reading taken for a verdict": one_reading,
    "learning with a person in the arc": learned_on_somebody,
}


@pytest.mark.parametrize("name", CLASSIC)
def test_classic_mistake_has_its_own_finding(run, first_run, name: str) -> None:
    """Each of the eight is caught under its own name, with evidence and a reason, and costs the pass."""
    made = grade(CLASSIC[name](run).history, "learner", first_run, PAR)
    found = [f for f in made.findings if f.name == name]
    assert len(found) == 1
    (finding,) = found
    assert finding.outcome == "failed"
    assert finding.points > 0
    assert finding.evidence
    assert finding.why
    assert finding.instead
    assert finding.part == "safety"
    assert made.result != "competent"
    assert dict(made.lines)["Safe?"].startswith("no")


@pytest.mark.parametrize("name", CLASSIC)
def test_a_classic_mistake_is_not_found_where_it_was_not_made(run, first_run, name: str) -> None:
    """A mistake is reported for the run that has it and for none of the other seven."""
    for other, build in CLASSIC.items():
        if other == name:
            continue
        made = grade(build(run).history, "learner", first_run, PAR)
        assert name not in [f.name for f in made.findings], other


@pytest.mark.parametrize("name", ["bridge left", "learning with a person in the arc"])
def test_grave_mistakes_hold_the_result_down(run, first_run, name: str) -> None:
    """After a grave act the result is at most 39 and `not yet competent`, whatever else was right."""
    made = grade(CLASSIC[name](run).history, "learner", first_run, PAR)
    assert made.score <= 39
    assert made.result == "not yet competent"
    assert next(f for f in made.findings if f.name == name).grave
    assert "Held down" in dict(made.lines)


MISUSE = {
    "ohms on a live circuit": "danger",
    "current range across a supply": "danger",
    "wrong category on mains": "danger",
    "insulation test on a live circuit": "danger",
    "board destroyed by an insulation test": "damage",
    "short circuit made by hand": "danger",
    "capacitance on a charged circuit": "danger",
}

OTHERS = {
    "dead not proved": lambda run: run(swap=lambda p: p.power(False).do("swap motor leads", leaf="inactive")
        .stands(swapped_wrong=()).power(True)),
    "restored with a person in the arc": lambda run: run(restore=lambda p: p.do("place body", **ADULT).do("restore")
        .tell("danger", what="person in the arc", detail="adult", by="restore").stands(mains_on=True)
        .tell("power", mains=True, battery=False, board=True).do("remove body", body="adult")),
    "moved with a person in the arc": lambda run: run(jog=lambda p: p.do("place body", **ADULT).jog("active")
        .tell("danger", what="person in the arc", detail="adult", by="jog").do("remove body", body="adult")
        .jog("inactive")),
    "person struck": lambda run: run(transmitter=lambda p: p.enrol_and_open()
        .tell("struck", leaf="active", body="child", force_n=250)),
    "guard bridged while moving by itself": lambda run: run(before={
        "learn": lambda p: p.do("bridge", guard="outer beam"),
        "sheet": lambda p: p.do("remove bridge", guard="outer beam").do("note", text="link off the outer beam")}),
    "bridge not noted": lambda run: run(before={"restore": lambda p: p.do("bridge", guard="inner beam")
        .do("remove bridge", guard="inner beam")}),
    "effort raised to cure a symptom": lambda run: run(sheet=lambda p: p.set("motor effort, closing", 50)
        .tell("contact", leaf="active", body="test body", force_n=90).set("motor effort, closing", 80)),
    "meter held by hand": lambda run: run(before={"force": lambda p: p.measure(1, rest="by hand")}),
    "leaves clashed": lambda run: run(before={"transmitter": lambda p: p.tell("clash", force_n=200.0)}),
    "released leaf left": lambda run: run(before={"leave": lambda p: p.do("release drive", leaf="active")
        .stands(released=("active",))}),
    "released leaf swung": lambda run: run(before={"restore": lambda p: p
        .tell("danger", what="released on a slope")}),
    "learning before the guards were proved": lambda run: run(order=["restore", "learn", "guards"]),
    "guard test off": lambda run: run(before={"transmitter": lambda p: p.set("guard test", "off")}),
    "guard left unplugged": lambda run: run(before={"leave": lambda p: p.do("unplug", guard="active edge")
        .stands(unplugged=("active edge",))}),
    "no cordon": lambda run: run(without=["cordon"]),
    **{what: lambda run, what=what, kind=kind: run(before={"transmitter": lambda p: p.tell(kind, what=what)})
       for what, kind in MISUSE.items()},
}  # fmt: skip


@pytest.mark.parametrize("name", OTHERS)
def test_other_unsafe_acts_have_their_findings(run, first_run, name: str) -> None:
    """Every other rule is broken by a run made to break it."""
    made = grade(OTHERS[name](run).history, "working", first_run, PAR)
    finding = next(f for f in made.findings if f.name == name)
    assert finding.outcome == "failed"
    assert finding.points > 0
    assert finding.grave == (RULES[name].severity == "grave")


def test_every_rule_is_seen_broken() -> None:
    """No rule of the catalogue goes without a run that breaks it."""
    assert set(RULES) == set(CLASSIC) | set(OTHERS)


def test_bridge_under_isolation_and_noted_costs_nothing(run, first_run) -> None:
    """Fitted and removed dead, with nothing moving by itself, and written down: fine."""

    def search(p):
        p.prove_dead().do("bridge", guard="inner beam").do("remove bridge", guard="inner beam")
        return p.do("note", text="inner beam linked to search, link off again")

    made = grade(run(before={"restore": search}).history, "learner", first_run, PAR)
    assert made.score == 100.0


def test_bridge_under_jog_is_not_grave(run, first_run) -> None:
    """A leaf may be jogged with a link in, if it comes off before anything moves by itself."""

    def search(p):
        return p.power(False).prove_dead().do("bridge", guard="inner beam").power(True).jog("active").power(False)

    def off(p):
        p.prove_dead().do("remove bridge", guard="inner beam").do("note", text="link on and off").power(True)

    made = grade(run(before={"jog": lambda p: (search(p), off(p))}).history, "learner", first_run, PAR)
    assert not any(f.grave for f in made.findings)
    assert dict(made.lines)["Safe?"] == "yes"


def test_running_a_gate_with_a_bridge_that_was_found_in_it_is_not_grave(run, first_run) -> None:
    """Somebody else's link is nobody's unsafe act until it is left in; taken off dead, it costs nothing."""

    def off(p):
        return p.power(False).prove_dead().do("remove bridge", guard="inner beam").power(True)

    late = grade(run(before={"leave": off}).history, "learner", first_run, PAR)
    assert not any(f.grave for f in late.findings)
    left = run()
    left.stands(bridged=("inner beam",))
    found = [f.name for f in grade(left.history, "learner", first_run, PAR).findings if f.grave]
    assert found == ["bridge left"]


@pytest.mark.parametrize("volts", [0.0, 24.0])
def test_dead_is_proved_by_one_act_or_by_three_measurements_too(run, first_run, volts: float) -> None:
    """`prove dead`, or the tester taken as any other instrument: it counts the same, and so does a lamp that lit."""

    def one(p):
        p.power(False).do("prove dead", where="low voltage")
        p.tell("reading", instrument="two-pole tester", function="prove", value=24.0, unit="V")
        p.tell("reading", instrument="two-pole tester", function="test dead", value=volts, unit="V")
        p.tell("reading", instrument="two-pole tester", function="prove", value=24.0, unit="V")
        return p.wait(60.0).do("swap motor leads", leaf="inactive").stands(swapped_wrong=()).power(True)

    def three(p):
        p.power(False)
        for function, at, against, shown in (
            ("prove", "", "", 24.0),
            ("test dead", "board supply, plus", "board supply, minus", volts),
            ("prove", "", "", 24.0),
        ):
            p.do("measure", instrument="two-pole tester", function=function, at=at, against=against)
            p.tell("reading", instrument="two-pole tester", function=function, value=shown, unit="V")
        return p.do("swap motor leads", leaf="inactive").stands(swapped_wrong=()).power(True)

    for swap in (one, three):
        names = [f.name for f in grade(run(swap=swap).history, "learner", first_run, PAR).findings]
        assert ("dead not proved" in names) == (volts >= 12.0)


@pytest.mark.parametrize(
    ("at", "tells"),
    [
        ("board supply, plus", True),
        ("board battery, plus", True),
        ("inactive leaf motor, plus", True),
        ("active leaf motor, plus", False),
        ("isolator outlet, live", False),
        ("key switch plug, contact", False),
    ],
)
def test_dead_is_proved_where_it_tells_of_the_work(run, first_run, at: str, tells: bool) -> None:
    """Leads of the inactive motor: there, or where the board is fed from either source. An isolator that is open
    tells nothing of the battery, and a plug that is always dead tells nothing of anything."""

    def swap(p):
        p.power(False).do("prove tester").do("test dead", red=at, black=at.replace("plus", "minus"))
        p.tell("reading", instrument="two-pole tester", function="test dead", value=0.0, unit="V")
        p.do("prove tester")
        return p.do("swap motor leads", leaf="inactive").stands(swapped_wrong=()).power(True)

    names = {
        f.name for f in grade(run(swap=swap).history, "learner", first_run, PAR).findings if f.outcome == "failed"
    }
    assert ("dead not proved" in names) is not tells


@pytest.mark.parametrize("where", ["both sides", "low voltage", "mains side"])
def test_the_mains_side_alone_is_half_a_proof(run, first_run, where: str) -> None:
    """There are two sources."""

    def swap(p):
        p.power(False).do("prove dead", where=where)
        for function, volts in (("prove", 24.0), ("test dead", 0.0), ("prove", 24.0)):
            p.tell("reading", instrument="two-pole tester", function=function, value=volts, unit="V")
        return p.wait(60.0).do("swap motor leads", leaf="inactive").stands(swapped_wrong=()).power(True)

    names = {
        f.name for f in grade(run(swap=swap).history, "learner", first_run, PAR).findings if f.outcome == "failed"
    }
    assert ("dead not proved" in names) is (where == "mains side")


@pytest.mark.parametrize("proved", [True, False])
@pytest.mark.parametrize("handled", [True, False])
def test_a_repair_with_hands_on_conductors_wants_dead_proved(run, first_run, proved: bool, handled: bool) -> None:
    """A core set under its terminals is work behind the covers as swapped leads are; a fob's new cell is none."""

    def mend(p):
        p.power(False)
        if proved:
            p.prove_dead()
        p.do("re-terminate", what="active leaf motor, plus core")
        return p.stands(handled=(p.line,) if handled else ()).power(True)

    made = grade(run(before={"jog": mend}).history, "learner", first_run, PAR)
    failed = {f.name for f in made.findings if f.outcome == "failed"}
    assert ({"dead not proved", "dead proved before work"} <= failed) == (handled and not proved)


def test_live_work_is_one_breach_whoever_tells_of_it(run, first_run) -> None:
    """The world tells of it at the end of the repair, and the journal has the act: the same piece of work."""

    def mend(p):
        p.do("re-terminate", what="active leaf motor, plus core").stands(handled=(p.line,))
        return p.wait(5.0).tell("danger", what="live work", detail="re-terminate")

    made = grade(run(before={"guards": mend}).history, "learner", first_run, PAR)
    assert {b["name"]: b["count"] for b in made.features["breaches"]} == {"work live": 1}


def test_pulling_a_plug_under_power_is_no_live_work(run, first_run) -> None:
    """Plugs are made to be pulled: proving a guard by unplugging it is not work behind the covers."""
    made = grade(run().history, "learner", first_run, PAR)
    assert "work live" not in [f.name for f in made.findings]


def test_effort_set_too_high_and_taken_back_before_anything_moved_is_no_breach(run, first_run) -> None:
    """A slip of the pen that was corrected at once endangered nobody."""

    def slip(p):
        return p.set("motor effort, closing", 100).set("motor effort, closing", 60)

    made = grade(run(before={"transmitter": slip}).history, "learner", first_run, PAR)
    assert "effort at maximum" not in [f.name for f in made.findings]


def test_rule_whose_remedy_is_not_offered_is_not_applied(run, first_run) -> None:
    """A job that offers no barriers blames nobody for having none."""
    history = run(without=["cordon"]).history
    offered = {entry.action.kind for entry in history.entries}
    made = grade(history, "learner", first_run, PAR, allowed=offered)
    assert "no cordon" not in [f.name for f in made.findings]


def test_danger_on_an_abandoned_branch_counts(run, first_run) -> None:
    """Rewinding away from a struck person in an assessed attempt does not undo it; leaving acts don't count there."""
    abandoned = OTHERS["person struck"](run)
    abandoned.stands(bridged=("inner beam",))
    made = grade(run().history, "learner", first_run, PAR, abandoned=[abandoned.history])
    struck = next(f for f in made.findings if f.name == "person struck")
    assert struck.grave
    assert "abandoned" in struck.what
    assert made.score <= 39
    assert "bridge left" not in [f.name for f in made.findings]


def test_shared_past_of_an_abandoned_branch_counts_once(run, first_run) -> None:
    """What happened before two branches part is one breach, not two."""
    history = worked_live(run).history
    alone = grade(history, "learner", first_run, PAR)
    both = grade(history, "learner", first_run, PAR, abandoned=[history])
    assert both.score == alone.score
