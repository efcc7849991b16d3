"""Parts of the page of options: cards, curve, what changes, an outage day, folds."""
