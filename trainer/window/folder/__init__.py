"""The job folder at the side of the plan: one page for each thing an apprentice has to do with."""
