"""Devices: one part, one file. Its terminals, its stamp on the net, its habits. Board copper is a part too."""
