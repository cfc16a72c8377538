"""What a run leaves behind: named signals with their units, and their export.

Now: `signal` reads the world's recording as named columns, `export` writes them as CSV. Reading changes nothing in
the world. To come: questions to a trace (rose, held, never while), Parquet and VCD.
"""
