"""A family's own list, read as they wrote it: lines or prose, wishes, facts of the house."""
