"""A plan with its price and its proof; none exists that the replay refuses."""
