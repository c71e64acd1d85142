"""Loading a file in a process of its own, its time and memory measured."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

PROGRAM = """
import json, resource, sys, time
from copperpath.pipeline import load, load_text
from copperpath_grammar import render

load_text("load lamp : steady { power 1 W }")  # what any use of the language loads
before = time.process_time()
loaded = load(sys.argv[1])
shown = render(loaded.diagnostics)
taken = time.process_time() - before
try:  # the peak of this program alone; that of `resource` begins with that of the one around it
    status = dict(line.split(":", 1) for line in open("/proc/self/status"))
    memory = int(status["VmHWM"].split()[0]) / 1024
except (OSError, KeyError):
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
print(json.dumps([[d.code for d in loaded.diagnostics], shown, taken, memory]))
"""


@dataclass(frozen=True, slots=True)
class Answer:
    """What a file was answered with: codes of its mistakes, all that is shown, the processor time
    [s] and the most memory of the whole process [MB]."""

    codes: list[str]
    shown: str
    seconds: float
    megabytes: float

    @property
    def words(self) -> str:
        """What is shown without its line breaks."""
        return " ".join(self.shown.split())


def answer_to(file: Path) -> Answer:
    """Load a file; nothing but an answer is accepted."""
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, str(file)],
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    return Answer(*json.loads(done.stdout))
