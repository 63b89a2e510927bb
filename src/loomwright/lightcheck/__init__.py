"""Light check: what must be seen and read at every pin and load of this rig, and what was.

Import the part you need; this package imports none of them by itself.

model
    `Plan`, `Step`, `Expectation`: what to hold and what must be seen; `Answer`, `Standing`.
plan
    `plan_for`: the whole check of a rig with a tester.
solo
    `Alone`: what helps one person; `for_one`: the plan in the order with the fewest walks.
setting
    `Setting`: engine, battery and air, as far as they are known.
"""
