"""The gate's own controller: a black box of terminals. It imports nothing physical."""
