"""Panel schedules as contractors write them: a table of text, made circuits."""
