"""The steps of a rig's job, by their keys."""

from __future__ import annotations


def steps_of(text: str) -> dict[str, str]:
    """Return what each step of a job says, in the order of the work."""
    from loomwright import read_rig
    from loomwright.hookup import pair
    from loomwright.sheets.handover_facts import record_facts

    rig = read_rig(text)
    return {each["key"]: each["says"] for each in record_facts(rig, pair(rig))["steps"]}
