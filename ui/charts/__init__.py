"""Charts: from frames to drawings; axes with units, alt text, readable without colour."""
