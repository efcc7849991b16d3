"""From a price book's file to what can be bought."""
