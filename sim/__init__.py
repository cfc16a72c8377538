"""The simulator of a two-leaf swing gate. It has never heard of trainees; see `sim/README.md`."""
