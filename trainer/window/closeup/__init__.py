"""Close-ups of the yard: hinge, drive, meeting edge, leaf from the front; drawn to scale, with their figures."""
