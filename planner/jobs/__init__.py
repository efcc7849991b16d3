"""Jobs: what is worked on for a customer, kept in a store, and written as one file."""
