"""An accessory socket with the plug in it, as in a car: two springs for a contact."""

from __future__ import annotations

from copperpath.plugin_api import Link, Model, Parameter, Terminal, Values


class AccessorySocket(Model):
    """One resistance from the feed to what is plugged in."""

    interface = 1
    name = "accessory_socket"
    kind = "block"
    summary = "an accessory socket and its plug, with the resistance of their contacts"
    leaves_out = (
        "that its contacts get hot and then worse, and that a plug shakes loose; its own fuse in "
        "the plug (write it as a `fuse`); a lamp or meter on it (write it as a steady load); that "
        "its rating is exceeded"
    )
    parameters = (
        Parameter(
            "rating",
            "current",
            "the most current it may carry; it is told here and not watched",
            default=10.0,
            low=0.0,
            low_allowed=False,
            bound_reason="a rating is a current above zero",
            basis="8 to 15 A, from memory",
            example="10 A",
            shown_unit="A",
        ),
        Parameter(
            "contact",
            "resistance",
            "resistance of plug and socket, both poles together",
            default=0.030,
            low=1e-4,
            high=1.0,
            bound_reason="plug and socket have between 0.1 mohm and 1 ohm",
            basis="10 to 50 mohm is common practice, no source",
            example="30 mohm",
            shown_unit="mohm",
        ),
    )
    terminals = (
        Terminal("line", "the side that is fed", main=True),
        Terminal("load", "what is plugged in"),
    )

    @staticmethod
    def links(p: Values) -> tuple[Link, ...]:
        """The contacts."""
        return (Link("line", "load", float(p["contact"])),)
