"""The glossary has every word that code, job files and reports choose from."""

import importlib
import pkgutil
from collections.abc import Iterable
from enum import StrEnum
from typing import get_args

import pytest
from tests.docs.pages import page
from tests.rigs import simple_rig

from loomwright.electrics.answers import STATIONS
from loomwright.electrics.commands import COMMANDS
from loomwright.electrics.conditions import conditions_for
from loomwright.reference.functions import function_keys
from loomwright.tables.rows import Standing

GLOSSARY = " ".join(page("docs/glossary.md").split())
ROOMS = (
    *("quantities", "colours", "reference", "circuit", "rig", "hookup", "electrics", "checks"),
    *("parts", "drawing", "sheets", "reports"),
)


def missing(words: Iterable[object]) -> list[str]:
    return [word for word in map(str, words) if f"`{word}`" not in GLOSSARY]


def enums() -> list[type[StrEnum]]:
    """Every choice of words defined in the rooms below the store."""
    found = set()
    for room in ROOMS:
        package = importlib.import_module(f"loomwright.{room}")
        for module in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
            names = vars(importlib.import_module(module.name)).values()
            found |= {
                each for each in names if isinstance(each, type) and issubclass(each, StrEnum)
            }
    return sorted(found - {StrEnum}, key=lambda each: each.__name__)


def test_the_choices_are_found() -> None:
    assert {"Severity", "Join", "Standing", "Units"} <= {each.__name__ for each in enums()}


@pytest.mark.parametrize("choice", enums(), ids=lambda each: each.__name__)
def test_every_word_of_a_choice_is_in_the_glossary(choice: type[StrEnum]) -> None:
    assert missing(choice) == []


def test_functions_commands_conditions_stations_and_standings_are_in_the_glossary() -> None:
    assert missing(function_keys()) == []
    assert missing(command.key for command in COMMANDS) == []
    assert missing(each.key for each in conditions_for(simple_rig())) == []
    assert missing(STATIONS) == []
    assert missing(get_args(Standing)) == []
