"""The complaint of a network that has no state to show."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from loomwright.circuit.solution import Solution


class NoSettledState(ArithmeticError):
    """No state of the network agrees with itself.

    Parameters
    ----------
    why : str
        What keeps changing, and what to do about it.
    names : tuple of str
        The elements that do not settle.
    solution : Solution, optional
        The network with those elements off.
    """

    def __init__(
        self, why: str, names: tuple[str, ...] = (), solution: Solution | None = None
    ) -> None:
        super().__init__(why, names, solution)
        self.why = why
        self.names = names
        self.solution = solution

    def __str__(self) -> str:
        """Say why."""
        return self.why
