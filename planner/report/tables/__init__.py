"""Tables: one list of columns each, shown as text by the command line, as frames elsewhere."""

from planner.report.tables.column import Column, Table

__all__ = ["Column", "Table"]
