"""States: fuses that open, loads of constant power and converters that drop out.

The balance of currents is unique only while every law increases. What does not is a state
here, outside the balance, settled by these rules:

1. *Draw.* A load of constant power is, at the voltage it finds, a resistance that takes its
   power: conductance P/V^2, or less at its current limit. The draws start at nothing and
   grow until they agree with the voltages; starting from nothing leads to the answer with
   the high voltage, which is the one a load reaches when it is switched on. The input of a
   converter draws what its output gives, over its efficiency. Where they do not agree in
   the end, the one that still grows most goes off as in rule 2.
2. *Dropping out.* Every such device starts on. Those with too little voltage before anything
   is drawn go off together. Then, with the draws, the one farthest below its threshold, as a
   share of it, goes off, and the draws are found anew, until none is below.
3. *Coming back.* A device that is off and finds `on_above_v` comes back, the one farthest
   above first. The second time it would come back, it is left off, and named as one that
   cycles.
4. *Fuses.* Electronics are faster than fuses, so only then the fuse with the most current,
   as a share of its opening current, opens if that share is 1 or more; then all is settled
   again from rule 2, with what is off still off. One fuse at a time, so there are at most as
   many rounds as fuses.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import InitVar, dataclass, field
from typing import Final

from loomwright.circuit.balance import Balance, find_balance
from loomwright.circuit.converter import ConverterOutput
from loomwright.circuit.elements import ConstantPower, Element, Fuse, Transformed
from loomwright.circuit.laws import Ohmic
from loomwright.circuit.network import Network
from loomwright.circuit.values import OPEN_OHM, Values, branch_values

DRAW_TOLERANCE: Final = 1e-10
"""Of a draw, as a share of the largest the device can make."""

LEAST_S: Final = 1e-12
"""Conductance of a device that draws nothing. [S]"""

QUICK_ROUNDS: Final = 60
PATIENT_ROUNDS: Final = 300


@dataclass(frozen=True, slots=True)
class Settled:
    """Where a network comes to rest."""

    values: Values
    voltages_v: tuple[float, ...]
    load_v: tuple[float, ...]
    opened: tuple[str, ...]
    off: frozenset[str]
    cycling: tuple[str, ...]
    rounds: int


def settle(
    network: Network, elements: Sequence[Element], start_v: Sequence[float] | None = None
) -> Settled:
    """Find the state a network comes to rest in, by the rules above.

    `start_v` are voltages across the loads to start from: they change the time, not the answer.
    """
    rest = _Rest(network, elements, branch_values(elements), start_v)
    cycling = rest.settle_devices()
    while (fuse := rest.fuse_to_open()) is not None:
        rest.values.conductance_s[network.branch(fuse.name)] = 1.0 / OPEN_OHM
        rest.opened.append(fuse.name)
        cycling = rest.settle_devices()
    return Settled(
        values=rest.values,
        voltages_v=rest.balance.voltages_v,
        load_v=rest.balance.load_v,
        opened=tuple(rest.opened),
        off=frozenset(device.name for device in rest.devices if device.name not in rest.on),
        cycling=cycling,
        rounds=rest.rounds,
    )


Device = ConstantPower | Transformed


@dataclass(slots=True)
class _Rest:
    """A network on its way to rest."""

    network: Network
    elements: Sequence[Element]
    values: Values
    start_v: InitVar[Sequence[float] | None]
    devices: tuple[Device, ...] = field(init=False)
    on: set[str] = field(init=False)
    opened: list[str] = field(init=False, default_factory=list)
    balance: Balance = field(init=False)
    rounds: int = field(init=False, default=0)

    def __post_init__(self, start_v: Sequence[float] | None) -> None:
        self.devices = tuple(e for e in self.elements if isinstance(e, Device))
        self.on = {device.name for device in self.devices}
        self._balance(start_v)

    def settle_devices(self) -> tuple[str, ...]:
        """Rules 1 to 3; names those that cycle."""
        back: set[str] = set()
        cycling: list[str] = []
        while True:
            self._drop_dead()
            if (failing := self._draw()) is not None:
                self.on.remove(failing.name)
                continue
            off = [d for d in self.devices if d.name not in self.on and d.name not in cycling]
            risen = [d for d in off if self._input_v(d) >= _on_above_v(d)]
            if not risen:
                return tuple(cycling)
            best = max(risen, key=lambda d: self._input_v(d) / _on_above_v(d))
            if best.name in back:
                cycling.append(best.name)
            else:
                back.add(best.name)
                self.on.add(best.name)

    def fuse_to_open(self) -> Fuse | None:
        """Rule 4."""
        fuses = [e for e in self.elements if isinstance(e, Fuse)]
        worst = max(fuses, key=self._fuse_load, default=None)
        return worst if worst is not None and self._fuse_load(worst) >= 1.0 else None

    def _fuse_load(self, fuse: Fuse) -> float:
        branch = self.network.branch(fuse.name)
        current_a = self.values.conductance_s[branch] * self._across_v(branch)
        return abs(current_a) / (fuse.opens_at * fuse.rating_a)

    def _drop_dead(self) -> None:
        """Put off what has too little voltage even before anything is drawn."""
        while True:
            self._set_draws([0.0] * len(self._live()))
            dead = [d for d in self._live() if self._input_v(d) < d.off_below_v]
            if not dead:
                return
            self.on -= {device.name for device in dead}

    def _draw(self) -> Device | None:
        """Rule 1; returns the device that cannot stay on. What haste drops, patience must too."""
        if not self._live():
            return None
        nothing = [0.0] * len(self._live())
        _, gap = self._agree(nothing, QUICK_ROUNDS, in_haste=True)
        if gap or self._lowest():
            draws, gap = self._agree(nothing, PATIENT_ROUNDS, in_haste=False)
            if gap and not self._lowest():
                _, gap = self._agree(draws, QUICK_ROUNDS, in_haste=True)
        if gap and not self._lowest():
            return max(zip(gap, self._live(), strict=True), key=lambda pair: pair[0])[1]
        return self._lowest()

    def _lowest(self) -> Device | None:
        """The device farthest below its threshold, if one is below."""
        low = [d for d in self._live() if self._input_v(d) < d.off_below_v]
        return min(low, key=lambda d: self._input_v(d) / d.off_below_v, default=None)

    def _agree(
        self, draws: list[float], rounds: int, *, in_haste: bool
    ) -> tuple[list[float], list[float]]:
        """Let draws and voltages follow each other; in haste, by vector Aitken steps.

        Returns the draws and how far the voltages still want to move each; none if they agree.
        """
        before: tuple[list[float], list[float]] | None = None
        gap: list[float] = []
        for _ in range(rounds):
            self._set_draws(draws)
            wanted = [self._wanted(device) for device in self._live()]
            gap = [w - d for w, d in zip(wanted, draws, strict=True)]
            if max(map(abs, gap)) <= DRAW_TOLERANCE:
                return draws, []
            draws = wanted
            if in_haste and before is not None:
                draws = _aitken(wanted, gap, *before)
            before = wanted, gap
        return draws, gap

    def _live(self) -> list[Device]:
        return [device for device in self.devices if device.name in self.on]

    def _wanted(self, device: Device) -> float:
        """Conductance the device makes at its voltage, as a share of its largest."""
        most = _most_power_w(device)
        if most == 0.0:
            return 0.0
        voltage = max(self._input_v(device), device.off_below_v)
        power = self._power_w(device)
        if isinstance(device, ConstantPower):
            power = min(power, device.max_current_a * voltage)
        return power / most * (device.off_below_v / voltage) ** 2

    def _power_w(self, device: Device) -> float:
        if isinstance(device, ConstantPower):
            return device.power_w
        branch = self.network.branch(device.name) + 1
        output_v = self._across_v(branch)
        law = self.values.laws[branch]
        output_a = -law.current_a(output_v) if law is not None else 0.0
        return max(output_v * output_a, 0.0) / device.efficiency

    def _set_draws(self, draws: Sequence[float]) -> None:
        """Balance the network with these draws of the devices that are on."""
        for device in self.devices:
            branch = self.network.branch(device.name)
            self.values.laws[branch] = Ohmic(device.off_resistance_ohm)
            if isinstance(device, Transformed):
                self.values.laws[branch + 1] = (
                    ConverterOutput(device.emf_v, device.resistance_ohm, device.max_current_a)
                    if device.name in self.on
                    else Ohmic(device.off_resistance_ohm)
                )
        for device, draw in zip(self._live(), draws, strict=True):
            most_s = _most_power_w(device) / device.off_below_v**2
            branch = self.network.branch(device.name)
            self.values.laws[branch] = Ohmic(1.0 / max(draw * most_s, LEAST_S))
        self._balance(self.balance.load_v)

    def _balance(self, start_v: Sequence[float] | None) -> None:
        self.balance = find_balance(self.network.topology, self.values, start_v)
        self.rounds += self.balance.rounds

    def _input_v(self, device: Device) -> float:
        return self._across_v(self.network.branch(device.name))

    def _across_v(self, branch: int) -> float:
        a, b, _ = self.network.topology.branches[branch]
        return self.balance.voltages_v[a] - self.balance.voltages_v[b]


def _on_above_v(device: Device) -> float:
    return device.off_below_v if device.on_above_v is None else device.on_above_v


def _most_power_w(device: Device) -> float:
    if isinstance(device, ConstantPower):
        return device.power_w
    return device.emf_v * device.max_current_a / device.efficiency


def _aitken(
    wanted: Sequence[float],
    gap: Sequence[float],
    wanted_before: Sequence[float],
    gap_before: Sequence[float],
) -> list[float]:
    """Where the last two rounds point to, kept between no draw and the largest."""
    turn = [g - h for g, h in zip(gap, gap_before, strict=True)]
    size = sum(t * t for t in turn)
    share = sum(g * t for g, t in zip(gap, turn, strict=True)) / size if size else 0.0
    return [
        min(max(w - share * (w - v), 0.0), 1.0) for w, v in zip(wanted, wanted_before, strict=True)
    ]
