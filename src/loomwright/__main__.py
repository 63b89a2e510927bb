"""Run the command line: `python -m loomwright`."""

import sys

from loomwright.cli import main

sys.exit(main())
