"""The command line: parse, one call, print, exit code. Nothing is decided here.

Exit codes: 0 done and good; 1 done, and what was asked about is not good (a job not passed, a file with faults, a
controller that failed); 2 it can't be done as asked. What goes wrong is one sentence on standard error. Rooms are
imported when a command needs them, so that help is quick.
"""

from trainer.cli.commands import app, main

__all__ = ["app", "main"]
