"""The program compiled to machine code by numba: the extra `fast`. Nothing else knows of it."""
