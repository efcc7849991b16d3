"""The cheapest way: a portable generator whose loads the family chooses by hand."""
