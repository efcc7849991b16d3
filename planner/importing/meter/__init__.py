"""Readings of an electric meter: files in, the highest demand and the usual day out."""
