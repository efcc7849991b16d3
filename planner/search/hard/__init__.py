"""What a home that is hard to search gets besides the tree: plans, bounds, better neighbours."""
