"""The front end: pages for an estimator and a family; shows answers, computes none."""
