"""How the numbers of a run were obtained, so that a figure can be traced a year later."""

from __future__ import annotations

from importlib.metadata import version

from copperpath.over_year import WeatherFile
from copperpath.record.energy import worst_imbalance
from copperpath.record.run import Run
from copperpath.station import ClearSky


def provenance(run: Run) -> dict[str, str]:
    """Facts in words, by name."""
    models = sorted({d.model.name for d in run.problem.station.devices})
    sky = run.problem.station.site.sky
    imbalance = worst_imbalance(run.powers, run.solution)
    libraries = (
        ["copperpath", "numpy", "pvlib"]
        if isinstance(sky, ClearSky | WeatherFile)
        else ["copperpath"]
    )
    if run.solution.executor == "compiled loop":
        libraries.append("numba")
    return {
        "executor": run.solution.executor,
        "step": f"{run.problem.site.step_s:g} s; times are no finer than that",
        "sky": run.problem.site.sky_words,
        "key states": run.problem.columns.words,
        "tolerance": "no node moves by more than 1e-9 V in the last iteration",
        "worst imbalance": f"{imbalance:.1e} of a step's largest power",
        "models": ", ".join(models),
        "versions": ", ".join(f"{name} {version(name)}" for name in dict.fromkeys(libraries)),
    }
