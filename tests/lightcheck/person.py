"""A person made of arithmetic, who looks at a rig and says what is there.

It goes another way than the plan: one case at a time through the plain solver, and a lamp
flashes if it differs between the lit and the dark half of the beat.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from loomwright.circuit import Case, Solution, settle_many
from loomwright.electrics.cases import duties
from loomwright.electrics.commands import Command
from loomwright.electrics.lights import share_of_light, word_for
from loomwright.electrics.mating import mated_pins
from loomwright.electrics.places import LoadPlace
from loomwright.electrics.sockets import pin_node
from loomwright.electrics.vehicle_side import BRAKE_CONTROLLER, SUPPLY
from loomwright.lightcheck.bench import (
    BREAKAWAY_SWITCH,
    LED_AT_V,
    LED_FORM,
    Bench,
    Held,
    make_bench,
    probed_pins,
    tester_load,
)
from loomwright.lightcheck.judging import observe
from loomwright.lightcheck.model import Expectation, Plan
from loomwright.lightcheck.plan import checked_commands
from loomwright.lightcheck.setting import Setting
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import PlaceKind
from loomwright.observations.word import Word
from loomwright.reference.testers import find_testers
from loomwright.rig.model import Bulb, Led, Rig

NOTHING = Case()
FLASHES = {Word.DIM: Word.FLASHING_DIM, Word.GLOW: Word.FLASHING_DIM}
NOTICED = 2.5
"""Factor of light between the halves of a beat under which nobody sees it flash; from memory."""


@dataclass(slots=True)
class Person:
    """Looks at the rig as it is, with what is wrong on it; knows nothing of the plan's bands."""

    rig: Rig
    bench: Bench
    wrong: Case
    setting: Setting
    solved: dict[Held, Solution]

    def says(self, plan: Plan) -> Iterator[Observation]:
        """Answer everything a plan asks."""
        commands = {each.key: each for each in checked_commands(self.rig)}
        asked = [each for step in plan.steps for each in step.expectations]
        held = [self._held(each, commands[each.command]) for each in asked]
        self._solve_all([*held, *(dark_half(each) for each in held)])
        for each in asked:
            yield self.answer(each, commands[each.command])

    def answer(self, each: Expectation, command: Command) -> Observation:
        """Look where one expectation says."""
        held = self._held(each, command)
        if each.quantity is Quantity.SEEN:
            return observe(each, self._word(each, held))
        return observe(each, round(self._number(each, held), 2))

    def _held(self, each: Expectation, command: Command) -> Held:
        (tester,) = find_testers(each.tester)
        if command.key == "breakaway":
            return Held(command, plugged=False, pin_out=True)
        if tester.loads == "one pin":
            pins = ((each.place.name, each.place.pin),)
        elif tester.loads == "every pin":
            mine = [pin for pin in probed_pins(self.bench.wiring) if pin.socket == each.place.name]
            pins = tuple((pin.socket, pin.pin) for pin in mine)
        else:
            return Held(command, plugged=each.plugged)
        return Held(command, plugged=False, tester=tester.key, pins=pins)

    def _solve_all(self, held: Iterable[Held]) -> None:
        new = [each for each in dict.fromkeys(held) if each not in self.solved]
        solved = settle_many(self.bench.network, [self._case(each) for each in new])
        self.solved |= {each: solution for each, (solution, _) in zip(new, solved, strict=True)}

    def _case(self, held: Held) -> Case:
        case = self.bench.case(held, self.wrong)
        _, now, _ = self.setting.supply_v(self.rig, running=self.setting.runs(held.command))
        emf = {**case.emf_v, SUPPLY: now}
        if BRAKE_CONTROLLER in emf:
            emf[BRAKE_CONTROLLER] *= now / self.bench.wiring.conditions.emf_v
        return replace(case, emf_v=emf)

    def _solve(self, held: Held) -> Solution:
        if held not in self.solved:
            self._solve_all([held])
        return self.solved[held]

    def across(self, held: Held, a: str, b: str) -> float:
        """Volts between two nodes."""
        solution = self._solve(held)
        own_battery = held.pin_out
        if not own_battery and {a, b} & set(solution.floating):
            return 0.0
        volts = {**solution.voltages_v, "0": 0.0}
        return volts[a] - volts[b]

    def _word(self, each: Expectation, held: Held) -> Word:
        if each.place.kind is PlaceKind.CONTROLLER:
            found = abs(self._solve(held).currents_a[self._contact("brake")])
            return Word.CONNECTED if found > 0.3 else Word.NO_TRAILER
        if each.place.kind is PlaceKind.PIN:
            return self._probe_word(each, held)
        load = next(x for x in self.bench.wiring.loads if x.name == each.place.name)
        if load.kind != "lamp":
            volts = abs(self.across(held, load.a, load.b))
            on = volts > 0.25 * self.rig.trailer.nominal_v
            return Word.WORKS if on else Word.OFF
        return self._beat(held, lambda now: self._lamp_word(load, now))

    def _lamp_word(self, load: LoadPlace, held: Held) -> tuple[Word, float]:
        assert load.source is not None
        duty = duties(self.bench.wiring, held.command).get(load.fed_by or "", 1.0)
        volts = abs(self.across(held, load.a, load.b))
        share = share_of_light(load.source, self.rig.trailer.nominal_v, volts, duty)
        return Word(word_for(share, load.source)), share

    def _probe_word(self, each: Expectation, held: Held) -> Word:
        (tester,) = find_testers(each.tester)
        name = tester_load(tester.key, each.place.name, each.place.pin)
        pin = next(
            pin
            for pin in probed_pins(self.bench.wiring)
            if (pin.socket, pin.pin) == (each.place.name, each.place.pin)
        )
        led = Led(LED_FORM, tester.led_a or 0.02, LED_AT_V * self.rig.trailer.nominal_v / 12.0)
        source = Bulb("P21W", "single") if tester.lamp_w is not None else led
        load = self.bench.network.element(name)

        def word(now: Held) -> tuple[Word, float]:
            duty = duties(self.bench.wiring, now.command).get(pin.fed_by or "", 1.0)
            volts = abs(self.across(now, load.a, load.b))  # type: ignore[union-attr]
            share = share_of_light(source, self.rig.trailer.nominal_v, volts, duty)
            seen = Word(word_for(share, source))
            if "brightness" in tester.sees or seen is Word.OFF:
                return seen, share
            return Word.PULSED if duty < 1.0 else Word.ON, share

        return self._beat(held, word)

    def _beat(self, held: Held, look: Callable[[Held], tuple[Word, float]]) -> Word:
        """What is seen over a whole beat of the flasher."""
        lit, most = look(held)
        if not held.command.flashing:
            return lit
        dark, least = look(dark_half(held))
        if lit is dark or max(most, least) < NOTICED * min(most, least):
            return lit
        brighter = lit if most >= least else dark
        return FLASHES.get(brighter, Word.FLASHING)

    def _contact(self, function: str) -> str:
        wire = self.rig.trailer.cord_wire_for(function)
        assert wire is not None
        return f"contact_{wire.pin}_{function}".casefold()

    def _number(self, each: Expectation, held: Held) -> float:
        if each.quantity is Quantity.AMPS:
            if held.pin_out:
                return self._solve(held).currents_a[BREAKAWAY_SWITCH]
            plug = {there: here for here, there in mated_pins(self.rig).items()}[each.place.pin]
            wire = next(x for x in self.rig.trailer.cord if x.pin == plug)
            return self._solve(held).currents_a[self._contact(wire.function)]
        if each.place.kind is PlaceKind.RETURN:
            socket = self.rig.socket(each.place.name)
            return self.across(held, pin_node(socket, each.place.pin, "ground"), "0")
        if each.place.kind is PlaceKind.POINTS:
            return self.across(held, each.place.name, each.place.other)
        if each.place.kind is PlaceKind.LOAD:
            load = next(x for x in self.bench.wiring.loads if x.name == each.place.name)
            return self.across(held, load.a, load.b)
        pin = next(
            pin
            for pin in probed_pins(self.bench.wiring)
            if (pin.socket, pin.pin) == (each.place.name, each.place.pin)
        )
        assert pin.return_node is not None
        duty = duties(self.bench.wiring, held.command).get(pin.fed_by or "", 1.0)
        return duty * self.across(held, pin.node, pin.return_node)


def dark_half(held: Held) -> Held:
    """Return the same with what flashes off."""
    flashing = held.command.flashing
    functions = tuple(f for f in held.command.functions if f not in flashing)
    return replace(held, command=replace(held.command, functions=functions))


def person(rig: Rig, testers: str, wrong: Case = NOTHING, setting: Setting | None = None) -> Person:
    """Return somebody at this rig, with something wrong on it or nothing."""
    known = setting or Setting()
    return Person(rig, make_bench(rig, find_testers(testers), known), wrong, known, {})
