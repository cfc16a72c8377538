"""The wiring drawing: laid out from the session's view, drawn in ink, with leads that go onto its terminals."""
