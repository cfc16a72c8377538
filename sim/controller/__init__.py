"""The gate's own controller: a black box of terminals. It imports nothing physical."""

from sim.controller.ports import Controller, Inputs, Outputs, Panel, Scan
from sim.controller.reference import ReferenceController

__all__ = ["Controller", "Inputs", "Outputs", "Panel", "ReferenceController", "Scan"]
