"""Loomwright: the workbench of the person who wires trailers to tow vehicles."""
