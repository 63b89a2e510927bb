"""Changes to a rig before they are taken: what may be tried, what mends, what either would do.

A change is a handful of values in the job file (`change`). `changeable` lists what may be tried on
a rig, `mends` the plain change for a finding, where there is one. `outcome` tells what a change
does: the numbers that move, the findings that go and come; `difference` the lines of the file.
"""
