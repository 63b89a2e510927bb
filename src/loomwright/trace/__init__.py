"""Trace: the likeliest faults of this rig from what was seen, and what to look at next.

Import the part you need; this package imports none of them by itself.

engine
    `trace_rig` makes a rig ready: every fault solved under every command. The `Trace` it gives
    ranks them after any observations (`rank`), names the next step (`advise`), and takes two
    faults at once into account (`prepare_pairs`).
model
    What comes out: `Ranking`, `Group`, `Suspect`, `Reason`, `Flow`; `Advice`, `Question`,
    `Outcome`; and `RigFault`, one thing that may be wrong.
faults
    `faults_of` draws up the faults of a rig from its own network.
phrases
    `read_phrase` reads what a person types.
whereabouts
    `meant_by`: the loads that "left rear" or "brakes axle 2" means.
report
    A ranking and the next step as plain values.
"""
