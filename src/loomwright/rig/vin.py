"""Vehicle identification numbers: form and check digit.

References
----------
49 CFR 565.15(c) (check digit), in the 17-character layout of ISO 3779.
"""

from __future__ import annotations

from dataclasses import dataclass

from loomwright.invalid import InvalidInput

LENGTH = 17
CHECK_PLACE = 8
REGION_CODES = "12345"
FIX = "give the 17 letters and digits of the plate: it never has I, O or Q"


@dataclass(frozen=True, slots=True)
class VinCheck:
    """What a VIN's own check tells.

    `check_digit_ok` is False for many vehicles that were not built for North America, whose
    makers may put any character in the ninth place: a prompt to read the plate again, no proof.
    """

    valid_format: bool
    check_digit_ok: bool
    says: str


def check_vin(text: str) -> str:
    """Return the VIN as written.

    Raises
    ------
    InvalidInput
        If it is not 17 letters and digits, or has an I, O or Q.
    """
    found = vin_check(text)
    if not found.valid_format:
        raise InvalidInput("vin", text, f"{found.says}; {FIX}")
    return text


def vin_check(vin: str) -> VinCheck:
    """Check form and check digit of a VIN; upper and lower case are the same."""
    from vininfo import Vin
    from vininfo.exceptions import ValidationError

    plain = vin.strip().upper()
    if len(plain) != LENGTH:
        return VinCheck(False, False, f"a VIN has {LENGTH} characters, this has {len(plain)}")
    try:
        number = Vin(plain)
    except ValidationError:
        return VinCheck(False, False, "a VIN has only letters and digits, without I, O and Q")
    if number.verify_checksum(check_year=False):
        return VinCheck(True, True, "the check digit agrees")
    if plain[0] in REGION_CODES:
        says = (
            f"the check digit {plain[CHECK_PLACE]} does not agree: read the plate again; "
            "vehicles for North America must carry the right one"
        )
    else:
        says = (
            f"the check digit {plain[CHECK_PLACE]} does not agree, which proves nothing here: "
            "makers outside North America may put any character there"
        )
    return VinCheck(True, False, says)
