"""What others recorded about a house and its place: meter data and weather files, made facts."""
