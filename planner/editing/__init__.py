"""From text to text: a new home, an everyday list, a value set, comments kept."""
