"""The rules as a set: found by their modules, documented, and each with its twin here."""

import re
from pathlib import Path

import pytest

from loomwright.checks.catalogue import rules_page
from loomwright.checks.collect import rule_for, rules
from loomwright.reference.sources import cited, sources

ROOT = Path(__file__).parents[2]
MODULES = ROOT / "src" / "loomwright" / "checks" / "rules"
TWINS = Path(__file__).parent / "rules"


def test_every_module_of_the_rules_is_collected_in_order_of_its_code() -> None:
    modules = [path for path in MODULES.glob("*.py") if path.stem != "__init__"]
    codes = [rule.code for rule in rules()]

    assert len(codes) == len(modules)
    assert codes == sorted(set(codes))
    assert all(re.fullmatch(r"[A-Z]{4}\d{2}", code) for code in codes)


def test_every_rule_has_a_twin_among_the_tests() -> None:
    assert {path.stem for path in MODULES.glob("*.py") if path.stem != "__init__"} == {
        path.stem.removeprefix("test_") for path in TWINS.glob("test_*.py")
    }


def test_titles_differ_and_sources_are_known() -> None:
    known = {source.key for source in sources()}

    assert len({rule.title for rule in rules()}) == len(rules())
    for rule in rules():
        assert {key for key, _ in cited(rule.source)} <= known, rule.code


def test_a_rule_is_found_by_its_code() -> None:
    assert rule_for("LAMP01").title == "Lamp voltage too low"
    with pytest.raises(KeyError):
        rule_for("LAMP99")


def test_the_page_of_rules_is_what_the_rules_say() -> None:
    """Write it again with `rules_page` when a rule or a source has changed."""
    page = (ROOT / "docs" / "reference" / "rules.md").read_text("utf-8")

    assert page == rules_page()
