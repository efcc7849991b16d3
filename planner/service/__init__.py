"""Design days become calls; the service rule plays them slot by slot."""
