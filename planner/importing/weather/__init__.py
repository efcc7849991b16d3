"""A year of hourly weather: files in, design temperatures and design days out."""
