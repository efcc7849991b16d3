"""The site of a plan in words, its drawings, and how long its fuel lasts."""
