"""The catalogue of faults: the list, one of them in words, and what one does on a gate."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NoReturn

from trainer import CAUTION
from trainer.cli import printed

if TYPE_CHECKING:
    from sim.bench.fault_compare import Comparison
    from sim.faults.entry import Fault, Step

WIDTH: Final = 100

WARNING: Final = (
    "These are faults of a model gate; figures are those of the bench it is measured on. On a real gate: keep people "
    "out of the arc, isolate every source, prove dead, and let somebody competent do it."
)


def tell(words: Sequence[str], site: Path | None, share: float, seed: int, as_json: bool) -> NoReturn:
    """List, explain or compare; ends with an exit code: 1 if the measurement can't tell the fault on that gate."""
    from sim.faults.catalogue import FAULTS, named

    if not words:
        if site is not None:
            printed.stop("say which fault is to be on that site; `gudgeon faults` lists them")
        _list(list(FAULTS.values()), as_json)
        raise SystemExit(0)
    fault = named(" ".join(words))
    if site is None:
        _explain(fault, as_json)
        raise SystemExit(0)
    from sim.bench.fault_compare import compare
    from sim.site import load_site

    found = load_site(site)
    if not as_json:
        printed.note(f"{found.name}: the gate is made ready, and goes two ways: without the fault and with it.")
    comparison = compare(found, fault, share, seed=seed)
    if as_json:
        printed.as_json({**comparison.as_base_types(), "tells": comparison.tells})
    else:
        _compare(comparison)
    raise SystemExit(0 if comparison.tells else 1)


def _list(faults: list[Fault], as_json: bool) -> None:
    if as_json:
        rows = [{"name": each.name, "family": each.family, "customer": each.customer} for each in faults]
        printed.as_json(rows)
        return
    for family in dict.fromkeys(fault.family for fault in faults):
        mine = [fault for fault in faults if fault.family == family]
        print(f"{family} ({len(mine)})")
        widest = max(len(fault.name) for fault in mine)
        for fault in mine:
            print(f"  {fault.name:<{widest}}  “{fault.customer.rstrip('.')}”")
        print()
    print(
        f"{len(faults)} faults. `gudgeon faults NAME` explains one; with `--site FILE` it shows what it does there."
    )
    print(_wrapped(WARNING))
    print(CAUTION)


def _explain(fault: Fault, as_json: bool) -> None:
    from sim.bench.fault_compare import band_in_words, keys_in_words, trigger_in_words

    reference = fault.reference
    if as_json:
        printed.as_json(_as_base_types(fault))
        return
    print(f"{fault.name} ({fault.family})\n")
    rows = [
        ("the customer says", f"“{fault.customer}”"),
        ("one sees", fault.seen),
        ("what is so", fault.fact),
        ("comes", trigger_in_words(fault)),
        ("the bench has", keys_in_words(fault.variant)),
        ("measured by", _steps(reference.steps)),
        ("what is read", "" if reference.figure == "value" else f"the {reference.figure} since it was placed"),
        ("healthy", band_in_words(reference.healthy, "")),
        ("with the fault", band_in_words(reference.faulty, "")),
        ("note", reference.note),
        ("repair", _steps(fault.repair)),
        *[("wrong", f"{_steps(wrong.steps) or 'nothing'}. It hides: {wrong.hides}") for wrong in fault.wrong],
        ("made sure by", fault.verification),
        ("DANGER", fault.trap),
        ("source", fault.source),
    ]
    for head, text in rows:
        if text:
            print(_row(head, text))
    print()
    print(_wrapped(WARNING))
    print(CAUTION)


def _compare(found: Comparison) -> None:
    grave = "" if found.share == 1.0 else f", {found.share:g} of the way from mild to grave"
    print(f"{found.fault} on {found.site}{grave}\n")
    printed.table(
        ("", "without", "with the fault"),
        [
            (found.reference.what, found.reference.healthy, found.reference.faulty),
            ("expected on the bench", found.healthy_band, found.faulty_band),
        ],
    )
    verdict = "The measurement tells the two apart." if found.tells else "On this gate both read the same."
    if found.comes:
        verdict += f" The fault comes {found.comes}."
    outside = [
        which
        for which, is_in in (("without", found.healthy_lies_in), ("with the fault", found.faulty_lies_in))
        if not is_in
    ]
    if found.tells and outside:
        verdict += (
            f" The reading {' and '.join(outside)} lies outside the bench's band: this gate is built otherwise."
        )
    if not found.tells and found.on_the_bench:
        verdict += f" On the bench it is shown with {found.on_the_bench}."
    print(f"\n{_wrapped(verdict)}")
    for act in found.left_out:
        print(_wrapped(f"Left out here: {act}."))
    if found.note:
        print(_wrapped(f"Note: {found.note}."))
    if found.others:
        print("\nElsewhere")
        printed.table(
            ("", "without", "with the fault"), [(line.what, line.healthy, line.faulty) for line in found.others]
        )
    else:
        print("\nNothing else of the gate reads otherwise: it waits for a person.")
    print()
    print(_wrapped(WARNING))
    print(CAUTION)


def _steps(steps: Sequence[Step]) -> str:
    from sim.bench.fault_compare import step_in_words

    return "; ".join(step_in_words(step) for step in steps)


def _row(head: str, text: str) -> str:
    return textwrap.fill(text, WIDTH, initial_indent=f"{head:<18} ", subsequent_indent=" " * 19)


def _wrapped(text: str) -> str:
    return textwrap.fill(text, WIDTH)


def _as_base_types(fault: Fault) -> dict[str, Any]:
    def steps(given: Sequence[Step]) -> list[dict[str, Any]]:
        return [{"action": step.kind, **step.arguments} for step in given]

    return {
        "name": fault.name,
        "family": fault.family,
        "customer": fault.customer,
        "seen": fault.seen,
        "fact": fault.fact,
        "trigger": None if fault.trigger is None else asdict(fault.trigger),
        "reference": {
            "steps": steps(fault.reference.steps),
            "figure": fault.reference.figure,
            "healthy": asdict(fault.reference.healthy),
            "faulty": asdict(fault.reference.faulty),
            "note": fault.reference.note,
        },
        "repair": steps(fault.repair),
        "wrong repairs": [{"steps": steps(wrong.steps), "hides": wrong.hides} for wrong in fault.wrong],
        "verification": fault.verification,
        "trap": fault.trap,
        "source": fault.source,
        "bench": dict(fault.variant),
    }
