"""What becomes of comforts, in words: of a plan, of an outage, to an estimator, to a family."""
