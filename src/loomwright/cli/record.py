"""`loomwright record`: the record of work on a rig, made, signed, corrected and printed."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal

from cyclopts import App, Parameter

from loomwright.cli.codes import DONE, TO_MEND
from loomwright.cli.files import write_result
from loomwright.cli.paint import Page
from loomwright.cli.record_finding import record_called, short_number
from loomwright.cli.shop import OWN, Shop, opened, rig_brought, rig_called, user
from loomwright.invalid import InvalidInput

if TYPE_CHECKING:
    from loomwright.store.store import Store

Paper = Literal["letter", "a4"]
Json = Annotated[bool, Parameter(name="--json", show_default=False)]
Output = Annotated[Path, Parameter(name=["--output", "-o"])]

record = App(
    name="record",
    help="Make, sign, correct and print the record of work on a rig of the workbench.",
    result_action="return_value",
    default_parameter=Parameter(negative=()),
)


@record.command(name="list")
def list_records(rig: str | None = None, /, *, shop: Shop = OWN) -> int:
    """List the records of RIG, or of all rigs, the newest first.

    Parameters
    ----------
    rig
        Name of a rig, its id, or its job file.
    shop
        Where the shop's rigs and records are kept.
    """
    from loomwright.cli.record_view import show_list

    with opened(shop) as store:
        rig_id = None if rig is None else rig_called(store, rig).id
        found = store.records.records(rig_id)
        names = {each.id: each.name for each in store.rigs.search(archived=None)}
    if found:
        show_list(found, names)
    else:
        Page().line("No record is kept yet: `loomwright record make RIG` begins one.")
    return DONE


@record.command
def show(
    number: str,
    /,
    *,
    version: int | None = None,
    json_: Json = False,
    shop: Shop = OWN,
) -> int:
    """Show what record NUMBER says; of a draft also the keys that its entries go by.

    Parameters
    ----------
    number
        Number of the record as it is printed, its id, or the rig: its newest.
    version
        Which version; else the newest.
    json_
        Print the document as JSON.
    shop
        Where the shop's rigs and records are kept.
    """
    with opened(shop) as store:
        found = record_called(store, number, version)
        document = found.document if found.is_signed else store.records.preview(found.id)
        steps = _steps(store, found.rig_id) if not found.is_signed else {}
    if json_:
        print(found.text if found.is_signed else json.dumps(document, ensure_ascii=False))
    else:
        from loomwright.cli.record_view import show_record

        show_record(found, document, steps)
    return DONE


@record.command
def make(
    rig: str,
    /,
    *,
    done: tuple[str, ...] = (),
    place: tuple[str, ...] = (),
    photo: tuple[Path, ...] = (),
    notes: str | None = None,
    found: str | None = None,
    parts: str | None = None,
    settings: str | None = None,
    not_tested: str | None = None,
    owner: str | None = None,
    before: int | None = None,
    after: int | None = None,
    who: str | None = None,
    shop: Shop = OWN,
) -> int:
    """Begin the record of RIG, or add to the draft that is open.

    Parameters
    ----------
    rig
        Name of a rig, its id, or a job file; one that is new is taken into the workbench.
    done
        Key of a step that was done, or `all`; may be given again and again.
    place
        Where a splice, fuse, ground or hole is, as KEY=WORDS; may be given again and again.
    photo
        Photo to keep (JPEG, PNG or WebP), called by the name of its file; what it tells beside its
        picture is taken out.
    notes
        What was done besides, or done otherwise.
    found
        What was found before anything was touched.
    parts
        What was fitted.
    settings
        What was set, coded or cleared.
    not_tested
        What was not tested, a line each.
    owner
        What the owner must know.
    before
        Number of the light check before the work; 0 for none.
    after
        Number of the light check after the work; 0 for none.
    who
        Who writes it; else the user of this machine.
    shop
        Where the shop's rigs and records are kept.
    """
    texts = {
        "done_notes": notes,
        "found": found,
        "parts": parts,
        "settings": settings,
        "not_tested": not_tested,
        "for_owner": owner,
    }
    by = who or user()
    with opened(shop) as store:
        rig_id = rig_brought(store, rig, by).id
        entered: dict[str, Any] = {key: text for key, text in texts.items() if text is not None}
        steps, places = _steps(store, rig_id), _pairs(place)
        pictures = [(file, _photo(file)) for file in photo]
        draft = store.records.begin(rig_id, by)
        if done:
            entered["done"] = [*draft.entries.done, *_ticked(done, steps)]
        if places:
            entered["places"] = {**draft.entries.places, **_known(store, draft.id, places)}
        for side, check in (("before", before), ("after", after)):
            if check is not None:
                entered[side] = "" if check == 0 else store.checks.numbered(check).id
        draft = store.records.change(draft.id, entered, by)
        for file, picture in pictures:
            draft = store.records.add_photo(draft.id, picture, by, file.stem)
    page = Page()
    page.line(f"Draft of record {short_number(draft)}, version {draft.version}.")
    page.line(f"Look at it: loomwright record show {short_number(draft)}")
    page.line(f"Sign it: loomwright record sign {short_number(draft)} --name NAME")
    return DONE


@record.command
def sign(
    number: str,
    /,
    *,
    name: str,
    second: str | None = None,
    customer: str | None = None,
    who: str | None = None,
    shop: Shop = OWN,
) -> int:
    """Sign the draft of record NUMBER with typed names: from then on it stays as it is.

    Parameters
    ----------
    number
        Number of the record, its id, or the rig: its newest.
    name
        Name of the technician who signs.
    second
        Name of a second person who signs.
    customer
        Name of the customer who signs.
    who
        Who does it; else the user of this machine.
    shop
        Where the shop's rigs and records are kept.
    """
    from loomwright.store.records_signing import ROLES, Signature

    names = zip(ROLES, (name, second, customer), strict=True)
    signatures = [Signature(role, said) for role, said in names if said is not None]
    with opened(shop) as store:
        signed = store.records.sign(record_called(store, number).id, signatures, who or user())
    page = Page()
    page.line(f"Record {short_number(signed)}, version {signed.version}, is signed.")
    page.whole(f"checksum {signed.checksum}")
    return DONE


@record.command
def correct(
    number: str,
    /,
    *,
    why: str,
    who: str | None = None,
    shop: Shop = OWN,
) -> int:
    """Begin a new version of signed record NUMBER; `make` then changes it.

    Parameters
    ----------
    number
        Number of the record, its id, or the rig: its newest.
    why
        What is corrected; printed on the record.
    who
        Who does it; else the user of this machine.
    shop
        Where the shop's rigs and records are kept.
    """
    with opened(shop) as store:
        draft = store.records.correct(record_called(store, number).id, why, who or user())
    Page().line(f"Draft of record {short_number(draft)}, version {draft.version}.")
    return DONE


@record.command
def drop(
    number: str,
    /,
    *,
    who: str | None = None,
    shop: Shop = OWN,
) -> int:
    """Throw away the draft of record NUMBER; what was signed before it stays.

    Parameters
    ----------
    number
        Number of the record, its id, or the rig: its newest.
    who
        Who does it; else the user of this machine.
    shop
        Where the shop's rigs and records are kept.
    """
    with opened(shop) as store:
        found = record_called(store, number)
        store.records.drop(found.id, who or user())
    Page().line(f"The draft of record {short_number(found)}, version {found.version}, is gone.")
    return DONE


@record.command(name="print")
def print_record(
    number: str,
    /,
    *,
    output: Output,
    paper: Paper = "letter",
    version: int | None = None,
    shop: Shop = OWN,
) -> int:
    """Print record NUMBER as a PDF; a draft says on each page that it is one.

    Parameters
    ----------
    number
        Number of the record, its id, or the rig: its newest.
    output
        PDF to write.
    paper
        Size of the paper.
    version
        Which version; else the newest.
    shop
        Where the shop's rigs and records are kept.
    """
    with opened(shop) as store:
        found, records = record_called(store, number, version), store.records
        if found.is_signed:
            pdf = records.pdf(found, paper)
        else:
            pdf = records.draft_pdf(records.preview(found.id), paper)
    write_result(output, pdf)
    Page().line(f"Record {short_number(found)}, version {found.version}: {output}")
    return DONE


@record.command
def check(*, shop: Shop = OWN) -> int:
    """Prove every signed record of the store, its photos and what it corrects.

    Parameters
    ----------
    shop
        Where the shop's rigs and records are kept.
    """
    page = Page()
    with opened(shop) as store:
        signed = [one for one in store.records.records() if one.is_signed]
        troubles = [*store.records.audit()]
    for record_id, said in troubles:
        page.line(f"Record {record_id[:4]}-{record_id[4:8]}: {said}")
    count = f"{len(signed)} signed {'version' if len(signed) == 1 else 'versions'}"
    page.line(f"{count}, {len(troubles) or 'no'} trouble{'' if len(troubles) == 1 else 's'}.")
    return TO_MEND if troubles else DONE


def _steps(store: Store, rig_id: str) -> dict[str, str]:
    """Return what each step of a rig's job says, by its key."""
    from loomwright.cli.record_steps import steps_of

    return steps_of(store.rigs.newest(rig_id).text)


def _ticked(done: tuple[str, ...], steps: dict[str, str]) -> list[str]:
    if done == ("all",):
        return [*steps]
    unknown = [key for key in done if key not in steps]
    if unknown:
        fix = "name steps of this job: `loomwright record show NUMBER` lists them"
        raise InvalidInput("done", ", ".join(unknown), fix)
    return [*done]


def _pairs(given: tuple[str, ...]) -> dict[str, str]:
    parted = [each.partition("=") for each in given]
    if wrong := [key for key, sign, _ in parted if not sign]:
        raise InvalidInput("place", ", ".join(wrong), "write KEY=WORDS")
    return {key: words for key, _, words in parted}


def _known(store: Store, record_id: str, places: dict[str, str]) -> dict[str, str]:
    keys = {each["key"] for each in store.records.preview(record_id)["places"]}
    if unknown := [key for key in places if key not in keys]:
        raise InvalidInput("place", ", ".join(unknown), f"name one of: {', '.join(sorted(keys))}")
    return places


def _photo(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError as problem:
        said = (problem.strerror or "it cannot be reached").lower()
        raise InvalidInput("photo", str(file), f"name a photo that can be read ({said})") from None
