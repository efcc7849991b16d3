"""The pages, one file each; each begins with the question that it answers."""
