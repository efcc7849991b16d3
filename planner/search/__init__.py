"""All combinations, their best orders, the frontier, the cheapest plan for a goal."""
