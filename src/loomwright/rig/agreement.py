"""What entries of a job file must agree on with each other before a rig can be made of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from loomwright.invalid import InvalidInput
from loomwright.rig.assemble_sockets import CONVERTER, VEHICLE, socket_names
from loomwright.rig.job import Job
from loomwright.rig.job_trailer import JobLamp, JobTrailer
from loomwright.rig.known import advice


def disagreements(job: Job) -> Iterator[InvalidInput]:
    """Yield each entry that names something the file lacks, or that stands twice."""
    yield from _sockets(job)
    yield from _feeds(job)
    yield from _lamps(job.trailer)
    yield from _loads(job.trailer)
    yield from _axles(job.trailer)


def _sockets(job: Job) -> Iterator[InvalidInput]:
    names = socket_names(job)
    for number, socket in enumerate(job.sockets, start=1):
        path = f"socket[{number}]"
        name = names[number - 1]
        if names.index(name) != number - 1:
            fix = "give each socket a name of its own"
            yield InvalidInput(f"{path}.name", name, fix)
        if name in (VEHICLE, CONVERTER):
            fix = f'give it another name: "{name}" means the {name} itself'
            yield InvalidInput(f"{path}.name", name, fix)
        if socket.joins is not None:
            yield from _joins(f"{path}.joins", socket.joins, name, names, job.converter is not None)
    if job.rig.towing is not None and job.rig.towing not in names:
        yield InvalidInput("rig.towing", job.rig.towing, advice(job.rig.towing, names, "socket"))


def _joins(
    path: str, joins: str, own: str, names: Sequence[str], has_converter: bool
) -> Iterator[InvalidInput]:
    if joins == VEHICLE:
        return
    if joins == CONVERTER:
        if not has_converter:
            yield InvalidInput(path, joins, "describe it in a [converter] table, or join a socket")
        return
    before = names[: names.index(own)]
    if joins not in names:
        others = [*(name for name in names if name != own), VEHICLE, CONVERTER]
        yield InvalidInput(path, joins, advice(joins, others, "socket"))
    elif joins not in before:
        yield InvalidInput(path, joins, "name a socket that stands before this one in the file")


def _feeds(job: Job) -> Iterator[InvalidInput]:
    seen: set[str] = set()
    for number, feed in enumerate(job.vehicle.feeds, start=1):
        if feed.function in seen:
            fix = "put it with the other feed of this function: a function has one feed"
            yield InvalidInput(f"vehicle.feed[{number}].function", feed.function, fix)
        seen.add(feed.function)


def _lamps(trailer: JobTrailer) -> Iterator[InvalidInput]:
    for number, lamp in enumerate(trailer.lamps, start=1):
        if lamp.side is not None and lamp.sides is not None:
            fix = "keep side for one lamp, or sides for a pair"
            yield InvalidInput(f"trailer.lamp[{number}].sides", list(lamp.sides), fix)


def _loads(trailer: JobTrailer) -> Iterator[InvalidInput]:
    named = list(_load_names(trailer))
    count = Counter(name for _, name in named)
    first: set[str] = set()
    for path, name in named:
        if count[name] > 1 and name in first:
            yield InvalidInput(f"{path}.name", name, "give each load a name of its own")
        first.add(name)


def _load_names(trailer: JobTrailer) -> Iterator[tuple[str, str]]:
    for number, lamp in enumerate(trailer.lamps, start=1):
        for name in lamp_names(lamp, number):
            yield f"trailer.lamp[{number}]", name
    for number, appliance in enumerate(trailer.appliances, start=1):
        yield f"trailer.appliance[{number}]", appliance.name or f"appliance {number}"
    if trailer.battery is not None:
        yield "trailer.battery", trailer.battery.name or "trailer battery"


def lamp_names(lamp: JobLamp, number: int) -> tuple[str, ...]:
    """Return the names of the lamps an entry makes: one, or one for each side."""
    name = lamp.name or f"lamp {number}"
    if lamp.sides is None:
        return (name,)
    return tuple(f"{side} {name}" for side in dict.fromkeys(lamp.sides))


def _axles(trailer: JobTrailer) -> Iterator[InvalidInput]:
    numbers = [brake.axle or number for number, brake in enumerate(trailer.brakes, start=1)]
    for number, axle in enumerate(numbers, start=1):
        path = f"trailer.brake[{number}].axle"
        if axle in numbers[: number - 1]:
            yield InvalidInput(path, axle, "give each axle one entry: it makes both magnets")
        elif trailer.axles is not None and axle > trailer.axles:
            fix = f"give an axle from 1 to {trailer.axles}, or mend trailer.axles"
            yield InvalidInput(path, axle, fix)
