"""Codes and tokens: made by chance, stored only as hashes."""

from __future__ import annotations

import hashlib
from base64 import urlsafe_b64encode
from collections.abc import Callable

LETTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
"""32 signs nobody confuses: no 0 or O, no 1 or I."""

CODE_LENGTH = 8
ROUNDS = 60_000


def new_code(random_bytes: Callable[[int], bytes]) -> str:
    """Return a code that a person can type: 8 signs, one of 2^40, in two groups."""
    signs = "".join(LETTERS[byte % len(LETTERS)] for byte in random_bytes(CODE_LENGTH))
    return f"{signs[:4]}-{signs[4:]}"


def plain_code(typed: str) -> str:
    """Return a code as it is compared: capitals, without hyphens or space."""
    return "".join(letter for letter in typed.upper() if letter.isalnum())[: 2 * CODE_LENGTH]


def code_hash(code: str, salt: str) -> str:
    """Return the hash of a code: slow, since a code is short enough to be tried out."""
    plain = plain_code(code).encode("utf-8", "replace")
    return hashlib.pbkdf2_hmac("sha256", plain, bytes.fromhex(salt), ROUNDS).hex()


def new_token(random_bytes: Callable[[int], bytes]) -> str:
    """Return a token for a device to keep: 256 bits, safe in a cookie."""
    return urlsafe_b64encode(random_bytes(32)).decode("ascii").rstrip("=")


def token_hash(token: str) -> str:
    """Return the hash of a token; a token is too long to be tried out."""
    return hashlib.sha256(token.encode("utf-8", "replace")).hexdigest()
