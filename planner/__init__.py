"""Standby-power planner: the smallest generator, who takes turns, and what every dollar buys."""
