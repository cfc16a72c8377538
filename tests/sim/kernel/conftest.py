"""The kernel in both its forms."""

from __future__ import annotations

import pytest

from sim.kernel import compiler


@pytest.fixture(params=["interpreted", "compiled"])
def forms(request: pytest.FixtureRequest) -> compiler.Forms:
    """The kernel's front doors, once interpreted and once compiled."""
    if request.param == "interpreted":
        return compiler.INTERPRETED
    if not compiler.load():
        pytest.skip("no compiler here: it isn't installed, or it is switched off")
    return compiler.forms()
