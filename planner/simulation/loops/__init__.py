"""The compiled loops of the simulation: what happens in one second, and the seconds one by one."""
