"""How fast the engine is, measured side by side with ngspice: `make bench`."""
