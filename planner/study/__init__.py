"""Questions asked of a home: frontier, picks, comparison, reference, reasons."""
