"""Nothing serves a home: the rules that refuse, and the changes that would help, each tried."""
