"""How the leaves are held, driven and stopped: the plant that the clock runs, and the plain formulas behind it."""
