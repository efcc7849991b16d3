"""The service rule as compiled loops; `planner.service.replay` is its public face.

Because a load never sees those that stand behind it in the priority order, the rule is played load
by load over all slots instead of slot by slot over all loads: the outcome is the same, and a search
over orders can go on from any prefix. Slots are those of all design days and their spell:
slot = (day · spell + day of the spell) · 96 + quarter of an hour.
"""
