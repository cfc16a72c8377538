"""Whether the sheet has a setting, and can hold a value: asked of the controller's own catalogue."""

from __future__ import annotations

from sim.controller.settings import CATALOGUE
from sim.said import said
from sim.site.complaints import listing, nearest, shown
from trainer.job.models import SheetValue


def sheet_problem(name: str, value: SheetValue) -> str:
    """What is wrong with writing this value to this setting, or ''."""
    setting = CATALOGUE.get(name)
    if setting is None:
        return said("the sheet has no setting '{name}'{hint}", name=name, hint=nearest(name, CATALOGUE))
    if setting.choices:
        if str(value) in setting.choices and not isinstance(value, bool):
            return ""
        return said(
            "read {read}; allowed: {allowed}{hint}",
            read=shown(value),
            allowed=listing(setting.choices),
            hint=nearest(str(value), setting.choices),
        )
    try:
        amount = float(value)
    except ValueError:
        return said("read {read}; allowed: a number [{unit}]", read=shown(value), unit=setting.unit or "-")
    least = setting.least if setting.least is not None else amount
    most = setting.most if setting.most is not None else amount
    if isinstance(value, bool) or not least <= amount <= most:
        amounts = {"read": shown(value), "least": least, "most": most}
        if not setting.unit:
            return said("read {read}; allowed: {least:g} to {most:g}", **amounts)
        return said("read {read}; allowed: {least:g} to {most:g} {unit}", **amounts, unit=setting.unit)
    return ""
