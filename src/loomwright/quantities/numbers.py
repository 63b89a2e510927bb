"""Numbers as people write them: 5.8, 5,8, 1 200, 5/16, 6-1/2, ½."""

from __future__ import annotations

import math
import re

ODD_SPACES = str.maketrans(dict.fromkeys("\u00a0\u2007\u2009\u202f\t\r\n", " "))
LOOKALIKES = str.maketrans(
    {
        "\u2032": "'",  # prime
        "\u2018": "'",
        "\u2019": "'",
        "\u00b4": "'",
        "\u2033": '"',  # double prime
        "\u201c": '"',
        "\u201d": '"',
        "\u2212": "-",  # minus
        "\u2010": "-",
        "\u2011": "-",
        "\u2013": "-",
        "\u2044": "/",  # fraction slash
        "\u2126": "\u03a9",  # ohm sign to Greek omega
        "\u03c9": "\u03a9",  # small omega, as case folding leaves it
    }
)
VULGAR = {
    "\u00bc": "1/4",
    "\u00bd": "1/2",
    "\u00be": "3/4",
    "\u215b": "1/8",
    "\u215c": "3/8",
    "\u215d": "5/8",
    "\u215e": "7/8",
}

NUMBER = re.compile(
    r"""
    (?P<whole>\d+)(?:[ ]?-[ ]?|[ ]+)(?P<top>\d+)[ ]?/[ ]?(?P<bottom>\d+)
    | (?P<above>\d+)[ ]?/[ ]?(?P<below>\d+)
    | (?P<decimal>\d{1,3}(?:[ ]\d{3})+(?![\d]|[ ]?/)(?:[.,]\d+)? | [.,]?\d[\d.,]*)
    """,
    re.VERBOSE | re.ASCII,
)

CUSTOMARY_UNIT = re.compile(
    r"[ ]?(?:lbs?|pounds?|ft|foot|feet|in|inch|inches|yds?|yards?|['\"])(?![a-z])", re.I
)
"""Units written only where the comma groups thousands."""


def tidy(text: str) -> str:
    """Return the text with one kind of space, minus, prime, omega and fraction."""
    for sign, fraction in VULGAR.items():
        text = text.replace(sign, f" {fraction}")
    return " ".join(text.translate(ODD_SPACES).translate(LOOKALIKES).split())


def take_number(text: str) -> tuple[float, bool, str] | None:
    """Split a number off the front of a tidy text.

    Returns
    -------
    tuple of (float, bool, str), or None
        The number, whether it is written as a whole number, and the rest of the text; None if
        the text does not begin with a number.

    Raises
    ------
    ValueError
        If the number could mean two things, or none. The message says how to write it.
    """
    found = NUMBER.match(text)
    if found is None:
        return None
    rest = text[found.end() :].lstrip()
    if found["decimal"] is not None:
        written = _one_decimal_point(found["decimal"], text[found.end() :])
        number = float(written)
        if not math.isfinite(number):
            raise ValueError("write a number that a vehicle can have")
        return number, "." not in written, rest
    whole, top, bottom = (
        int(digits or 0)
        for digits in (
            found["whole"],
            found["top"] or found["above"],
            found["bottom"] or found["below"],
        )
    )
    if bottom == 0:
        raise ValueError("write a fraction whose lower number is not 0")
    return whole + top / bottom, False, rest


def _one_decimal_point(written: str, after: str) -> str:
    """Return the digits with at most one point, or say what is unclear (with what came after)."""
    written = written.replace(" ", "")
    points, commas = written.count("."), written.count(",")
    if points and commas:
        decimal = max(written.rfind("."), written.rfind(","))
        whole, part = written[:decimal], written[decimal + 1 :]
        _check_thousands(whole, "." if written[decimal] == "," else ",")
        return f"{re.sub('[.,]', '', whole)}.{part}"
    if commas > 1:
        _check_thousands(written, ",")
        return written.replace(",", "")
    if points > 1:
        _check_thousands(written, ".")
        return written.replace(".", "")
    if re.fullmatch(r"[1-9]\d{0,2},\d{3}", written):
        together, point = written.replace(",", ""), written.replace(",", ".")
        if CUSTOMARY_UNIT.match(after):
            return together
        raise ValueError(
            f"the comma can mean two things: write {together}{after} or {point}{after}"
        )
    return written.replace(",", ".").removesuffix(".")


def _check_thousands(whole: str, separator: str) -> None:
    if not re.fullmatch(rf"\d{{1,3}}(?:{re.escape(separator)}\d{{3}})+", whole):
        raise ValueError("write the number with one decimal point and nothing between its digits")
