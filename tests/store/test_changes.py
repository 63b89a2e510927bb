"""What changed, in words; and two changes put together."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.store.jobs import BROKEN, SMALL

from loomwright.store.changes import change_in_words
from loomwright.store.merge import merged


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ("a = 1", "a = 2", "a from 1 to 2"),
        ("a = 1", "a = true", "a from 1 to true"),
        ("a = 1", "a = 1.0", "a from 1 to 1.0"),
        ("a = 1", "", "a taken out (was 1)"),
        ("", 'a = "16 SAE"', 'a = "16 SAE" added'),
        ("a = 1", "a = 1 # why", "comments or layout"),
        ("a = 1\nb = 2", "b = 2\na = 1", "comments or layout"),
        ("[[x]]\na = 1", "[[x]]\na = 1\n[[x]]\na = 2", "x[2].a = 2 added"),
        ("", "a=1\nb=1\nc=1\nd=1\ne=1", "a = 1 added; b = 1 added; c = 1 added; and 2 more"),
        ("", f'a = "{"x" * 60}"', f'a = "{"x" * 39}…" added'),
        ("a = 1", "a = ", "1 line written, 1 line taken out"),
        ("a = ", "a = \nb = \nc", "2 lines written, 0 lines taken out"),
        ("a = [[1]]", "a = [[2]]", "a from [[1]] to [[2]]"),
        ("[[x]]\na = 1\n[[x]]\na = 2", "[[x]]\na = 2\n[[x]]\na = 1", "x[1] moved to x[2]"),
        (
            "[[x]]\na=1\n[[x]]\na=2\n[[x]]\na=3",
            "[[x]]\na=2\n[[x]]\na=3\n[[x]]\na=1",
            "x[1] moved to x[3]",
        ),
        (
            "b=1\n[[y.x]]\na = 1\n[[y.x]]\nc = 2",
            "b=2\n[[y.x]]\nc = 2\n[[y.x]]\na = 1",
            "y.x[1] moved to y.x[2]; b from 1 to 2",
        ),
    ],
)
def test_a_change_is_told_by_its_place(before: str, after: str, said: str) -> None:
    assert change_in_words(before, after) == said


def test_a_long_value_is_cut() -> None:
    assert len(change_in_words("", f'a = "{"x" * 500}"')) < 60


@given(st.text(), st.text())
def test_any_two_texts_can_be_told_apart_in_words(before: str, after: str) -> None:
    assert change_in_words(before, after)
    assert change_in_words(BROKEN, after)


def test_changes_of_different_lines_go_together() -> None:
    mine, theirs = SMALL.replace("bent", "straight"), SMALL.replace("YE", "GN")

    assert merged(SMALL, mine, theirs) == mine.replace("YE", "GN")
    assert merged(SMALL, theirs, mine) == mine.replace("YE", "GN")


@pytest.mark.parametrize(
    ("mine", "theirs"),
    [
        (SMALL.replace("YE", "GN"), SMALL.replace("YE", "VT")),
        (SMALL.replace("16 SAE", "14 SAE"), SMALL.replace("BN/WH", "GN")),  # lines side by side
        (SMALL + 'length = "4 m"\n', SMALL + 'length = "5 m"\n'),
    ],
)
def test_changes_of_the_same_place_are_left_to_a_person(mine: str, theirs: str) -> None:
    assert merged(SMALL, mine, theirs) is None


LINES = st.lists(st.sampled_from("abcd"), max_size=12).map(
    lambda each: "".join(f"{x}\n" for x in each)
)


@given(base=LINES, changed=LINES)
def test_one_change_alone_is_taken_as_it_is(base: str, changed: str) -> None:
    assert merged(base, changed, base) == changed
    assert merged(base, base, changed) == changed
    assert merged(base, changed, changed) == changed


@given(base=LINES, mine=LINES, theirs=LINES)
def test_putting_together_does_not_ask_who_came_first(base: str, mine: str, theirs: str) -> None:
    assert merged(base, mine, theirs) == merged(base, theirs, mine)


def test_of_a_list_only_what_came_and_went_is_told() -> None:
    before = '[trailer]\ncounts_as = ["tail_lamp"]\n'
    after = before.replace('"tail_lamp"', '"tail_lamp", "stop_lamp"')

    assert change_in_words(before, after) == ("trailer.counts_as with stop_lamp")
