"""What a file leaves out: filled in from the appliance library, and marked."""
