"""The rig as one circuit: commands are cases of it, and the readings come from solving them.

Import the part you need; this package imports none of them by itself.

answers
    What comes out: `Answers`, `CommandAnswer`, and the readings in them.
solved
    `answers` solves a whole rig, `answer` one command, `gists` what tells most;
    `netlist` writes a SPICE deck.
wiring
    `wire_up` makes a rig into a `Wiring`: the network, and what each element is.
cases
    `case_for`: what a command does to the network.
commands
    `Command`, `commands_for`, `find_command`.
conditions
    `Conditions`, `conditions_for`.
"""
