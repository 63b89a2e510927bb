"""Writes to a store until it is killed; says what the store has acknowledged.

Started once; for each place it reads, a process is split off that writes there. That one tells its
process, then which version it found, then each version whose save has returned.
"""

import os
import sys
import time

from loomwright.store.opening import open_store

BODY = "x" * 20_000


def text_of(number: int) -> str:
    """Return the text with a number; half of one is not a whole one."""
    return f"# {number}\n# {BODY}\n# {number} end\n"


def tell(line: str) -> None:
    """Say a line at once and whole."""
    os.write(1, f"{line}\n".encode())


def write(place: str, rig_id: str) -> None:
    """Open a store and save to a rig without end; without a rig only open it."""
    with open_store(place) as store:
        if rig_id == "none":
            time.sleep(60)
        number = store.rigs.newest(rig_id).number
        tell(f"saved {number}")
        while True:
            store.rigs.save(rig_id, text_of(number + 1), number, "Kim")
            number += 1
            tell(f"saved {number}")


def main() -> None:
    """Split off a writer for each place and rig that is read, and say when it is gone."""
    for line in sys.stdin:
        place, rig_id = line.split()
        child = os.fork() if hasattr(os, "fork") else 0
        if not child:
            tell(f"process {os.getpid()}")
            write(place, rig_id)
        os.waitpid(child, 0)
        tell("gone")


if __name__ == "__main__":
    main()
