"""The tour of the yard: a few callouts that point at real widgets, beside a screen that stays in use."""
