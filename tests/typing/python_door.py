"""What a program may rely on, as types. Checked by mypy and never run."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import assert_type

import numpy as np
import pandas
from numpy.typing import NDArray

import copperpath
from copperpath.record.record import Record, Verdict

station = copperpath.load("my.station")
assert_type(station, copperpath.OpenStation)
assert_type(copperpath.load(Path("my.station"), plugins=[Path("lamp.py")]), copperpath.OpenStation)

record = station.run(step_s=30.0)
assert_type(record, Record)
assert_type(record.verdict, Verdict)
assert_type(record.verdict.word, str)
assert_type(record.verdict.until, datetime | None)
assert_type(record.time_s, NDArray[np.float64])
assert_type(record.base.traces["rig.voltage"].values, NDArray[np.float64])
assert_type(record.frame(), pandas.DataFrame)
