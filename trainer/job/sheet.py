"""Whether the sheet has a setting, and can hold a value: asked of the controller's own catalogue."""

from __future__ import annotations

from sim.controller.settings import CATALOGUE
from sim.site.complaints import listing, nearest, shown
from trainer.job.models import SheetValue


def sheet_problem(name: str, value: SheetValue) -> str:
    """What is wrong with writing this value to this setting, or ''."""
    setting = CATALOGUE.get(name)
    if setting is None:
        return f"the sheet has no setting '{name}'{nearest(name, CATALOGUE)}"
    if setting.choices:
        if str(value) in setting.choices and not isinstance(value, bool):
            return ""
        return f"read {shown(value)}; allowed: {listing(setting.choices)}{nearest(str(value), setting.choices)}"
    try:
        amount = float(value)
    except ValueError:
        return f"read {shown(value)}; allowed: a number [{setting.unit or '-'}]"
    least = setting.least if setting.least is not None else amount
    most = setting.most if setting.most is not None else amount
    if isinstance(value, bool) or not least <= amount <= most:
        return f"read {shown(value)}; allowed: {least:g} to {most:g} {setting.unit}".rstrip()
    return ""
