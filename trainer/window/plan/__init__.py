"""The plan of the yard: to scale, from above, with the inside up. Drawn from the `View` alone."""
