"""Repairs: what a verb on a thing sets back to how it was built. A repair changes facts and never looks at faults.

`row` says what an entry is, `doing` carries one out, `wires` makes the entries of every conductor there is; the other
files hold the entries of parts, a file a family, joined in `table`.
"""
