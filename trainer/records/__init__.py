"""Attempts kept over time: a database with migrations, records of a class, statements for other learning systems.

Nothing is built here yet. A session's own journal, and the report written from it, are on disk and complete.
"""
