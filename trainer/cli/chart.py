"""The controller's states: a table to read, a drawing, a Mermaid chart."""

from __future__ import annotations

from pathlib import Path

from trainer.cli import printed


def tell(drawing: Path | None, mermaid: Path | None) -> None:
    """Write what is asked for; with nothing asked for, print every trigger with where it is taken and leads."""
    from sim.controller import machine

    if drawing is None and mermaid is None:
        _print_table()
        return
    for file in (drawing, mermaid):
        if file is not None:
            printed.writable(file)
    if drawing is not None:
        from trainer.reports import state_chart

        drawing.write_text(state_chart.svg(), encoding="utf-8")
        printed.note(f"The drawing is in {drawing}.")
    if mermaid is not None:
        mermaid.write_text(machine.chart(), encoding="utf-8")
        printed.note(f"The Mermaid chart is in {mermaid}.")


def _print_table() -> None:
    from sim.controller.machine import ROWS, State

    rows = [(trigger, _sources(sources), target.value) for trigger, sources, target in ROWS]
    printed.table(("trigger", "may be taken when the gate is", "leads to"), rows)
    ways = sum(len(sources) for _, sources, _ in ROWS)
    print(f"{len(State)} states, {len(ROWS)} triggers, {ways} ways. `--svg FILE` draws them.")


def _sources(sources: tuple[object, ...]) -> str:
    from sim.controller.machine import State

    missing = [state for state in State if state not in sources]
    if len(sources) > len(missing) > 0:
        return f"anything but {'; '.join(state.value for state in missing)}"
    return "; ".join(state.value for state in State if state in sources)
