"""From the job as written to the rig, complete: every value left out is filled and listed."""

from __future__ import annotations

from dataclasses import replace

from loomwright.invalid import raise_all
from loomwright.quantities import Units
from loomwright.reference.connectors import connector
from loomwright.reference.defaults import default
from loomwright.rig.agreement import disagreements
from loomwright.rig.assemble_sockets import converter_from, socket_from, socket_names
from loomwright.rig.assemble_trailer import trailer_from
from loomwright.rig.assemble_vehicle import vehicle_from
from loomwright.rig.fill import Fill, variant_of
from loomwright.rig.job import Job
from loomwright.rig.model import Converter, Rig, Trailer

REGION_RULES = {"US": "US", "CA": "CA", "GB": "GB", "EU": "EU", "AU": "AU"}


def assemble(job: Job) -> Rig:
    """Return the rig a job describes; what was left out stands in its `assumptions`.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, one for each entry that does not go with the others.
    """
    fill = Fill()
    problems = list(disagreements(job))
    raise_all(problems, "job")
    towing = _towing(fill, job)
    socket = job.sockets[socket_names(job).index(towing)]
    variant = variant_of(socket.connector)
    vehicle = vehicle_from(fill, job.vehicle, job.sockets[0].connector, socket.connector)
    converter = _converter(fill, job)
    sockets = tuple(socket_from(fill, job, number) for number in range(len(job.sockets)))
    trailer = trailer_from(fill, job.trailer, vehicle, socket.connector)
    about = job.rig
    rig = Rig(
        name=about.name or f"{vehicle.name} and {trailer.name}",
        vehicle=vehicle,
        sockets=sockets,
        towing=towing,
        trailer=trailer,
        converter=converter,
        adapter=_adapter(job, socket.connector, trailer),
        jurisdiction=_jurisdiction(fill, job, socket.connector),
        commercial=_commercial(fill, job),
        units=Units(about.units or (Units.METRIC if variant == "metric" else Units.US)),
        kind=about.kind or "",
        customer=about.customer or "",
        shop=about.shop or "",
        technician=about.technician or "",
        date=about.date or "",
        notes=about.notes or "",
    )
    raise_all(fill.problems, "job")
    return replace(rig, assumptions=fill.assumptions)


def _towing(fill: Fill, job: Job) -> str:
    names = socket_names(job)
    if job.rig.towing is not None:
        return job.rig.towing
    if len(names) == 1:
        return names[0]
    return fill.derive("rig.towing", names[-1], "the last socket")


def _converter(fill: Fill, job: Job) -> Converter | None:
    if job.converter is None:
        return None
    behind = next((s for s in job.sockets if s.joins == "converter"), job.sockets[-1])
    functions = tuple(pin.function for pin in connector(behind.connector).pins if not pin.is_return)
    variant = variant_of(behind.connector)
    return converter_from(fill, job.converter, functions, None if variant == "flat" else variant)


def _adapter(job: Job, socket: str, trailer: Trailer) -> str | None:
    if job.adapter is None:
        return None
    return f"{job.adapter.socket or socket} to {job.adapter.plug or trailer.plug}"


def _jurisdiction(fill: Fill, job: Job, socket: str) -> str:
    if job.rig.jurisdiction is not None:
        return job.rig.jurisdiction
    regions = connector(socket).row.regions
    found = next((REGION_RULES[region] for region in regions if region in REGION_RULES), "UN")
    return fill.derive("rig.jurisdiction", found, f"where the {socket} connector is usual")


def _commercial(fill: Fill, job: Job) -> bool:
    said = None if job.rig.commercial is None else ("yes" if job.rig.commercial else "no")
    return fill.text("rig.commercial", said, default("rig.commercial")) == "yes"
