"""Parts to pull from the shelf and conductors to cut."""
