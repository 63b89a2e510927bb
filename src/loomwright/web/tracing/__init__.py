"""What the trace screen works with: rigs ready to be traced, and what was said of each so far."""
