"""The mixed-integer model: tables, variables, rules, objective, solver; the only place of PuLP."""
