"""What is printed after a job: the debrief and the commissioning record, each one file that needs nothing beside it.

`write_reports` takes one look at a session and writes both, the debrief also in print, with the pictures in them also
as files of their own; `write_debrief` writes the debrief alone.
The drawing library is loaded when the first picture is drawn, not before.
"""

from trainer.reports.written import Written, write_debrief, write_reports

__all__ = ["Written", "write_debrief", "write_reports"]
