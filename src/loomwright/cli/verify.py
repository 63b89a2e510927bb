"""`loomwright verify`: is a printed record genuine, whole, and the newest."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from loomwright.cli.codes import DONE, TO_MEND
from loomwright.cli.paint import Page
from loomwright.cli.shop import OWN, Shop, opened
from loomwright.invalid import InvalidInput

if TYPE_CHECKING:
    from loomwright.store.records_verifying import Proof


def verify(file: Path, /, *, shop: Shop = OWN) -> int:
    """Prove the printed record in FILE against the store of the workbench.

    Exit codes: 0 genuine, unaltered and the newest; 1 replaced, altered or unknown; 2 no PDF.

    Parameters
    ----------
    file
        PDF of a record.
    shop
        Where the shop's rigs and records are kept.
    """
    from loomwright.store.records_verifying import Verdict

    pdf = _pdf(file)
    with opened(shop) as store:
        proof = store.records.prove(pdf)
    _show(proof)
    return DONE if proof.verdict is Verdict.GENUINE else TO_MEND


def _pdf(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError as problem:
        said = (problem.strerror or "it cannot be reached").lower()
        raise InvalidInput("file", str(file), f"name a PDF that can be read ({said})") from None


def _show(proof: Proof) -> None:
    from loomwright.store.records_verifying import DO, TITLES

    page = Page()
    page.head(TITLES[proof.verdict], heavy=True)
    for said in proof.says:
        page.line(said)
    page.line(DO[proof.verdict])
    if proof.mark is not None:
        record = proof.mark.record
        number = f"{record[:4]}-{record[4:8]}".upper()
        page.line(f"Record {number}, version {proof.mark.version}.")
    if proof.record is not None and proof.record.signed_at is not None:
        page.line(f"Signed {proof.record.signed_at:%Y-%m-%d %H:%M} UTC.")
        page.whole(f"checksum {proof.record.checksum}")
