"""Running a general circuit simulator on a netlist and reading what it found."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest

from copperpath.plugin_api import FloatArray

PROGRAM = "ngspice"
MISSING = (
    "these tests compare operating points with those of a circuit simulator, and `ngspice` is not "
    "installed; on Debian and its relatives `apt-get install ngspice` installs it"
)
LONGEST_S = 120.0


class FoundNothing(Exception):
    """The simulator gave up; the text is the end of what it said."""


def simulated(text: str, folder: Path) -> dict[str, FloatArray]:
    """What the simulator finds for a netlist: a row of values by `v(node)` and `i(source)`.

    One value for an operating point, one for each point of a sweep.

    Raises
    ------
    FoundNothing
        If it gave up.
    """
    program = shutil.which(PROGRAM)
    if program is None:
        pytest.fail(MISSING)
    netlist, found = folder / "station.cir", folder / "found.raw"
    netlist.write_text(text, encoding="ascii")
    found.unlink(missing_ok=True)
    # -b without a terminal, -n without anybody's start-up file.
    done = subprocess.run(
        [program, "-b", "-n", "-r", str(found), str(netlist)],
        capture_output=True,
        encoding="utf-8",
        errors="replace",
        check=False,
        timeout=LONGEST_S,
    )
    values = read_values(found) if found.exists() else {}
    if not values:
        raise FoundNothing((done.stdout + done.stderr)[-2000:])
    return values


def read_values(file: Path) -> dict[str, FloatArray]:
    """The columns of a file of results, a heading in text and then doubles in rows; none if it
    holds no row."""
    heading, _, values = file.read_bytes().partition(b"Binary:\n")
    lines = heading.decode("utf-8", "replace").splitlines()
    sizes = dict(line.split(":", 1) for line in lines if line.startswith("No. "))
    columns, rows = int(sizes["No. Variables"]), int(sizes["No. Points"])
    if not rows or not values:
        return {}
    first = lines.index("Variables:") + 1
    names = [line.split()[1] for line in lines[first : first + columns]]
    table = np.frombuffer(values[: 8 * columns * rows]).reshape(rows, columns)
    return {name: table[:, place] for place, name in enumerate(names)}
