"""Playing a plan in many houses, compiled."""
