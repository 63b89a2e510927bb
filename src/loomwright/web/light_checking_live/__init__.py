"""What goes on while a light check is made: it lives as long as the workbench runs.

Import the part you need; this package imports none of them by itself.

planning
    `Plans`: works out the plan of a check, with progress where it takes long.
following
    `Following`: wakes the devices that follow a check, and tells who is there.
"""
