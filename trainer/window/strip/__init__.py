"""The time strip along the foot of the work screen: what was recorded, and the way back into it."""
