"""Each finding about the wiring on the smallest station that has it, and none on a sane one."""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.networks import LABELS, TEXT, make_cable, make_device, make_settings

from copperpath.network.checks import check_network, solvable
from copperpath.plugin_api import Mount, Schedule
from copperpath.station import Device, Fuse, Station
from copperpath_grammar.diagnostics import Level
from copperpath_plugins.blocks.strip import Strip
from copperpath_plugins.converters.inverter import Inverter
from copperpath_plugins.converters.mains_charger import MainsCharger
from copperpath_plugins.converters.mppt_charger import MpptCharger
from copperpath_plugins.converters.step_down import StepDown
from copperpath_plugins.loads.steady import Steady
from copperpath_plugins.loads.transceiver import Transceiver
from copperpath_plugins.loads.usb_device import UsbDevice
from copperpath_plugins.sources.generator import Generator
from copperpath_plugins.sources.photovoltaic import Photovoltaic
from copperpath_plugins.storage.lfp import LithiumIronPhosphate

PANEL = make_device("panel", Photovoltaic, **LABELS[0], mount=Mount(0.0, 180.0))
REGULATOR = make_device("regulator", MpptCharger, output_limit=5.0, max_input=30.0)
SECOND = make_device("second", MpptCharger, output_limit=5.0, max_input=30.0)
PACK = make_device("pack", LithiumIronPhosphate, capacity=43200.0)
SPARE = make_device("spare", LithiumIronPhosphate, capacity=43200.0)
STRIP = make_device("strip", Strip, ways=4.0)
LAMP = make_device("lamp", Steady, power=3.0)
FIVER = make_device("fiver", StepDown, output=5.0, output_limit=3.0, input=(9.0, 30.0))
PHONE = make_device("phone", UsbDevice, power=3.0)
GENERATOR = make_device("generator", Generator, rating=1000.0)
CHARGER = make_device("charger", MainsCharger, output_limit=20.0)
INVERTER = make_device("inverter", Inverter, rating=300.0)
RIG = make_device("rig", Transceiver, receive=0.3, transmit=2.0, transmitting=Schedule((), 0.1))


def wired(devices: tuple[Device, ...], *cables: tuple[str, str]) -> Station:
    """A station whose battery leads have their fuse at the battery."""
    stores = {device.name for device in devices if device.kind == "storage"}
    made = []
    for start, end in cables:
        cable = make_cable(start, end, 0.05)
        for side, terminal in (("start", cable.start), ("end", cable.end)):
            if terminal.device in stores:
                cable = replace(cable, fuses=(Fuse(10.0, side, None, 0.003),))
        made.append(cable)
    return Station("tiny", make_settings(1.0), devices, tuple(made), (), (), TEXT)


SANE = wired(
    (PANEL, REGULATOR, PACK, STRIP, LAMP, FIVER, PHONE, RIG),
    ("panel.out", "regulator.panel"),
    ("regulator.battery", "pack.line"),
    ("pack.line", "strip.in"),
    ("strip.1", "lamp.line"),
    ("strip.2", "fiver.in"),
    ("fiver.out", "phone.line"),
    ("strip.3", "rig.line"),
)


def found(station: Station) -> list[tuple[str, str]]:
    """Rules and subjects."""
    return [(finding.rule, finding.subject) for finding in check_network(station)]


def test_a_sane_station_has_no_findings() -> None:
    assert found(SANE) == []


def test_a_load_wired_to_no_source_is_found() -> None:
    station = wired((PACK, STRIP, LAMP), ("strip.1", "lamp.line"))
    assert found(station) == [("load-without-source", "lamp")]


def test_a_converters_input_does_not_feed_a_load() -> None:
    # The lamp hangs on the wires that lead to the converter's input, and nothing feeds those; so
    # nothing reaches the phone behind the converter either.
    station = wired(
        (STRIP, FIVER, LAMP, PHONE),
        ("strip.1", "fiver.in"),
        ("strip.2", "lamp.line"),
        ("fiver.out", "phone.line"),
    )
    assert found(station) == [("load-without-source", "lamp"), ("load-without-source", "phone")]


def test_batteries_with_a_converter_between_them_are_not_tied_together() -> None:
    small = make_device("small", LithiumIronPhosphate, cells=1.0, capacity=7200.0)
    station = wired(
        (PACK, FIVER, small, PHONE),
        ("pack.line", "fiver.in"),
        ("fiver.out", "small.line"),
        ("small.line", "phone.line"),
    )
    assert found(station) == []


def test_a_battery_behind_a_converter_on_the_panel_side_is_refused_too() -> None:
    station = wired(
        (PANEL, REGULATOR, PACK, LAMP, FIVER, SPARE),
        ("panel.out", "regulator.panel"),
        ("regulator.panel", "fiver.in"),
        ("fiver.out", "spare.line"),
        ("regulator.battery", "pack.line"),
        ("pack.line", "lamp.line"),
    )
    assert ("store-on-panel-side", "spare") in found(station)


def test_a_controller_without_a_panel_is_found() -> None:
    station = wired(
        (REGULATOR, PACK, LAMP), ("regulator.battery", "pack.line"), ("pack.line", "lamp.line")
    )
    assert found(station) == [("controller-without-panel", "regulator")]


def test_two_batteries_on_one_network_are_found() -> None:
    station = wired((PACK, SPARE, LAMP), ("pack.line", "lamp.line"), ("spare.line", "lamp.line"))
    assert found(station) == [("batteries-in-parallel", "spare")]


@pytest.mark.parametrize("fuses", [(), (Fuse(10.0, "end", None, 0.003),)])
def test_a_battery_lead_without_a_fuse_at_the_battery_is_a_danger(fuses: tuple[Fuse, ...]) -> None:
    station = wired((PACK, LAMP), ("pack.line", "lamp.line"))
    bare = replace(station, cables=(replace(station.cables[0], fuses=fuses),))
    findings = check_network(bare)
    assert [finding.rule for finding in findings] == ["battery-lead-without-fuse"]
    assert findings[0].level is Level.DANGER
    assert "`pack`" in findings[0].message


def test_a_battery_lead_with_a_fuse_at_each_end_is_fused_at_the_battery() -> None:
    station = wired((PACK, LAMP), ("pack.line", "lamp.line"))
    both = (Fuse(10.0, "end", None, 0.003), Fuse(10.0, "start", None, 0.003))
    cable = replace(station.cables[0], fuses=both)
    assert found(replace(station, cables=(cable,))) == []


def test_a_cable_without_its_data_is_a_warning_that_names_it() -> None:
    station = wired((PACK, LAMP), ("pack.line", "lamp.line"))
    cable = replace(station.cables[0], length_m=None, wire="2.5 mm2")
    (finding,) = check_network(replace(station, cables=(cable,)))
    assert (finding.level, finding.rule) == (Level.WARN, "cable-data-missing")
    assert "`pack.line -> lamp.line` has no length, so its drop" in finding.message


def test_cables_that_lack_the_same_are_one_warning() -> None:
    station = wired((PACK, LAMP), ("pack.line", "lamp.line"))
    cable = replace(station.cables[0], length_m=None)
    many = tuple(replace(cable, name=f"lead {place}") for place in range(8))
    (finding,) = check_network(replace(station, cables=many))
    assert finding.message.startswith("8 cables have no length, so their drop is not counted")
    assert finding.message.endswith("`lead 5` and 2 more")


def test_a_battery_on_the_panel_side_is_refused() -> None:
    station = wired(
        (PANEL, REGULATOR, PACK, SPARE, LAMP),
        ("panel.out", "regulator.panel"),
        ("spare.line", "regulator.panel"),
        ("regulator.battery", "pack.line"),
        ("pack.line", "lamp.line"),
    )
    findings = check_network(station)
    assert ("store-on-panel-side", "spare") in found(station)
    assert not solvable(findings)


def test_a_keyed_radio_on_the_panel_side_is_refused() -> None:
    station = wired(
        (PANEL, REGULATOR, PACK, RIG),
        ("panel.out", "regulator.panel"),
        ("panel.out", "rig.line"),
        ("regulator.battery", "pack.line"),
    )
    assert ("store-on-panel-side", "rig") in found(station)


def test_two_controllers_on_one_panel_are_solved_with_a_warning() -> None:
    station = wired(
        (PANEL, REGULATOR, SECOND, PACK, LAMP),
        ("panel.out", "regulator.panel"),
        ("panel.out", "second.panel"),
        ("regulator.battery", "pack.line"),
        ("second.battery", "pack.line"),
        ("pack.line", "lamp.line"),
    )
    assert ("trackers-share-a-panel", "second") in found(station)
    assert solvable(check_network(station))


def test_a_panel_side_joined_with_the_battery_side_is_refused() -> None:
    station = wired(
        (PANEL, REGULATOR, PACK),
        ("panel.out", "regulator.panel"),
        ("regulator.battery", "pack.line"),
        ("panel.out", "pack.line"),
    )
    assert ("controller-bridged", "regulator") in found(station)
    assert not solvable(check_network(station))


def test_mains_on_battery_wiring_is_refused() -> None:
    station = wired((GENERATOR, PACK), ("generator.output", "pack.line"))
    assert ("mains-on-battery-wiring", "generator") in found(station)
    assert not solvable(check_network(station))


def test_a_generator_that_senses_a_battery_is_not_on_its_wiring() -> None:
    station = wired(
        (GENERATOR, CHARGER, PACK),
        ("generator.output", "charger.mains"),
        ("charger.battery", "pack.line"),
        ("pack.line", "generator.sense"),
    )
    assert "mains-on-battery-wiring" not in {rule for rule, _ in found(station)}
    assert solvable(check_network(station))


def test_two_devices_that_put_mains_on_one_line_are_refused() -> None:
    station = wired(
        (GENERATOR, INVERTER, CHARGER, PACK, SPARE),
        ("generator.output", "charger.mains"),
        ("inverter.mains", "charger.mains"),
        ("charger.battery", "pack.line"),
        ("spare.line", "inverter.battery"),
    )
    assert "mains-sources-tied" in {rule for rule, _ in found(station)}
    assert not solvable(check_network(station))


def test_findings_come_worst_first_and_say_what_to_do() -> None:
    station = wired(
        (REGULATOR, PACK, SPARE, STRIP, LAMP),
        ("regulator.battery", "pack.line"),
        ("pack.line", "spare.line"),
        ("strip.1", "lamp.line"),
    )
    findings = check_network(station)
    order = list(Level)
    places = [order.index(finding.level) for finding in findings]
    assert places == sorted(places)
    assert len(findings) >= 4
    assert all(finding.remedy and finding.message and finding.span for finding in findings)
