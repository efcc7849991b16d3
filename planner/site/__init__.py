"""The site of a plan: what the wires, the grounding, the transfer equipment and the place need."""
