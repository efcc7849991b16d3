"""From files to a validated home and a price book."""
