"""The cheapest way in words: what kills, steps, what is on and off, what breaks, what it costs."""
