"""From a file that includes others to one list of statements."""

from copperpath.build.include.joining import Joined, join_files

__all__ = ["Joined", "join_files"]
