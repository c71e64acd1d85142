"""Part files that installed packages bring: found by entry point, read as text, no code run.

A package lists its files in the group `copperpath.parts`, each as
`name = "package.folder:file.station"`. Where the package lies is asked of
`importlib.util.find_spec` for its first name only: that looks for the package without importing
it, whether it is installed plainly or in place. (The list of installed files would not do: a
package installed in place lists none.) The rest is a path below.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.metadata import EntryPoint, entry_points
from importlib.util import find_spec
from pathlib import Path

from copperpath.build.include.paths import ENDING, IncludeTrouble

GROUP = "copperpath.parts"


@cache
def libraries() -> Mapping[str, tuple[EntryPoint, ...]]:
    """All libraries by name; two packages that offer one name stand there both."""
    found: dict[str, tuple[EntryPoint, ...]] = {}
    for point in sorted(entry_points(group=GROUP), key=lambda each: each.name):
        others = found.get(point.name, ())
        # A package installed twice in one environment (editable and plain) lists itself twice.
        if all(point.value != other.value for other in others):
            found[point.name] = (*others, point)
    return found


def package_of(point: EntryPoint) -> str:
    """The package that offers it, for messages."""
    return point.dist.name if point.dist is not None else "an unknown package"


def file_of(points: tuple[EntryPoint, ...]) -> Path:
    """Where the file of a library lies.

    Raises
    ------
    IncludeTrouble
        If it is offered twice, or there is no such file in the package.
    """
    if len(points) > 1:
        packages = " and ".join(sorted({package_of(point) for point in points}))
        raise IncludeTrouble(f"{packages} both offer it")
    module, _, file = points[0].value.partition(":")
    module, file = module.strip(), file.strip()
    first, *folders = module.split(".")
    if not file.endswith(ENDING) or not all(part.isidentifier() for part in (first, *folders)):
        raise IncludeTrouble(f"`{points[0].value}` is not of the form `package:file{ENDING}`")
    for place in _places_of(first):
        home = place.resolve()
        path = home.joinpath(*folders, file).resolve()
        if path.is_relative_to(home) and path.is_file():
            return path
    raise IncludeTrouble(f"there is no file {'/'.join((first, *folders, file))}")


def _places_of(package: str) -> list[Path]:
    """The folders of a package; none if it cannot be found as files."""
    try:
        spec = find_spec(package)
    except (ImportError, ValueError):
        return []
    if spec is None or spec.submodule_search_locations is None:
        return []
    return [Path(place) for place in spec.submodule_search_locations]
