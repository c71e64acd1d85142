"""Current and heat in the contacts of joints."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import CableView, Inquiry, JointView, Reading, Remedy, Rule
from copperpath_plugins.rules.fuse_sizes import SLACK_A, lasting_amps

RATED_A = {
    "genderless": 30.0,
    "bullet": 40.0,
    "ring": 150.0,
    "pv_lock": 30.0,
    "screw": 30.0,
    "barrel": 5.0,
    "accessory_plug": 8.0,
}
"""What a contact of each kind carries for hours [A]: common practice, no source (genderless
housings are made for 15 to 45 A)."""

HOT_W = 1.0


class HotConnector(Rule):
    """Lasting current against the kind's rating, and watts in one contact."""

    interface = 1
    name = "hot-connector"
    summary = "each joint carries what flows for long, and no contact turns a watt into heat"
    why = "a hot contact oxidises, gets hotter, melts its housing"
    limit_from = "common practice"
    levels = ("fail",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for cable in inquiry.cables:
            for joint in cable.joints:
                yield from _of(inquiry, cable, joint)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy("a larger contact, a screwed joint, or the load on two feeds")


def _of(inquiry: Inquiry, cable: CableView, joint: JointView) -> Iterator[Reading]:
    amps = lasting_amps(inquiry, cable)
    rated = RATED_A.get(joint.kind)
    over = rated is not None and amps > rated + SLACK_A
    if rated is not None:
        message = (
            f"{amps:.1f} A flow for long through the {joint.kind} joint in `{cable.name}`, which "
            f"carries {rated:.0f} A"
        )
        place = f"{joint.kind} amps"
        yield Reading(cable.name, "fail" if over else None, message, amps, rated, "A", place)
    contact = joint.ohm / max(2 * joint.pairs, 1)
    watts = amps**2 * contact
    # Beyond its rating it is told once; the heat is that of the same current.
    hot = watts > HOT_W + 1e-9 and not over
    message = (
        f"a contact of the {joint.kind} joint in `{cable.name}` turns {watts:.1f} W into heat at "
        f"{amps:.1f} A; {HOT_W:g} W is allowed"
    )
    place = f"{joint.kind} heat"
    yield Reading(cable.name, "fail" if hot else None, message, watts, HOT_W, "W", place)
