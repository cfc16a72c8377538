"""The engineer's verbs.

Now: `trial` runs a site with a controller for a time and says what happened; `stranger` does the same with somebody
else's controller, in a process of its own; `force_plan` measures force at every point of a whole plan. To come:
`prove` (search for unsafe logic), `sweep` (many varied gates), `link` (a controller outside the program).
"""
