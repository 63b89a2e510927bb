"""Solving a network for one case, or for many."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Final, TypeAlias

from loomwright.circuit.elements import Driver, Element, Fuse
from loomwright.circuit.network import Case, Network, elements_in, need_alike
from loomwright.circuit.progress import Count, Progress, Stop
from loomwright.circuit.solution import Solution, read_solutions
from loomwright.circuit.unsettled import NoSettledState

if TYPE_CHECKING:
    from loomwright.circuit.layout import Signature

NOMINAL: Final = Case()
"""The network as it was made."""

Rest: TypeAlias = tuple[Solution, tuple[str, ...]]
"""Where a case comes to rest, and what would go on and off for ever; it stands off."""


def solve(network: Network, case: Case = NOMINAL) -> Solution:
    """Solve a network in one case.

    Parameters
    ----------
    network : Network
        The elements and how they are joined.
    case : Case
        Other numbers for some of them.

    Returns
    -------
    Solution
        Within 1e-8 V of exact arithmetic at every node, floating ones included.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, if the case does not fit the network.
    NoSettledState
        If a load of constant power or a converter, a breaker or a driver, goes on and off for
        ever; the exception holds the solution with it off.
    """
    return solve_many(network, (case,))[0]


def solve_many(
    network: Network,
    cases: Iterable[Case],
    progress: Progress | None = None,
    cancelled: Stop | None = None,
) -> tuple[Solution, ...]:
    """Solve a network in each case, in their order; each to the answer of `solve`.

    All are solved together. For more than some thousands there is `Study`, which makes no
    object for each.

    Parameters
    ----------
    network : Network
        The elements and how they are joined.
    cases : iterable of Case
        Other numbers for some of them.
    progress : callable, optional
        Told how many cases of how many are done.
    cancelled : callable, optional
        Asked now and then whether to stop.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, if a case does not fit the network.
    NoSettledState
        As from `solve`, at the first case without a settled state.
    Cancelled
        If `cancelled` said so.
    """
    settled = settle_many(network, cases, progress, cancelled)
    for solution, cycling in settled:
        if cycling:
            raise NoSettledState(_why(network, cycling), cycling, solution)
    return tuple(solution for solution, _ in settled)


def _why(network: Network, cycling: Sequence[str]) -> str:
    """What goes on and off for ever, and what to do about it."""
    fuses = [n for n in cycling if isinstance(network.element(n), Fuse | Driver)]
    devices = [name for name in cycling if name not in fuses]
    parts = []
    if devices:
        parts.append(
            f"{', '.join(devices)}: drops out under load and comes back without it, over and "
            "over; thicken its wire or take less power"
        )
    if fuses:
        parts.append(
            f"{', '.join(fuses)}: opens under load and closes without it, over and over; find "
            "what takes too much current"
        )
    return "; ".join(parts)


def settle_many(
    network: Network,
    cases: Iterable[Case],
    progress: Progress | None = None,
    cancelled: Stop | None = None,
) -> tuple[Rest, ...]:
    """Solve as `solve_many`; instead of an error, name with each case the devices that cycle.

    Parameters
    ----------
    network, cases, progress, cancelled
        As for `solve_many`.
    """
    return settle_alike([(network, case) for case in cases], progress, cancelled)


def settle_alike(
    jobs: Sequence[tuple[Network, Case]],
    progress: Progress | None = None,
    cancelled: Stop | None = None,
) -> tuple[Rest, ...]:
    """Solve cases of several networks of one shape together, as `settle_many`.

    Parameters
    ----------
    jobs : sequence of (Network, Case)
        Networks that differ in resistances, EMFs, laws and powers only, and a case of each.
    progress, cancelled
        As for `solve_many`.

    Raises
    ------
    InvalidInput
        If the networks have different elements.
    """
    from loomwright.circuit.layout import signature_of

    for other in {id(network): network for network, _ in jobs}.values():
        need_alike(jobs[0][0], other)
    elements = [elements_in(network, case) for network, case in jobs]
    groups: dict[Signature, list[int]] = {}
    for n, each in enumerate(elements):
        groups.setdefault(signature_of(each), []).append(n)
    count = Count(len(elements), progress, cancelled)
    answers: dict[int, Rest] = {}
    for signature, members in groups.items():
        alike = _settled(jobs[0][0], signature, [elements[n] for n in members], count)
        answers.update(zip(members, alike, strict=True))
    return tuple(answers[n] for n in range(len(elements)))


def _settled(
    network: Network, signature: Signature, elements: Sequence[tuple[Element, ...]], count: Count
) -> Iterable[Rest]:
    """Solutions of cases whose laws are of the same families, and what cycles in each."""
    import numpy as np

    from loomwright.circuit.batch import base_cases
    from loomwright.circuit.plan import make_plan
    from loomwright.circuit.settled import Settled
    from loomwright.circuit.states import settle

    plan = make_plan(network, elements, signature=signature)
    pairs = np.array([(node, plan.nodes) for node in range(plan.nodes)]).reshape(-1, 2)
    settled = Settled.room(plan, len(elements), len(pairs))
    rest = settle(plan, base_cases(np.arange(len(elements))), pairs, settled, told=count)
    if not settled.swept.settled.all():
        raise NoSettledState("no balance of currents was found")
    names = (*settled.devices, *settled.fuses)
    cycling = [
        tuple(name for name, is_so in zip(names, flags, strict=True) if is_so)
        for flags in np.concatenate([settled.cycling, settled.reopening]).T.tolist()
    ]
    return zip(read_solutions(plan, rest.as_they_are(), settled), cycling, strict=True)
