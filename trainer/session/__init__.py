"""The only door to a running job: `Session.do / tick / observe`."""
