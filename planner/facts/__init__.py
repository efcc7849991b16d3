"""What is known of a home and of what can be bought: frozen, floats with unit suffixes."""
