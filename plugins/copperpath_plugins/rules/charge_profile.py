"""Charging voltages against what the battery behind them takes."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import DeviceView, Inquiry, LevelWord, Reading, Remedy, Rule, SetValue
from copperpath_plugins.rules.stores import chargers_of

BANDS = {
    "lfp": ((3.45, 3.65), (3.30, 3.45)),
    "lithium_ion": ((4.00, 4.20), (3.80, 4.10)),
    "flooded": ((2.38, 2.50), (2.20, 2.30)),
    "agm": ((2.38, 2.45), (2.23, 2.30)),
    "gel": ((2.33, 2.40), (2.23, 2.30)),
}
"""Absorb and float voltage of a cell [V], lowest and highest: makers' handbooks in general, from
memory (four lithium iron phosphate cells 13.8 to 14.6 and 13.2 to 13.8, AGM 14.3 to 14.7 and 13.4
to 13.8)."""


class ChargeProfile(Rule):
    """Absorb and float of each charger against the kind of each store it charges."""

    interface = 1
    name = "charge-profile"
    summary = "each charger's absorb and float voltages suit the battery it charges"
    why = "too high ruins a battery and may set it on fire, too low never fills it"
    limit_from = "from memory"
    source = "makers' handbooks in general"
    levels = ("danger", "fail", "warn")

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for store in inquiry.devices:
            bands = _bands(store)
            if bands is None:
                continue
            for charger, _ in chargers_of(inquiry, store):
                if store.model.name == "lead_acid":
                    yield _profile(store, charger)
                for (low, high), name in zip(bands, ("absorb", "float"), strict=True):
                    yield _of(store, charger, name, low, high)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        store, name = reading.place.split("/")
        if name == "profile":
            edit = SetValue(reading.subject, "profile", "lead_acid")
            return Remedy(f"`profile lead_acid` for `{reading.subject}`", (edit,))
        bands = _bands(inquiry.device(store))
        if bands is None:
            return None
        low, high = bands[0 if name == "absorb" else 1]
        value = high if (reading.value or 0.0) > high else low
        if name == "absorb":
            value = 0.5 * (low + high)
        words = f"`{name} {value:.1f} V` for `{reading.subject}`"
        return Remedy(words, (SetValue(reading.subject, name, round(value, 1)),))


def _bands(store: DeviceView) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """Absorb and float of a whole store [V]."""
    if store.kind != "storage":
        return None
    kind = str(store.values.get("kind", "")) if store.model.name == "lead_acid" else ""
    name = "lfp" if store.model.name.startswith("lfp") else store.model.name
    bands = BANDS.get(kind or name)
    if bands is None:
        return None
    cells = float(store.values["cells"])
    (a, b), (c, d) = bands
    return (a * cells, b * cells), (c * cells, d * cells)


def absorb_of(store: DeviceView) -> float | None:
    """The middle of the band to which a store is charged [V]; None if it is not known."""
    bands = _bands(store)
    return None if bands is None else round(0.5 * sum(bands[0]), 1)


def _profile(store: DeviceView, charger: DeviceView) -> Reading:
    """Whether a lead-acid battery is let down to its float voltage once it is full."""
    place = f"{store.name}/profile"
    if str(charger.values["profile"]) == "lead_acid":
        return Reading(charger.name, None, place=place)
    message = (
        f"`{charger.name}` holds its {float(charger.values['absorb']):.1f} V for ever, as for a "
        f"lithium battery; `{store.name}` is lead-acid and must come down to its float voltage"
    )
    return Reading(charger.name, "fail", message, place=place)


def _of(store: DeviceView, charger: DeviceView, name: str, low: float, high: float) -> Reading:
    value = float(charger.values.get(name, low))
    place = f"{store.name}/{name}"
    if low - 0.05 <= value <= high + 0.05:
        return Reading(charger.name, None, "", value, high, "V", place)
    message = (
        f"`{charger.name}` is set to {name} {value:.1f} V; `{store.name}` wants {low:.1f} V to "
        f"{high:.1f} V"
    )
    level: LevelWord
    if value < low:
        level = "warn" if name == "float" else "fail"
        return Reading(charger.name, level, message, value, low, "V", place)
    harmful = name == "absorb" and store.model.name != "lead_acid"
    level = "danger" if harmful else "fail"
    return Reading(charger.name, level, message, value, high, "V", place)
