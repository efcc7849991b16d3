"""What an outage leaves behind, and many outages together, in numbers that are shown."""
