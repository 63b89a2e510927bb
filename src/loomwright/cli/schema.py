"""`loomwright schema`: the form of a job file, for editors."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from loomwright import examples
from loomwright.cli.codes import DONE
from loomwright.cli.files import write_result


def schema(*, output: Annotated[Path | None, Parameter(name=["--output", "-o"])] = None) -> int:
    """Print the JSON Schema of the job file, for editors.

    Parameters
    ----------
    output
        File to write; else it is printed.
    """
    text = examples.schema_text()
    if output is None:
        sys.stdout.write(text)
    else:
        write_result(output, text)
    return DONE
