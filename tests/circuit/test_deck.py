"""The SPICE deck: names any SPICE takes, and a deck that runs by itself."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

from loomwright.circuit import (
    Case,
    ConstantPower,
    Filament,
    Load,
    Network,
    Resistor,
    Source,
    solve,
    spice_nodes,
    write_spice,
)


def awkward() -> Network:
    """Names that differ by case and signs only, or start with a digit; a reference not called 0."""
    return Network(
        [
            Source("Starter battery", "Post +", "frame", 12.8, 0.01),
            Resistor("wire", "Post +", "0", 0.5),
            Resistor("Wire", "0", "post", 0.5),
            Resistor("wire!", "post", "Ω", 0.5),
            Load("lamp (left)", "Ω", "frame", Filament(12.8, 2.1)),
            ConstantPower("led", "post", "frame", 3.0, 7.0, 8.0),
        ],
        reference="frame",
    )


def deck() -> str:
    network = awkward()
    return write_spice(network, Case(), "Awkward\nnames", solve(network))


def test_names_are_plain_and_distinct() -> None:
    names = spice_nodes(awkward())

    assert names["frame"] == "0"
    assert len(set(names.values())) == len(names)
    assert all(re.fullmatch(r"0|[a-z][a-z0-9_]*", name) for name in names.values())


def test_elements_have_distinct_names_in_the_deck() -> None:
    cards = [line.split()[0] for line in deck().splitlines()[4:] if line[0] in "BRV"]

    assert len({card.lower() for card in cards}) == len(cards)


def test_the_deck_is_plain_text_that_starts_with_its_title_and_ends() -> None:
    lines = deck().splitlines()

    assert lines[0] == "* Awkward names"
    assert lines[-1] == ".end"
    assert deck().isascii()
    assert max(map(len, lines)) <= 120


def test_every_node_has_its_shunt_in_the_deck() -> None:
    shunts = re.findall(r"^Rshunt__\S+ (\S+) 0 1e\+09$", deck(), re.MULTILINE)

    assert set(shunts) | {"0"} == set(spice_nodes(awkward()).values())


def test_the_deck_runs_by_itself(tmp_path: Path) -> None:
    """As a person would check us: ngspice -b, and the voltages in its printout."""
    program = shutil.which("ngspice")
    assert program, "ngspice is not installed: run the set-up again, or install the package ngspice"
    path = tmp_path / "rig.cir"
    path.write_text(deck(), encoding="ascii")
    run = subprocess.run([program, "-b", str(path)], capture_output=True, text=True, check=True)
    solution, names = solve(awkward()), spice_nodes(awkward())

    for node in awkward().nodes:
        printed = re.search(rf"^\s*(?:V\()?{names[node]}\)?\s+(\S+)$", run.stdout, re.M | re.I)
        assert printed, run.stdout
        assert abs(float(printed[1]) - solution.voltages_v[node]) <= 1e-5
