"""A session and a desk that are made up: enough of a gate to try every screen by hand and in tests, no physics."""

from trainer.window.canned.desk import CannedDesk
from trainer.window.canned.session import CannedSession

__all__ = ["CannedDesk", "CannedSession"]
