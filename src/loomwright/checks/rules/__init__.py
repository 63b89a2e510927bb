"""The rules, one module each; `loomwright.checks.collect` finds them by their ``RULE``."""
