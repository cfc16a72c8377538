"""Checks: one subject per file, each computed from a history alone, at any moment."""
