"""The site sheet of a plan."""

from planner.site.sheet.rows import Group, Row, SiteSheet, Status
from planner.site.sheet.sheet import site_sheet

__all__ = ["Group", "Row", "SiteSheet", "Status", "site_sheet"]
