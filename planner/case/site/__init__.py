"""What a home file says of the place: its shape, its checks, and the facts that follow."""
