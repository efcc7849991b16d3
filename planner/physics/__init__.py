"""Physics and code calculations as pure functions; floats whose names carry their units."""
