"""The small wording of the pages: what stays on one line, and how well a value is founded."""

import re

import pytest

from loomwright.web.words import standing, unbroken

TIED = re.compile(r'<span class="tied">([^<]*)</span>')


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("for about 9 minutes; 15 are asked for", ["9 minutes", "15 are"]),
        ("left brake, axle 2, gets 9.19 V", ["axle 2,", "9.19 V"]),
        ("branch to left brake, axle 1) grows", ["axle 1)"]),
        ("5 left stop + turn", ["5 left", "stop + turn"]),
        ("2 front side reflectors", ["2 front"]),
        ("contact of plug pin 1, ground", ["pin 1,"]),
    ],
)
def test_a_number_stays_with_what_it_counts_or_numbers(text: str, lines: list[str]) -> None:
    shown = unbroken(text)

    for line in lines:
        assert line.replace(" ", "\u00a0") in shown
    assert shown.replace("\u00a0", " ") == text


def test_a_number_with_a_hyphen_is_held_on_one_line() -> None:
    assert TIED.findall(unbroken("rear 7-way, blue, 16-14 AWG barrel")) == ["7-way", "16-14"]


def test_a_sentence_may_still_break_between_its_words() -> None:
    shown = unbroken("Run 10 AWG as run, axle 2 at the frame, pin 3 of the 7-way")

    assert "AWG as" in shown
    assert "2 at" in shown
    assert "3 of" in shown


def test_what_a_user_typed_is_written_not_obeyed() -> None:
    assert unbroken("<b>7-way</b> & 'x'") == (
        '&lt;b&gt;<span class="tied">7-way</span>&lt;/b&gt; &amp; &#39;x&#39;'
    )


def test_a_standing_is_said_in_words() -> None:
    assert standing("memory") == "from memory, not looked up"
    assert standing("common practice") == "common practice"
