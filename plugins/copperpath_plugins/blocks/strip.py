"""A distribution strip: one feed in, several ways out."""

from __future__ import annotations

from copperpath.plugin_api import Link, Model, Parameter, Terminal, Values, Ways


class Strip(Model):
    """Plain resistances from the feed to each way."""

    interface = 1
    name = "strip"
    kind = "block"
    summary = "a distribution strip: one feed, several ways"
    leaves_out = (
        "heat from worn or dirty contacts; the draw of a lamp or meter on the strip (write it as "
        "a steady load)"
    )
    parameters = (
        Parameter(
            "ways",
            "number",
            "how many outlets it has, named 1, 2, 3 ...",
            required=True,
            low=1.0,
            high=64.0,
            bound_reason="a strip has between 1 and 64 ways",
            whole=True,
            example="4",
        ),
        Parameter(
            "rating",
            "current",
            "the most current that may flow through the feed",
            low=0.0,
            low_allowed=False,
            bound_reason="a rating is a current above zero",
            example="30 A",
            shown_unit="A",
        ),
        Parameter(
            "contact",
            "resistance",
            "resistance from the feed to each way, both poles together",
            default=0.001,
            low=1e-6,
            high=1.0,
            bound_reason="a contact has between 1 µohm and 1 ohm",
            basis="screw or blade contacts in good order, from memory",
            example="1 mohm",
            shown_unit="mohm",
        ),
    )
    terminals = (
        Terminal("in", "where the strip is fed", main=True),
        Ways("ways", "the outlets, numbered from 1"),
    )

    @staticmethod
    def links(p: Values) -> tuple[Link, ...]:
        """One resistance a way."""
        return tuple(
            Link("in", str(way), float(p["contact"])) for way in range(1, int(p["ways"]) + 1)
        )
