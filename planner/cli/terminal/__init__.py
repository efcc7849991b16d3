"""What a command line does with its terminal: streams, output, progress, interruption."""
