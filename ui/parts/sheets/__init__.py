"""Sheets that change a file: ways to begin, fields and editable tables."""
