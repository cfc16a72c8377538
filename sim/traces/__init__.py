"""What a run leaves behind: named signals with their units, questions to them, their fingerprint, their export.

`signal` is the data, `recorder` reads a world as such data, `query` asks it (rose, held, never while), `digest` tells
whether two are the same bit for bit, `export` writes CSV. To come: Parquet and VCD.
"""
