"""Physics and code calculations as pure functions; floats whose names carry their units.

References
----------
NEC is NFPA 70, the National Electrical Code; IFGC the International Fuel Gas Code. Clauses of NEC
and IFGC were read in secondary copies, not in the adopted books. A span of editions, such as 2017
to 2023, says that the rule is the same in all of them, by the copies that were read or from memory.
What no copy was at hand for is "from memory"; what follows from a definition, a circuit or a table
is "derived"; habits of the trade that nobody signs are "common practice, no source".
"""
