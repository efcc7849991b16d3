"""A family's own list, read as they wrote it: lines or prose, with wishes and facts of the house."""
