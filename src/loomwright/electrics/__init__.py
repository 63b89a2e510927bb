"""The rig as a circuit, its commands, and the readings they give."""
