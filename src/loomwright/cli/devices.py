"""`loomwright devices`: the paired devices of the workbench, listed and dropped."""

from __future__ import annotations

from cyclopts import App, Parameter

from loomwright.cli.codes import DONE
from loomwright.cli.paint import Page, listing
from loomwright.cli.shop import OWN, SHORT, Shop, opened, the_one, user

devices = App(
    name="devices",
    help="List and drop the devices that are let into the workbench.",
    result_action="return_value",
    default_parameter=Parameter(negative=()),
)


@devices.command(name="list")
def list_devices(*, shop: Shop = OWN) -> int:
    """List the devices that are let in, the newest first.

    Parameters
    ----------
    shop
        Where the shop's rigs and records are kept.
    """
    with opened(shop) as store:
        found = store.devices.devices()
    if found:
        rows = [(one.id[:SHORT], f"{one.paired_at:%Y-%m-%d %H:%M}", one.name) for one in found]
        Page().show(listing(("device", "paired (UTC)", "name"), rows))
    else:
        Page().line("No device is let in: `loomwright serve --lan` shows how.")
    return DONE


@devices.command
def drop(device: str, /, *, shop: Shop = OWN) -> int:
    """Shut DEVICE out at once, with all its sessions.

    Parameters
    ----------
    device
        Name of the device, its id, or the start of it.
    shop
        Where the shop's rigs and records are kept.
    """
    with opened(shop) as store:
        every, low = store.devices.devices(), device.strip().casefold()
        found = [one for one in every if low and (one.name.casefold() == low or one.id == low)]
        found = found or [one for one in every if low and one.id.startswith(low)]
        one = the_one("device", device, found, every, lambda each: f"{each.id[:SHORT]} {each.name}")
        dropped = store.devices.drop_device(one.id, user())
    Page().line(f"Dropped: {dropped.name}.")
    return DONE
