"""Grading a history: judge the checks, look for breaches, keep the features, make the score, say it in findings.

Called once when a job ends, by the session and by drills; it never raises for anything a history holds. A check
that crashes is reported as the product's failure and charged to nobody.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass

from sim.errors import DataError
from sim.said import amid, joined, said
from sim.units import Us
from sim.world.actions import Action
from sim.world.history import History
from trainer.grading import economy, hints, paperwork
from trainer.grading.checks.catalogue import ACCEPTANCE, its_own_fault, judged
from trainer.grading.checks.check import Check
from trainer.grading.checks.repair import needless
from trainer.grading.finding import PARTS, Finding, Outcome, Verdict
from trainer.grading.guide import named_check
from trainer.grading.reasoning import REASONING
from trainer.grading.safety.catalogue import RULES
from trainer.grading.safety.rule import Breach, Rule
from trainer.grading.score import BreachFeature, CheckFeature, Features, Score, score
from trainer.grading.story import Story
from trainer.grading.weights import GRADE_MODEL, GRADED_ANEW, WEIGHTS, Weights
from trainer.session.view import DebriefView

OUTCOMES: dict[str, Outcome] = {"passed": "passed", "marginal": "marginal", "not applicable": "skipped"}
"""Every other state is a failure once the job is over."""


@dataclass(frozen=True, slots=True)
class Grade:
    """A graded result: what a debrief shows, and the features it was made of."""

    result: str
    score: float
    lines: tuple[tuple[str, str], ...]
    parts: tuple[tuple[str, float, float], ...]
    findings: tuple[Finding, ...]
    features: Features
    report_path: str = ""

    def debrief(self, report_path: str = "") -> DebriefView:
        """As a screen draws it."""
        return DebriefView(
            result=self.result,
            score=self.score,
            lines=self.lines,
            parts=self.parts,
            findings=tuple(finding.view() for finding in self.findings),
            report_path=report_path,
        )

    def as_base_types(self) -> dict[str, object]:
        """For JSON: result, findings and features with the version of the model."""
        return {
            "grade_model": GRADE_MODEL,
            "result": self.result,
            "score": self.score,
            "lines": [list(line) for line in self.lines],
            "parts": [list(part) for part in self.parts],
            "findings": [finding.as_base_types() for finding in self.findings],
            "features": dict(self.features),
        }


@dataclass(frozen=True, slots=True)
class _Judged:
    check: Check
    verdict: Verdict
    crashed: bool
    accepted: bool


@dataclass(frozen=True, slots=True)
class _Broken:
    rule: Rule
    breaches: tuple[Breach, ...]


def grade(
    history: History,
    job_grade: str,
    acceptance: Sequence[str],
    par_minutes: float,
    *,
    allowed: Collection[str] | None = None,
    abandoned: Sequence[History] = (),
    without: Mapping[str, Callable[[Us], History]] | None = None,
    expert: Sequence[Action] = (),
) -> Grade:
    """Grade a history for a job of this grade that asks for these checks and should take this long.

    `allowed`: kinds of action the job offers (None: all); a rule whose remedy is not offered is not applied.
    `abandoned`: histories of branches somebody rewound away from in an assessed attempt; what was endangered there
    counts. `without`: of each fault the gate was found with, the same acts up to an instant on a gate that hasn't got
    it: what is no evidence there is none here. `expert`: the acts of the job's own solution. Raises DataError for a
    grade or a check that doesn't exist.
    """
    weights = weights_of(job_grade)
    story = Story(history, without or {}, expert)
    checks = _judge(story, acceptance)
    broken, crashed = _look(story, [Story(branch) for branch in abandoned], allowed)
    idle, wasted = economy.redundant(story), needless(story)
    features = Features(
        grade_model=GRADE_MODEL,
        job_grade=job_grade,
        par_minutes=float(par_minutes),
        time_us=int(history.end),
        ended=story.ended,
        checks=[
            CheckFeature(
                name=j.check.name, part=j.check.part, state=j.verdict.state, crashed=j.crashed, accepted=j.accepted
            )
            for j in checks
        ],
        breaches=[BreachFeature(name=b.rule.name, severity=b.rule.severity, count=len(b.breaches)) for b in broken],
        redundant=len(idle),
        needless=len(wasted),
        hints=hints.count(story),
    )
    made = score(features, weights)
    findings = [
        *_check_findings(checks, made),
        *_safety_findings(broken, crashed, made),
        *(
            f.costing(made.lost.get(f.name, 0.0))
            for f in economy.findings(story, par_minutes, made.shown, idle, wasted)
        ),
        *(f.costing(made.lost.get(f.name, 0.0)) for f in hints.findings(story)),
    ]
    findings.sort(key=lambda f: (not f.grave, PARTS.index(f.part)))
    return Grade(
        result=made.result,
        score=made.score,
        lines=_lines(made, broken, weights),
        parts=tuple((part, got, of) for part, (got, of) in made.parts.items()),
        findings=tuple(findings),
        features=features,
    )


def regrade(features: Features, weights: Weights | None = None) -> Score:
    """The score of stored features under other weights (None: today's). Raises DataError for another model."""
    if features["grade_model"] not in GRADED_ANEW:
        raise DataError(f"features of model '{features['grade_model']}' can't be graded by '{GRADE_MODEL}'")
    return score(features, weights if weights is not None else weights_of(features["job_grade"]))


def weights_of(job_grade: str) -> Weights:
    """The weights of a grade of job. Raises DataError if there is no such grade."""
    if job_grade not in WEIGHTS:
        raise DataError(f"there is no grade of job '{job_grade}'; there are: {', '.join(WEIGHTS)}")
    return WEIGHTS[job_grade]


def _judge(story: Story, acceptance: Sequence[str]) -> list[_Judged]:
    """Verdicts on what the job asks for, and on what stands beside it in diagnosis and record."""
    asked = [named_check(name) for name in dict.fromkeys(acceptance)]
    beside = [reason for check in asked for reason in REASONING.get(check.name, ())]
    beside += paperwork.CHECKS if any(check.name == "handed over" for check in asked) else ()
    return [
        _Judged(check, *judged(check, story), accepted)
        for accepted, checks in ((True, asked), (False, beside))
        for check in checks
    ]


def _look(
    story: Story, abandoned: Sequence[Story], allowed: Collection[str] | None
) -> tuple[list[_Broken], list[tuple[Rule, str]]]:
    """(broken rules with their breaches, rules whose eye crashed)."""
    broken: list[_Broken] = []
    crashed: list[tuple[Rule, str]] = []
    for rule in RULES.values():
        if allowed is not None and rule.remedy and rule.remedy not in allowed:
            continue
        try:
            found = rule.look(story)
            for branch in () if rule.at_leaving else abandoned:
                seen = {breach.evidence for breach in found}
                found += [
                    Breach(said("{what} (on a branch that was abandoned)", what=b.what), b.evidence)
                    for b in rule.look(branch)
                    if b.evidence not in seen
                ]
        except Exception as error:
            crashed.append((rule, its_own_fault(error)))
            continue
        if found:
            broken.append(_Broken(rule, tuple(found)))
    return broken, crashed


def _check_findings(checks: Sequence[_Judged], made: Score) -> list[Finding]:
    states = {j.check.name: j.verdict.state for j in checks}
    found = []
    for j in checks:
        outcome: Outcome = OUTCOMES.get(j.verdict.state, "failed")
        what = j.verdict.what
        missing = [
            n for n in j.check.needs if n in states and states[n] not in ("passed", "marginal", "not applicable")
        ]
        if j.crashed:
            outcome = "skipped"
        elif j.verdict.state == "not yet" and missing:
            outcome = "skipped"
            what = said(
                "Not judged, since this did not pass: {checks}. {what}", checks=joined(missing, ", "), what=what
            )
        elif j.verdict.state == "stale":
            what = said("Out of date. {what}", what=what)
        lost = 0.0 if j.crashed else made.lost.get(j.check.name, 0.0)
        found.append(
            Finding(
                part=j.check.part,
                outcome=outcome,
                name=j.check.name,
                title=j.check.title,
                what=what,
                why=j.check.why,
                instead=j.check.instead,
                points=0.0,
                evidence=j.verdict.evidence,
            ).costing(lost)
        )
    return found


def _safety_findings(broken: Sequence[_Broken], crashed: Sequence[tuple[Rule, str]], made: Score) -> list[Finding]:
    found = [
        Finding(
            part="safety",
            outcome="failed",
            name=b.rule.name,
            title=b.rule.title,
            what=joined(dict.fromkeys(breach.what for breach in b.breaches)),
            why=b.rule.why,
            instead=b.rule.instead,
            points=0.0,
            grave=b.rule.severity == "grave",
            evidence=tuple(dict.fromkeys(e for breach in b.breaches for e in breach.evidence)),
        ).costing(made.lost.get(b.rule.name, 0.0))
        for b in broken
    ]
    found += [
        Finding("safety", "skipped", rule.name, rule.title, why, rule.why, rule.instead, 0.0) for rule, why in crashed
    ]
    if not found:
        what = said("None of the unsafe acts that are looked for was seen.")
        found.append(Finding("safety", "passed", "no unsafe act seen", said("No unsafe act"), what, "", "", 0.0))
    return found


def _lines(made: Score, broken: Sequence[_Broken], weights: Weights) -> tuple[tuple[str, str], ...]:
    lines = [
        (said("Safe?"), _safe(made, broken, weights)),
        (said("Right?"), _right(made)),
        (said("Systematic?"), _systematic(made, weights)),
    ]
    if made.cap is not None and made.uncapped > made.cap[0]:
        most, why = made.cap
        lines.append((said("Held down"), said("to at most {most:.0f}, for {why}", most=most, why=why)))
    return tuple(lines)


def _safe(made: Score, broken: Sequence[_Broken], weights: Weights) -> str:
    if not broken:
        return said("yes")
    titles = joined([amid(b.rule.title) for b in broken], "; ")
    return said("no: {titles}" if made.safe < weights.safe_share else "nearly: {titles}", titles=titles)


def _right(made: Score) -> str:
    passed, asked = made.right
    return said(
        "yes: {passed} of {asked} acceptance checks passed"
        if passed == asked
        else "no: {passed} of {asked} acceptance checks passed",
        passed=passed,
        asked=asked,
    )


def _systematic(made: Score, weights: Weights) -> str:
    least = min(made.systematic, made.proved)
    return said(
        "yes: evidence {evidence:.0%}, proof {proof:.0%}"
        if least >= 0.9
        else "partly: evidence {evidence:.0%}, proof {proof:.0%}"
        if least >= weights.systematic_share
        else "no: evidence {evidence:.0%}, proof {proof:.0%}",
        evidence=made.systematic,
        proof=made.proved,
    )


__all__ = ["ACCEPTANCE", "Grade", "grade", "regrade", "weights_of"]
