"""Trace a rig: everything it may have, solved once; then belief, reasons, and the next step.

trace = trace_rig(rig)
ranking = trace.rank(observations)
advice = trace.advise(ranking)
"""

from __future__ import annotations

from collections.abc import Sequence

from loomwright.circuit.progress import Progress, Stop
from loomwright.observations.observation import Observation
from loomwright.rig.model import Rig
from loomwright.trace.alike import all_standing_for, rows_of, same_nodes
from loomwright.trace.belief import Belief, Part, believe, with_priors
from loomwright.trace.bench import make_bench
from loomwright.trace.efforts import AT_HAND
from loomwright.trace.faults import faults_in
from loomwright.trace.grouping import Groups, groups_of, ranking_of
from loomwright.trace.hypotheses import Hypotheses, single_hypotheses
from loomwright.trace.model import Advice, Ranking, RigFault
from loomwright.trace.pairs import MOST_PAIRS, pair_hypotheses


class Trace:
    """Everything that may be wrong with a rig, solved and ready to be asked.

    Parameters
    ----------
    rigs : sequence of (Rig, float)
        The rig; or where something of it is not known, each rig that it may be, with its share.

    Attributes
    ----------
    rigs : tuple of (Rig, float)
        As given, the shares summing to one.
    """

    def __init__(self, rigs: Sequence[tuple[Rig, float]]) -> None:
        total = sum(share for _, share in rigs)
        self.rigs = tuple((rig, share / total) for rig, share in rigs)
        self._singles = [_singles(rig) for rig, _ in self.rigs]
        self._pairs: list[Hypotheses] = []
        self._parts = self._with_priors()
        self._groups = groups_of([part.hypotheses for part in self._parts])

    @property
    def faults(self) -> tuple[RigFault, ...]:
        """Every fault, of whichever rig it may be."""
        return tuple(fault for hypotheses in self._singles for fault in hypotheses.faults)

    @property
    def parts(self) -> tuple[Part, ...]:
        """The hypotheses with their priors."""
        return self._parts

    @property
    def groups(self) -> Groups:
        """What is one thing to a technician."""
        return self._groups

    @property
    def singles(self) -> tuple[Hypotheses, ...]:
        """Single faults of each rig."""
        return tuple(self._singles)

    @property
    def has_pairs(self) -> bool:
        """Whether two faults at once are considered already."""
        return bool(self._pairs)

    @property
    def residual_a(self) -> float:
        """The worst balance of currents in anything that was solved. [A]"""
        return max(part.hypotheses.field.residual_a for part in self._parts)

    def prepare_pairs(
        self,
        most: int = MOST_PAIRS,
        *,
        progress: Progress | None = None,
        cancelled: Stop | None = None,
    ) -> None:
        """Solve two faults at once as well: some seconds, best done while a person reads.

        Parameters
        ----------
        most : int
            How many pairs at most, the most plausible first, shared between the rigs.
        progress : callable, optional
            Told how many cases of how many are done, for each rig anew.
        cancelled : callable, optional
            Asked now and then whether to stop.

        Raises
        ------
        Cancelled
            If `cancelled` said so; nothing is changed then.
        """
        each = max(most // len(self._singles), 1)
        pairs = [pair_hypotheses(s, each, progress, cancelled) for s in self._singles]
        self._pairs = pairs
        self._parts = self._with_priors()
        self._groups = groups_of([part.hypotheses for part in self._parts])

    def believe(self, observations: Sequence[Observation]) -> Belief:
        """Return how likely every hypothesis is after some observations.

        Parameters
        ----------
        observations : sequence of Observation
            What was seen and measured, in any order.
        """
        return believe(self._parts, observations)

    def rank(self, observations: Sequence[Observation], explained: int = 6) -> Ranking:
        """Rank what may be wrong after some observations.

        Parameters
        ----------
        observations : sequence of Observation
            What was seen and measured, in any order.
        explained : int
            For how many of the first groups reasons and the flow of current are worked out.
        """
        from loomwright.trace.reasons import explain

        belief = self.believe(observations)
        ranking = ranking_of(belief, self._groups, observations)
        return explain(self, belief, ranking, explained) if explained else ranking

    def advise(self, ranking: Ranking, tools: Sequence[str] = AT_HAND, shown: int = 5) -> Advice:
        """Return the next step: questions, those first that tell most for their effort; or repair.

        Parameters
        ----------
        ranking : Ranking
            After the observations so far.
        tools : sequence of str
            What is at hand: eye, meter, helper, other vehicle, bench supply, load box.
        shown : int
            How many questions to return.
        """
        from loomwright.trace.steps import advise

        return advise(self, ranking, tools, shown)

    def _with_priors(self) -> tuple[Part, ...]:
        shares = [share for _, share in self.rigs]
        pairs = list(zip(self._pairs, shares, strict=True)) if self._pairs else []
        return with_priors(list(zip(self._singles, shares, strict=True)), pairs)


def trace_rig(rig: Rig) -> Trace:
    """Make a rig ready for tracing.

    Where it was only assumed how the socket is fed, both ways are kept open: it decides how a
    bad ground shows.

    Parameters
    ----------
    rig : Rig
        The rig.
    """
    from loomwright.trace.unknowns import rigs_it_may_be

    return Trace(rigs_it_may_be(rig))


def _singles(rig: Rig) -> Hypotheses:
    bench = make_bench(rig)
    faults = faults_in(bench.wiring)
    kept = {pin.node for pin in bench.wiring.pins}
    kept |= {pin.return_node for pin in bench.wiring.pins if pin.return_node is not None}
    rows = rows_of(bench.wiring.network, kept, through_loads=True)
    nodes = same_nodes(bench.wiring.network, kept)
    stands = {fault.changes: all_standing_for(fault.changes, rows, nodes) for fault in faults}
    return single_hypotheses(bench, faults, stands)
