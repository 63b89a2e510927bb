"""The page of the manual that describes every command, made from the commands themselves."""

from __future__ import annotations

from loomwright.cli.app import make_app

HEAD = """\
# The command line

Made from the commands by `tools/write_cli_reference.py`: change the docstrings in
`src/loomwright/cli`, then run it.

- Input that cannot be used is told on the error stream, every value at once: file and line, field,
  what stands there, and what to write instead. Nothing is written then.
- Exit codes: 0 nothing to mend, 1 `check` or `mend` found something to mend (a note is nothing
  to mend), 2 input that cannot be used. Of several files all that can be read are checked first.
- Units of the output: `--units`, else `units` in the job file, else those usual where its socket
  is.
- Pages are 80 columns wide in a pipe and need no colour; `NO_COLOR` is heeded. A bar on the error
  stream shows on a terminal while a rig is solved.
- `--json` is described in [json.md](json.md).

"""


def manual() -> str:
    """Return the reference of the command line as Markdown."""
    made = make_app().generate_docs(output_format="markdown")
    _, first, commands = made.partition("## loomwright demo")
    return f"{HEAD}{first}{commands}".rstrip() + "\n"
