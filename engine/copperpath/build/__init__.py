"""From syntax nodes to a station."""

from copperpath.build.builder import BuildResult, build

__all__ = ["BuildResult", "build"]
