"""Findings: what to put right on a rig, gravest first, each with its reason and source.

Import the part you need; this package imports none of them by itself.

rule
    `Work`, what rules look at; `Rule`, `Finding`, `Severity`.
collect
    `check` finds all there is on a paired and solved rig, `check_rig` does the whole way;
    `rules`, `rule_for`.
catalogue
    `rules_page`: the page of every rule.
finding_keys, located
    The name of a finding, and the place of the run it belongs to.
rules
    The rules, one module each: put a new one there, with its twin in the tests.
law, readings, protected, budgets, module_loads, remedy, words
    What several rules share: rules of law, the worst of the answers, what a fuse protects, how
    much may be lost, what a module drives, what mends it, and how it is said.
"""
