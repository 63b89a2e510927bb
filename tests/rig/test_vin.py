"""Vehicle identification numbers: form and check digit."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rig.reading import SMALLEST, refused

from loomwright.rig.read import read_rig
from loomwright.rig.vin import vin_check

# 49 CFR 565.15(c): values of letters, weights by place, sum modulo 11, 10 written X.
VALUES = dict(zip("ABCDEFGHJKLMNPRSTUVWXYZ", "12345678123457923456789", strict=True))
WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ0123456789"


def check_digit(vin: str) -> str:
    """The ninth character by the rule of the regulation, worked out anew here."""
    total = sum(
        int(VALUES.get(sign, sign)) * weight for sign, weight in zip(vin, WEIGHTS, strict=True)
    )
    return "X" if total % 11 == 10 else str(total % 11)


@pytest.mark.parametrize(
    ("vin", "total"),
    [
        ("1M8GDM9AXKP042788", 351),
        ("1J9RP1A36A1644345", 314),
        ("1G4AH59H45G118341", 411),
        ("1A9BE2024NM123456", 279),
    ],
)
def test_published_numbers_agree_with_their_check_digit(vin: str, total: int) -> None:
    """Sums worked out by hand with the weights of 49 CFR 565.15(c).

    The first is the common textbook example, the second and third are printed in the agency's
    handbook for makers and in published tables; the last is made up.
    """
    products = (int(VALUES.get(s, s)) * w for s, w in zip(vin, WEIGHTS, strict=True))

    assert sum(products) == total
    assert vin_check(vin).check_digit_ok
    assert vin_check(f"  {vin.lower()} ").check_digit_ok


@given(st.text(LETTERS, min_size=17, max_size=17))
def test_the_check_digit_is_that_of_the_regulation(vin: str) -> None:
    right = vin[:8] + check_digit(vin) + vin[9:]
    wrong = vin[:8] + ("1" if check_digit(vin) != "1" else "2") + vin[9:]

    assert vin_check(right).valid_format
    assert not vin_check(wrong).check_digit_ok


def test_a_failed_check_says_whether_it_proves_anything() -> None:
    """Only North America (first character 1 to 5) demands the digit: 49 CFR 565, from memory."""
    american, european = vin_check("1M8GDM9A1KP042788"), vin_check("WVMZZZ1MZXW000001")

    assert "read the plate again" in american.says
    assert "proves nothing" in european.says
    assert american.valid_format
    assert european.valid_format


@pytest.mark.parametrize(
    "vin", ["1M8GDM9AXKP04278", "1M8GDM9AXKP0427880", "1M8GDM9AXKPO42788", "1M8GDM9AXKPI42788", ""]
)
def test_a_number_of_the_wrong_form_is_refused(vin: str) -> None:
    """17 characters, never I, O or Q: 49 CFR 565.13 and 565.15."""
    assert not vin_check(vin).valid_format
    assert "vehicle.vin" in refused(f'{SMALLEST}[vehicle]\nvin = "{vin}"\n')


def test_a_failed_check_digit_does_not_refuse_the_job() -> None:
    rig = read_rig(f'{SMALLEST}[vehicle]\nvin = "wvmzzz1mzxw000001"\n')

    assert rig.vehicle.vin == "WVMZZZ1MZXW000001"


@given(st.text(max_size=20))
def test_any_text_is_told_what_it_lacks(text: str) -> None:
    assert vin_check(text).says
