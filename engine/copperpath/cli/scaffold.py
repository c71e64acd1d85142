"""A small package with one model, ready to be changed: what `copperpath scaffold` writes."""

from __future__ import annotations

import keyword
import re
from pathlib import Path
from string import Template

from copperpath import plugin_api

NAME = re.compile(r"[a-z][a-z0-9_]*$")


class ScaffoldProblem(Exception):
    """The folder or the name cannot be used; the text says why."""


PROJECT = Template("""\
[build-system]
requires = ["hatchling>=1.24"]
build-backend = "hatchling.build"

[project]
name = "copperpath-$dashed"
version = "0.1.0"
description = "The model `$name` for copperpath."
readme = "README.md"
requires-python = ">=3.11"
dependencies = ["copperpath"]

[project.optional-dependencies]
tests = ["pytest>=8.2"]

# This line is how copperpath finds the model.
[project.entry-points."copperpath.models"]
$name = "$package.model:$class_name"

[tool.hatch.build.targets.wheel]
packages = ["$package"]
""")

MODEL = Template('''\
"""The model `$name`."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import (
    FloatArray,
    Hours,
    Model,
    Parameter,
    Surroundings,
    Terminal,
    Values,
    Window,
    constant_power,
)


class $class_name(Model):
    """A load that takes the same power at any voltage. Change this to what your device does."""

    interface = $version
    name = "$name"
    kind = "load"
    summary = "a load that holds its power"
    leaves_out = "the inrush when it is switched on; what it draws while switched off"
    parameters = (
        Parameter(
            "power",
            "power",
            "what it takes while on",
            required=True,
            low=0.0,
            bound_reason="a load takes power, it does not give any",
            example="6 W",
            shown_unit="W",
        ),
        Window(
            "works",
            "voltage",
            "the voltages between which it works",
            default=(10.5, 15.0),
            low=0.5,
            high=100.0,
            bound_reason="supplies here are between 0.5 V and 100 V",
            basis="common practice, no source",
            example="10.5 V .. 15 V",
            shown_unit="V",
        ),
        Hours("on", "when it is on", inverse="off"),
    )
    terminals = (Terminal("line", "its supply", main=True),)
    drives = ("wanted",)
    powered = ("line", "works_low")
    demand = "wanted"

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`wanted`: share of each step for which it is on."""
        return {"wanted": site.schedule(p["on"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the line terminal [A]."""
        return (constant_power(v.line, d.wanted * p.power, p.works_low),)
''')

TEST = Template('''\
"""The model keeps every promise of the plugin interface."""

from copperpath.conformance import assert_conforms

from $package.model import $class_name


def test_the_model_conforms() -> None:
    assert_conforms($class_name)
''')

README = Template("""\
# copperpath-$dashed

The model `$name` for copperpath, in `$package/model.py`.

```sh
pip install -e '.[tests]'
pytest                        # holds the model against every promise of the interface
copperpath conform $name
copperpath models $name
```

In a station file: `load my_$name : $name { power 6 W }`. When the figures
stand on a source, say so in `basis`; when they do not, say that.
""")


def write_scaffold(folder: Path, name: str, taken: tuple[str, ...]) -> tuple[Path, ...]:
    """Write the package and return its files.

    Parameters
    ----------
    folder : Path
        Must not exist yet, or be empty.
    name : str
        What station files will call the model.
    taken : tuple of str
        Names of the models that are installed.

    Raises
    ------
    ScaffoldProblem
        If the name or the folder cannot be used; nothing is written then.
    """
    if not NAME.match(name) or keyword.iskeyword(name):
        raise ScaffoldProblem(f"`{name}` is no name for a model: use small letters, digits and _")
    if name in taken:
        raise ScaffoldProblem(f"a model `{name}` is installed already; choose another name")
    if folder.exists() and not folder.is_dir():
        raise ScaffoldProblem(f"{folder} is a file; name a folder")
    if folder.exists() and any(folder.iterdir()):
        raise ScaffoldProblem(f"{folder} is not empty; name a folder that is new")
    package = f"copperpath_{name}"
    words = {
        "name": name,
        "dashed": name.replace("_", "-").strip("-"),
        "package": package,
        "class_name": _class_name(name),
        "version": str(plugin_api.INTERFACE_VERSION),
    }
    texts = {
        "pyproject.toml": PROJECT,
        "README.md": README,
        f"{package}/__init__.py": Template('"""The model `$name` for copperpath."""\n'),
        f"{package}/model.py": MODEL,
        f"tests/test_{name}.py": TEST,
    }
    for place, template in texts.items():
        file = folder / place
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(template.substitute(words), encoding="utf-8")
    return tuple(folder / place for place in texts)


def _class_name(name: str) -> str:
    """`bog_lamp` to `BogLamp`; never a name that the model's file imports."""
    joined = "".join(part.capitalize() for part in name.split("_"))
    return joined + "Device" if joined in (*plugin_api.__all__, "Any") else joined
