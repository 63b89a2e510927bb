"""Studies: a network under many commands, with faults, tolerances and sizes by the thousand.

A `Study` compiles a network once. Its cases are plain arrays, so hundreds of thousands cost
no object each::

    study = Study(network, commands, faults)
    singles = study.solve(study.single_faults())
    doubles = study.solve(study.fault_pairs(), progress=show, cancelled=asked_to_stop)
    doubles.voltages_v      # (case, load): case = (command, pair), the commands outermost
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final, Literal, TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from loomwright.circuit.answers import Pairs
from loomwright.circuit.batch import Cases, base_cases
from loomwright.circuit.elements import ConstantPower, Load, Transformed, ends
from loomwright.circuit.fault_table import tabulate
from loomwright.circuit.faults import Fault, Join, check_fault, crossings, short_across
from loomwright.circuit.network import Case, Network, elements_in
from loomwright.circuit.plan import Executor, make_plan
from loomwright.circuit.progress import Count, Progress, Stop
from loomwright.circuit.readings import Readings
from loomwright.circuit.settled import Known, Settled
from loomwright.circuit.states import settle
from loomwright.circuit.variants import cases_given
from loomwright.invalid import InvalidInput, raise_all

BLOCK: Final = 8_008
"""Cases whose states are settled in one go: bounds the memory of a run.

A whole number of lines of the cache, and an odd one: with 8,192 the rows of a table would all
fall in the same place of it, and put each other out.
"""

Wanted: TypeAlias = Literal["loads", "nodes"] | Sequence[tuple[str, str]]
"""Voltages to read: across every load, at every node, or of one node against another."""

Names: TypeAlias = tuple[str | tuple[str, str], ...]

_TAKES: Final = (Load, ConstantPower, Transformed)


class Study:
    """A network compiled for base cases and faults.

    Parameters
    ----------
    network : Network
        The elements and how they are joined.
    bases : sequence of Case
        What is changed by commands, conditions, temperatures; by default nothing.
    faults : sequence of Fault
        What may be wrong.
    executor : {"best", "arrays", "compiled"}
        What solves: NumPy's arrays, or code compiled by numba. The best of them is chosen by
        what is installed and by the size of the job. The answers are the same.
    threads : int
        Threads that compiled code may use.

    Attributes
    ----------
    plan : Plan
        What was compiled.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, if a case or a fault does not fit the network.
    """

    def __init__(
        self,
        network: Network,
        bases: Sequence[Case] = (Case(),),
        faults: Sequence[Fault] = (),
        *,
        executor: Executor = "best",
        threads: int = 1,
    ) -> None:
        raise_all(list(_problems(network, faults)), "the faults")
        self.network, self.bases, self.faults = network, tuple(bases), tuple(faults)
        shorts = [join for f in faults if (join := short_across(network, f))]
        joins = dict.fromkeys(map(frozenset, shorts))
        joins |= dict.fromkeys(frozenset(join) for f in faults for join in crossings(network, f))
        # an edge beside an element, or beside a shunt to the reference, adds no mesh
        there = {frozenset(pair) for e in network.elements for pair in ends(e)}
        slight = [join for join in joins if network.reference in join or join in there]
        others = [join for join in joins if not (network.reference in join or join in there)]
        self.plan = make_plan(
            network,
            [elements_in(network, case) for case in bases],
            [_ends(join) for join in slight],
            [_ends(join) for join in others],
            executor=executor,
            threads=threads,
        )
        rows = [edge.row for edge in self.plan.layout.extras]
        self._table = tabulate(self.plan, faults, dict(zip((*slight, *others), rows, strict=True)))
        self._asked: dict[str, tuple[Names, Pairs]] = {}
        self._fault_free = base_cases(np.arange(len(self.bases)))
        self._known = self._settled(self._fault_free, None)

    def fault_free(self) -> Cases:
        """Every base as it is."""
        return self._fault_free

    def single_faults(self, bases: Iterable[int] | None = None) -> Cases:
        """Every fault in every base: base by base, the faults in their order.

        Parameters
        ----------
        bases : iterable of int, optional
            Numbers of the bases; all if not given.
        """
        chosen = self._chosen(bases)
        count = len(self.faults)
        base = np.repeat(chosen, count)
        return self._table.put(base_cases(base), np.tile(np.arange(count), len(chosen)))

    def fault_pairs(
        self, pairs: ArrayLike | None = None, bases: Iterable[int] | None = None
    ) -> Cases:
        """Two faults at once in every base: base by base, the pairs in their order.

        Parameters
        ----------
        pairs : int array_like, shape (pair, 2), optional
            Numbers of the faults; every two if not given, (0, 1), (0, 2) ... (1, 2) ...
        bases : iterable of int, optional
            Numbers of the bases; all if not given.

        Notes
        -----
        Where both change the same element, the larger resistance holds. The single faults are
        solved first: the cases start from them.
        """
        self._solve_singles()
        count = len(self.faults)
        chosen = self._chosen(bases)
        both = np.array(np.triu_indices(count, 1)).T if pairs is None else np.asarray(pairs)
        one, other = np.tile(both, (len(chosen), 1)).T
        base = np.repeat(chosen, len(both))
        single = len(self.bases) + base * count
        near = np.stack([single + one, single + other, base], axis=1)
        return self._table.put(self._table.put(base_cases(base, near), one), other)

    def several_faults(self, chosen: ArrayLike, bases: Iterable[int] | None = None) -> Cases:
        """The same number of faults at once in each case: base by base, in their order.

        Parameters
        ----------
        chosen : int array_like, shape (case, fault)
            Numbers of the faults that each case has.
        bases : iterable of int, optional
            Numbers of the bases; all if not given.

        Notes
        -----
        Where several change the same element, the largest resistance holds.
        """
        which, of_base = np.asarray(chosen, dtype=int), self._chosen(bases)
        cases = base_cases(np.repeat(of_base, len(which)))
        for one in np.tile(which, (len(of_base), 1)).T:
            cases = self._table.put(cases, one)
        return cases

    def variants(
        self,
        base: int = 0,
        fault: int | None = None,
        *,
        resistance_ohm: Mapping[str, ArrayLike] | None = None,
        resistance_factor: Mapping[str, ArrayLike] | None = None,
        current_factor: Mapping[str, ArrayLike] | None = None,
        emf_v: Mapping[str, ArrayLike] | None = None,
    ) -> Cases:
        """One base with other numbers in every case: samples, sizes, temperatures, supplies.

        Parameters
        ----------
        base : int
            Number of the base.
        fault : int, optional
            Number of a fault that all cases have; it overrules the numbers below.
        resistance_ohm, resistance_factor : mapping of str to array_like, shape (case,)
            By element: its resistance in each case, or a factor on that of the base. [ohm]
        current_factor : mapping of str to array_like, shape (case,)
            By load: a factor on its current at any voltage.
        emf_v : mapping of str to array_like, shape (case,)
            By source: its EMF in each case. [V]

        Raises
        ------
        InvalidInput
            If a name or a number is not fit for its quantity, or the arrays differ in length.
        """
        numbers = {
            "resistance_ohm": resistance_ohm or {},
            "resistance_factor": resistance_factor or {},
            "current_factor": current_factor or {},
            "emf_v": emf_v or {},
        }
        cases = cases_given(self.plan, base, numbers)
        return cases if fault is None else self._table.put(cases, np.full(len(cases), fault))

    def solve(
        self,
        cases: Cases,
        wanted: Wanted = "loads",
        *,
        from_known: bool = True,
        progress: Progress | None = None,
        cancelled: Stop | None = None,
    ) -> Readings:
        """Solve cases of this study.

        Parameters
        ----------
        cases : Cases
            As this study makes them; any part of them, in any order.
        wanted : "loads", "nodes" or sequence of (str, str)
            Voltages to read: across every load (constant power and converter inputs among
            them), at every node against the reference, or between pairs of nodes.
        from_known : bool
            Whether to start from what is known of the answer: each base without fault, and of
            two faults each alone. The answer is the same from nothing.
        progress : callable, optional
            Told how many cases of how many are done.
        cancelled : callable, optional
            Asked now and then whether to stop.

        Raises
        ------
        Cancelled
            If `cancelled` said so.
        InvalidInput
            If a pair names no node.
        """
        names, pairs = self._wanted(wanted)
        if from_known and (cases.near >= len(self.bases)).any():
            self._solve_singles()
        known = self._known if from_known else None
        count = Count(len(cases), progress, cancelled)
        settled = Settled.room(self.plan, len(cases), len(pairs))
        for first, part in _parts(cases):
            settle(
                self.plan, part, pairs, settled, first=first, known=known, keeps=False, told=count
            )
        return Readings.of(names, settled)

    def _solve_singles(self) -> None:
        """Solve the single faults, if they have not been: pairs start from them."""
        if len(self._known.rest_v) == len(self.bases):
            singles = self._settled(self.single_faults(), self._known)
            self._known = Known.joined([self._known, singles])

    def _settled(self, cases: Cases, known: Known | None) -> Known:
        """Solve cases that others are near to."""
        settled = Settled.room(self.plan, len(cases), 0)
        found = [
            settle(self.plan, part, _NO_PAIRS, settled, first=first, known=known).known_now()
            for first, part in _parts(cases)
        ]
        return Known.joined(found)

    def _chosen(self, bases: Iterable[int] | None) -> NDArray[np.intp]:
        return np.arange(len(self.bases)) if bases is None else np.array(list(bases), dtype=int)

    def _wanted(self, wanted: Wanted) -> tuple[Names, Pairs]:
        """Names of the readings, and the pairs of nodes they are taken at."""
        if not isinstance(wanted, str):
            return tuple(wanted), _table([self._nodes(pair) for pair in wanted])
        if wanted not in self._asked:
            network = self.network
            if wanted == "loads":
                named = {e.name: ends(e)[0] for e in network.elements if isinstance(e, _TAKES)}
            else:
                named = {node: (node, network.reference) for node in network.nodes}
            self._asked[wanted] = tuple(named), _table(list(map(self._nodes, named.values())))
        return self._asked[wanted]

    def _nodes(self, pair: tuple[str, str]) -> tuple[int, int]:
        for node in pair:
            if node not in (*self.network.nodes, self.network.reference):
                raise InvalidInput("wanted", node, "name a node of the network")
        return self.plan.node(pair[0]), self.plan.node(pair[1])


def _parts(cases: Cases) -> Iterator[tuple[int, Cases]]:
    """Cases in parts that are settled in one go, each with the number of its first."""
    if len(cases) <= BLOCK:
        yield 0, cases
        return
    for first in range(0, len(cases), BLOCK):
        yield first, cases.take(slice(first, first + BLOCK))


def _table(pairs: Sequence[tuple[int, int]]) -> Pairs:
    return np.array(pairs, dtype=np.int64).reshape(-1, 2)


_NO_PAIRS: Final = _table([])


def _ends(join: frozenset[str]) -> Join:
    a, b = sorted(join)
    return a, b


def _problems(network: Network, faults: Iterable[Fault]) -> Iterator[InvalidInput]:
    for fault in faults:
        try:
            check_fault(network, fault)
        except InvalidInput as problem:
            yield problem
