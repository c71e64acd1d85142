"""USB outlets: what a profile and a cable allow, and the voltages at which a device charges."""

from __future__ import annotations

from collections.abc import Iterator

from outside.checks.record import Record, numbered, origin
from support.sample_devices import law_at, settled
from support.small_station import run_text, small_text

from copperpath_plugins.converters.usb_c_supply import UsbCSupply
from copperpath_plugins.loads.usb_device import UsbDevice


def records() -> Iterator[Record]:
    """Profiles with power enough, then the usual window of a device."""
    window = settled(UsbDevice, needs=0.5)
    for rows, row in numbered("usb_power.csv"):
        if row["profile"]:
            values = settled(UsbCSupply, profile=row["profile"], cable=row["cable"], budget=240.0)
            name = f"{row['profile']}, {row['cable']}"
            yield Record(
                claim=f"{name}: voltage",
                expected=float(row["volts"]),
                ours=values["output_volts"],
                unit="V",
                tolerance=1e-9,
                why="ours is this table",
                rows=rows,
                **origin(row),
            )
            yield Record(
                claim=f"{name}: most current",
                expected=float(row["max_A"]),
                ours=-law_at(UsbCSupply, values, (12.0, 0.5 * float(row["volts"])))[1],
                unit="A",
                tolerance=1e-3,
                why="its own divider takes less than a milliampere",
                rows=rows,
                **origin(row),
            )
        elif row["max_A"] and float(row["volts"]) <= 5.0:
            yield _outlet(rows, row)
        if row["item"].startswith("USB default"):
            # At the port; ours is the device's end of a lead.
            yield Record(
                claim="a device still charges at the port's lowest",
                expected=4.75,
                ours=window["works_low"],
                unit="V",
                tolerance=0.3,
                why="the port gives 4.75 V at the least; a lead of 0.25 ohm takes 0.25 V at 1 A",
                rows=rows,
                **origin(row),
            )
        if row["item"] == "USB 3.1 VBUS top":
            yield Record(
                claim="a device charges up to the port's highest",
                expected=5.5,
                ours=window["works_high"],
                unit="V",
                tolerance=1e-9,
                why="ours is this figure",
                rows=rows,
                **origin(row),
            )


def _outlet(rows: tuple[tuple[str, int], ...], row: dict[str, str]) -> Record:
    """A day of a device that takes what the port may give, on a converter from 25.6 V."""
    volts, amps = float(row["volts"]), float(row["max_A"])
    record = run_text(
        small_text(
            f"converter outlet : step_down {{ output {volts} V; output_limit 6 A; "
            "input 22 V .. 32 V }\n"
            "cable pack -> outlet.in { length 0.2 m; wire 4 mm2 }\n"
            f"load it : usb_device {{ power {volts * amps} W; limit {volts * amps} W; "
            f"works {0.9 * volts} V .. {1.1 * volts} V }}\n"
            "cable outlet.out -> it { length 0.1 m; wire 4 mm2 }\n",
            pack="cells 8",
            capacity="900 Ah",
        ),
        1800.0,
    )
    figures = {each.name: each for each in record.base.devices}
    return Record(
        claim=f"{row['item']}, a day",
        expected=amps,
        ours=figures["it"].current_mean_a,
        unit="A",
        tolerance=0.02 * amps,
        why="the device takes its watts, so more current where the outlet sags",
        rows=rows,
        **origin(row),
    )
