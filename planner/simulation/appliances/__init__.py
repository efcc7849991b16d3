"""One small state machine per file: what an appliance wants and what it draws."""
