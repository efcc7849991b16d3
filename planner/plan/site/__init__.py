"""What a generator needs at its site: wire, gas, pipe, tank; what that costs and what it limits."""
