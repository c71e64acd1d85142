"""From many of one kind and kits of assemblies to plain devices and cables."""

from copperpath.build.expand.expander import Expanded, expand

__all__ = ["Expanded", "expand"]
