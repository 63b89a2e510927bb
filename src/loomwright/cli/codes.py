"""Exit codes."""

DONE = 0
TO_MEND = 1
UNUSABLE = 2
INTERRUPTED = 130
"""As shells have it for a command stopped from the keyboard."""
