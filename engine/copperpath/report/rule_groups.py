"""Under which heading each wiring rule is listed; rules of other packages come last."""

from __future__ import annotations

from collections.abc import Sequence

from copperpath.plugin_api import Rule

GROUPS: dict[str, tuple[str, ...]] = {
    "Volts and wires": (
        "keyed-volts",
        "low-power",
        "line-drop",
        "line-cannot-carry",
        "long-data-power",
        "converter-input",
        "socket-as-supply",
        "hot-connector",
    ),
    "Fuses and switches": (
        "battery-fuse-near",
        "wire-is-the-fuse",
        "fuse-near-load",
        "fuse-cannot-break",
        "fuse-voltage",
        "main-opens-first",
        "no-disconnect",
    ),
    "Panels and controllers": (
        "cold-panels",
        "controller-wakes",
        "panel-power-lost",
        "parallel-panels",
        "dark-string",
        "battery-before-panel",
    ),
    "Batteries and charging": (
        "battery-trips",
        "locked-out",
        "disconnect-chatters",
        "inrush",
        "charge-profile",
        "charge-too-fast",
        "volts-while-charging",
        "alternator-on-lithium",
        "cold-battery",
        "warmer-eats-harvest",
        "lead-acid-depth",
        "starter-battery",
        "unequal-batteries",
    ),
    "Bonds, data leads and plugs": (
        "common-positive",
        "return-through-bond",
        "data-lead-return",
        "usb-profile",
        "same-plug",
    ),
    "People and place": (
        "generator-outdoors",
        "lightning",
        "holders-tested",
        "radio-noise",
        "rf-in-electronics",
        "mass-and-flight",
    ),
}
OTHERS = "From other packages"


def rules_by_group(rules: Sequence[type[Rule]]) -> dict[str, list[type[Rule]]]:
    """The rules under their headings, in the order above; headings without a rule are left out."""
    by_name = {rule.name: rule for rule in rules}
    found = {
        title: [by_name[name] for name in names if name in by_name]
        for title, names in GROUPS.items()
    }
    grouped = {name for names in GROUPS.values() for name in names}
    found[OTHERS] = [rule for rule in rules if rule.name not in grouped]
    return {title: each for title, each in found.items() if each}
