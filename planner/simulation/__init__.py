"""A one-second outage: appliances, generator and controller, seen without the planning model."""
