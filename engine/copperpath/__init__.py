"""copperpath: will the radios stay on the air, and if not, when, which first, and why."""

from copperpath.door import Failure, OpenStation, load

__all__ = ["Failure", "OpenStation", "load"]
