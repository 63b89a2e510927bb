"""Every rule, found by its module, and the findings of a rig in the order to mend them."""

from __future__ import annotations

from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from loomwright.checks import rules as rule_modules
from loomwright.checks.rule import Finding, Rule, Work
from loomwright.electrics.answers import STATIONS
from loomwright.electrics.solved import Progress, answers
from loomwright.hookup.pairing import pair
from loomwright.rig.model import Rig

BRAKES = ("BRAK", "AWAY")
"""How the codes of rules begin that watch over the trailer's brakes: they come first, so."""


@cache
def rules() -> tuple[Rule, ...]:
    """Return every rule, in the order of their codes.

    Raises
    ------
    TypeError
        If a module of the rules has no ``RULE``.
    ValueError
        If two rules have one code.
    """
    found = [_rule_of(module.name) for module in iter_modules(rule_modules.__path__)]
    by_code = {rule.code: rule for rule in found}
    if len(by_code) != len(found):
        codes = [rule.code for rule in found]
        raise ValueError(
            f"codes of rules used twice: {sorted({c for c in codes if codes.count(c) > 1})}"
        )
    return tuple(by_code[code] for code in sorted(by_code))


def rule_for(code: str) -> Rule:
    """Return the rule of a code.

    Raises
    ------
    KeyError
        If there is none.
    """
    return {rule.code: rule for rule in rules()}[code]


def check(work: Work) -> tuple[Finding, ...]:
    """Return what every rule finds, gravest first, of those the brakes, then along the run."""
    found = [finding for rule in rules() for finding in rule.find(work)]
    return tuple(sorted(found, key=_order))


def check_rig(rig: Rig, progress: Progress | None = None) -> tuple[Finding, ...]:
    """Pair and solve a rig and return its findings, gravest first.

    Parameters
    ----------
    rig : Rig
        The rig to check.
    progress : callable, optional
        Told after each solved case how many of how many are done.
    """
    return check(Work(rig, pair(rig), answers(rig, progress)))


def _rule_of(module_name: str) -> Rule:
    rule = getattr(import_module(f"{rule_modules.__name__}.{module_name}"), "RULE", None)
    if not isinstance(rule, Rule):
        raise TypeError(f"checks/rules/{module_name}.py has no RULE")
    return rule


def _order(finding: Finding) -> tuple[int, int, int, str]:
    known = finding.station in STATIONS
    station = STATIONS.index(finding.station) if known else len(STATIONS)
    return finding.severity.rank, _brakes_first(finding), station, finding.rule


def _brakes_first(finding: Finding) -> int:
    return next(
        (n for n, begin in enumerate(BRAKES) if finding.rule.startswith(begin)), len(BRAKES)
    )
