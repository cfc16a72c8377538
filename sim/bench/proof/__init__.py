"""Search for a counterexample to what a controller promises.

A case is data: a sheet, faults, and acts with the time between them. Playing it on the real gate leaves a record of
everything that crossed the terminals and of everything the gate did. A property is a pure look at such a record. The
search draws cases, and makes the shortest one of whatever breaks a property.
"""
