"""`loomwright new`: a commented job file to start from."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from loomwright import examples
from loomwright.cli.codes import DONE
from loomwright.cli.files import write_result
from loomwright.cli.paint import Page, listing
from loomwright.invalid import InvalidInput
from loomwright.reference.nearest import nearest_known


def new(
    kind: str | None = None,
    /,
    *,
    typical: str | None = None,
    output: Annotated[Path | None, Parameter(name=["--output", "-o"])] = None,
) -> int:
    """Write a commented job file of one KIND of job; without KIND, list the kinds.

    Parameters
    ----------
    kind
        Kind of job.
    typical
        Instead of KIND, what is known of a rig that nobody described:
        connector=7-way,lamps=led,brakes=electric. The usual is taken for what is left out.
    output
        File to write, KIND.toml if not given; an existing file is left alone. The schema that
        editors complete from is written beside it.
    """
    page = Page()
    if typical is not None:
        if kind is not None:
            raise InvalidInput("kind", kind, "leave it out beside --typical")
        from loomwright.trace.typical import read_answers
        from loomwright.web.beginning import answered_text

        _write(page, answered_text(read_answers(typical)), output or Path("typical.toml"))
        return DONE
    if kind is None:
        if output is not None:
            raise InvalidInput("kind", "", f"name one of {', '.join(examples.kinds())}")
        page.show(listing(("kind", "the job"), list(examples.kinds().items())))
        page.line()
        page.line("Begin one with: loomwright new KIND -o job.toml")
        return DONE
    kinds = tuple(examples.kinds())
    if kind not in kinds:
        raise InvalidInput("kind", kind, nearest_known(kind, kinds))
    _write(page, examples.starter(kind), output or Path(f"{kind}.toml"))
    return DONE


def _write(page: Page, text: str, target: Path) -> None:
    write_result(target, text, overwrite=False)
    write_result(target.with_name(examples.SCHEMA_NAME), examples.schema_text())
    page.whole(f"Job file: {target}")
    page.whole(f"Fill it in, then: loomwright check {target}")
