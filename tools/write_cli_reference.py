"""Write `docs/reference/cli.md` anew from the commands: `python tools/write_cli_reference.py`."""

from pathlib import Path

from loomwright.cli.manual import manual

PAGE = Path(__file__).resolve().parent.parent / "docs" / "reference" / "cli.md"

if __name__ == "__main__":
    PAGE.write_text(manual(), "utf-8")
