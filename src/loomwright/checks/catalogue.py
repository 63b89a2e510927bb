"""The page of rules, made from what the rules say of themselves."""

from __future__ import annotations

import inspect
from collections.abc import Iterator

from loomwright.checks.collect import rules
from loomwright.checks.rule import Rule, Severity
from loomwright.reference.rules import DEFER_NOTICE
from loomwright.reference.sources import cited, source

HEAD = f"""# Rules

Every finding comes from one of these rules. Each rule is one module in `checks/rules/`; its
limits stand in the tables of `reference/`. {DEFER_NOTICE}

How much a finding matters is said in words: {", ".join(f"*{each}*" for each in Severity)}.
"""


def rules_page() -> str:
    """Return the page of every rule as Markdown: title, what it watches, and its sources."""
    parts = [HEAD, *(_section(rule) for rule in rules())]
    return "\n".join(parts)


def _section(rule: Rule) -> str:
    says = inspect.cleandoc(rule.find.__doc__ or "")
    sources = "; ".join(_sources(rule.source))
    return f"## {rule.code}: {rule.title}\n\n{says}\n\nSource: {sources}\n"


def _sources(text: str) -> Iterator[str]:
    """Yield each source by its title, with the place in it."""
    for key, place in cited(text):
        title = source(key).title
        yield title if place is None else f"{title}: {place}"
