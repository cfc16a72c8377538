"""Wiring: terminals and conductors as a netlist, edits with undo, nodal solution cached until something changes."""
