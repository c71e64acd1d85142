"""Return current in the shield of a data lead."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import DataLeadView, Inquiry, Reading, Remedy, Rule

SHIELD_OHM = 0.29
"""20 mV between returns drove 70 mA through a data lead (a practitioner's measurement)."""

MOST_A = 0.3


class DataLeadReturn(Rule):
    """Difference of the drops in the two negative leads, over the resistance of the shield."""

    interface = 1
    name = "data-lead-return"
    summary = "no data lead carries the return current of the devices that it joins"
    why = "hum, lost data, and a burnt port once a negative lead comes off"
    limit_from = "common practice"
    source = "shield of 0.29 ohm from one measurement; 0.3 A"
    levels = ("warn",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for lead in inquiry.data_leads:
            if lead.kind == "ethernet":
                # Its transformers part the two ends (IEEE 802.3).
                continue
            reading = _of(inquiry, lead)
            if reading is not None:
                yield reading

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy("an isolator in the data lead, or one common return for both devices")


def _of(inquiry: Inquiry, lead: DataLeadView) -> Reading | None:
    one, other = (inquiry.supply_terminal(name) for name in (lead.start, lead.end))
    if other not in inquiry.joined(one):
        return None
    volts = inquiry.low.volts
    if one not in volts or other not in volts:
        return None
    # Half of each way's drop lies in its negative conductor.
    shift = 0.5 * abs(volts[one] - volts[other])
    amps = shift / SHIELD_OHM
    over = amps > MOST_A and not lead.isolated
    kind = f"{lead.kind} lead" if lead.kind else "data lead"
    message = (
        f"the returns of `{lead.start}` and `{lead.end}` stand {1e3 * shift:.0f} mV apart with all "
        f"keyed: the {kind} between them may carry {amps:.2f} A; {MOST_A} A is allowed"
    )
    return Reading(lead.start, "warn" if over else None, message, amps, MOST_A, "A", lead.end)
