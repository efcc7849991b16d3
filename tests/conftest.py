"""What holds for every test: reproducible examples, and a record of what a test needs."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("steady", derandomize=True, deadline=None, print_blob=True)
settings.load_profile("steady")


def pytest_collection_modifyitems(items):
    """Write what a test needs into the test report, so that a skip can be told from a pass."""
    for item in items:
        for need in ("browser", "database", "solver"):
            if item.get_closest_marker(need):
                item.user_properties.append(("marker", need))
