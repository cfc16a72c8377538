"""The simulator of a swing gate, with two leaves or one. It has never heard of trainees; see `sim/README.md`."""
