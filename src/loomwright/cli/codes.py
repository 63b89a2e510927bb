"""Exit codes."""

DONE = 0
TO_MEND = 1
UNUSABLE = 2
