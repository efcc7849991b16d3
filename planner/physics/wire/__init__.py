"""Wires of a site and of its branch circuits: size, drop, grounding, what flows in a fault."""
