"""A fuse within reach of each battery positive."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import CableView, Inquiry, Reading, Remedy, Rule, SetFuse
from copperpath_plugins.rules.fuse_sizes import fitting_fuse

NEAR_M = 0.18
SHEATHED_M = 1.83


class BatteryFuseNear(Rule):
    """The first fuse on every lead of a battery, measured along the wire."""

    interface = 1
    name = "battery-fuse-near"
    summary = "each lead of a battery has a fuse within 180 mm of it, 1.83 m if it is sheathed"
    why = "nothing opens a short in the piece before the fuse: the wire burns"
    limit_from = "published"
    source = "ABYC E-11: 7 in, or 72 in where the conductor is in a sheath or conduit"
    levels = ("danger", "warn")

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for device in inquiry.devices:
            if device.kind != "storage":
                continue
            for cable in inquiry.cables_at(device.name):
                yield _reading(inquiry, device.name, cable)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        cable = inquiry.cable(reading.subject)
        end = reading.place
        own = next((fuse for fuse in cable.fuses if fuse.end == end), None)
        rating = own.rating_a if own is not None else fitting_fuse(inquiry, cable)
        if rating is None:
            return Remedy("a thicker wire with a fuse within 180 mm of the battery")
        where = f"within {1e3 * NEAR_M:.0f} mm of the battery"
        words = f"a fuse of {rating:g} A {where}"
        if own is not None:
            words = f"its fuse {where}"
            if reading.level == "warn":
                words = f"`within {1e3 * NEAR_M:.0f} mm` if that is where it sits, else {words}"
        return Remedy(words, (SetFuse(cable.name, end, rating, NEAR_M),))


def _reading(inquiry: Inquiry, battery: str, cable: CableView) -> Reading:
    end = "start" if cable.start.device == battery else "end"
    fuse = next((fuse for fuse in cable.fuses if fuse.end == end), None)
    limit = SHEATHED_M if cable.facts.sheathed else NEAR_M
    if fuse is None:
        length = "" if cable.length_m is None else f" ({cable.length_m:g} m)"
        if cable.length_m is not None and cable.length_m <= limit and _opens_next(inquiry, cable):
            return Reading(
                cable.name,
                None,
                value=1e3 * cable.length_m,
                limit=1e3 * limit,
                unit="mm",
                place=end,
            )
        return Reading(
            cable.name,
            "danger",
            f"nothing opens `{cable.name}`{length} at `{battery}`: no fuse within "
            f"{1e3 * limit:.0f} mm of it, measured along the wire",
            None,
            1e3 * limit,
            "mm",
            end,
        )
    if fuse.within_m is None:
        return Reading(
            cable.name,
            "warn",
            f"the file does not say how far from `{battery}` the fuse in `{cable.name}` sits; "
            f"{1e3 * limit:.0f} mm are allowed",
            None,
            1e3 * limit,
            "mm",
            end,
        )
    if fuse.within_m > limit + 1e-9:
        return Reading(
            cable.name,
            "danger",
            f"the fuse in `{cable.name}` sits {1e3 * fuse.within_m:.0f} mm from `{battery}`; "
            f"{1e3 * limit:.0f} mm are allowed",
            1e3 * fuse.within_m,
            1e3 * limit,
            "mm",
            end,
        )
    return Reading(
        cable.name, None, value=1e3 * fuse.within_m, limit=1e3 * limit, unit="mm", place=end
    )


def _opens_next(inquiry: Inquiry, cable: CableView) -> bool:
    """True if the device at the far end of a short lead is itself a fuse or a breaker."""
    models = {inquiry.device(each.device).model.name for each in (cable.start, cable.end)}
    return bool(models & {"fuse", "breaker"})
