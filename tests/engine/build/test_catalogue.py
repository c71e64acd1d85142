"""The catalogue of models: installed ones, a file that is named, and what is wrong with a model."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from support.building import SITE, build_text

from copperpath.catalogue import Catalogue, PluginProblem, installed_catalogue
from copperpath.catalogue_checks import problems_of
from copperpath.plugin_api import Hours, Lag, Latch, Model, Parameter, Terminal, Ways
from copperpath_grammar import Diagnostic

LAMP = """
from copperpath.plugin_api import Model, Parameter, Terminal


class Lamp(Model):
    interface = 1
    name = "lamp"
    kind = "load"
    summary = "a lamp"
    parameters = (
        Parameter("amps", "current", "what it draws", required=True, example="0.2 A"),
    )
    terminals = (Terminal("line", "its supply", main=True),)
    derived = DERIVED

    @staticmethod
    def derive(p):
        return BODY

    @staticmethod
    def law(v, x, d, p):
        return (p.amps,)
"""
USE = SITE + (
    "storage pack : lfp { capacity 12 Ah }\nload light : lamp { amps 0.2 A }\n"
    "cable pack -> light { length 1 m; wire 1 mm2 }\n"
)


def lamp_file(folder: Path, derived: str = "()", body: str = "{}") -> Path:
    """A plugin file with one model."""
    path = folder / "lamp.py"
    path.write_text(LAMP.replace("DERIVED", derived).replace("BODY", body))
    return path


def test_the_installed_models_are_all_in_order() -> None:
    catalogue = installed_catalogue()
    assert "lfp" in catalogue.names
    for name in catalogue.names:
        loaded = catalogue.load(name)
        assert not isinstance(loaded, PluginProblem), str(loaded)


def test_names_are_listed_without_loading_anything() -> None:
    from importlib.metadata import EntryPoint

    from copperpath.catalogue import Offer

    point = EntryPoint("ghost", "no_such_module:Ghost", "copperpath.models")
    catalogue = Catalogue({"ghost": (Offer("ghost", "ghosts", entry_point=point),)})
    assert catalogue.names == ("ghost",)
    problem = catalogue.load("ghost")
    assert isinstance(problem, PluginProblem)
    assert "model `ghost` from ghosts: cannot be loaded" in str(problem)


def test_a_model_from_a_named_file_can_be_used(tmp_path: Path) -> None:
    catalogue = installed_catalogue().with_path(lamp_file(tmp_path))
    assert catalogue.problems == ()
    result = build_text(USE, None, catalogue)
    assert result.diagnostics == ()
    assert result.station is not None
    assert result.station.device("light").values["amps"] == 0.2


@pytest.mark.parametrize(
    ("derived", "body", "code", "words"),
    [
        ("('x',)", "{}", "build/model-fails", "it gives no x"),
        ("('x',)", "{'x': 1 / 0}", "build/model-fails", "ZeroDivisionError"),
        ("('x',)", "{'x': float('inf')}", "build/model-fails", "x is infinite"),
        ("('amps',)", "{}", "build/broken-model", "derived `amps` is a parameter already"),
    ],
)
def test_a_model_that_stumbles_is_named(
    tmp_path: Path, derived: str, body: str, code: str, words: str
) -> None:
    catalogue = installed_catalogue().with_path(lamp_file(tmp_path, derived, body))
    (problem,) = build_text(USE, None, catalogue).diagnostics
    assert problem.code == code
    assert words in problem.message


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("x = (", "SyntaxError"),
        ("raise SystemExit(3)", "SystemExit"),
        ("x = 1", "holds no subclass of `Model`"),
    ],
)
def test_a_file_that_cannot_be_used_is_a_problem(tmp_path: Path, content: str, words: str) -> None:
    path = tmp_path / "bad.py"
    path.write_text(content)
    catalogue = installed_catalogue().with_path(path)
    (problem,) = catalogue.problems
    assert words in str(problem)
    (mistake,) = build_text(USE, None, catalogue).diagnostics
    assert words in mistake.help


def test_what_is_no_python_file_is_a_problem(tmp_path: Path) -> None:
    for path in (tmp_path, tmp_path / "none.py", tmp_path / "x.txt"):
        (problem,) = installed_catalogue().with_path(path).problems
        assert "is not a Python file" in str(problem)


def test_two_models_of_one_name_are_a_problem(tmp_path: Path) -> None:
    path = lamp_file(tmp_path)
    catalogue = Catalogue().with_path(path).with_path(path)
    assert "installed already" in str(catalogue.problems[0])
    assert isinstance(catalogue.load("lamp"), PluginProblem)


class Good(Model):
    """A model with nothing wrong."""

    interface = 1
    name = "good"
    kind = "load"
    summary = "a good one"
    parameters = (Parameter("amps", "current", "what it draws", required=True),)
    terminals = (Terminal("line", "its supply", main=True),)

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (p.amps,)


AMPS = Good.parameters[0]


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"interface": 7}, "was written for version 7 of the plugin interface; this program has"),
        ({"interface": 0}, "was written for version 0"),
        ({"interface": "1"}, "no whole number"),
        ({"interface": True}, "no whole number"),
        ({"name": "No Good"}, "`name`"),
        ({"kind": "thing"}, "`kind`"),
        ({"summary": ""}, "`summary`"),
        ({"law": None}, "neither a law nor links"),
        ({"terminals": ()}, "no terminal"),
        ({"terminals": (Terminal("a", "x"), Terminal("a", "x"))}, "declared 2 times"),
        ({"terminals": (Terminal("a", ""),)}, "a terminal has no help"),
        ({"terminals": (Terminal("a", "x", seeking=True),)}, "needs `floor`"),
        ({"terminals": (Ways("count", "x"),)}, "numbered ways are only for blocks"),
        ({"parameters": (AMPS, AMPS)}, "declared 2 times"),
        ({"parameters": (Parameter("mass", "mass", "x"),)}, "known to every device"),
        ({"parameters": (Parameter("a", "current", ""),)}, "has no help"),
        ({"parameters": (Parameter("a", "current", "x", default=1.0),)}, "`basis` must say"),
        ({"parameters": (Parameter("a", "current", "x", low=1.0),)}, "no `bound_reason`"),
        ({"parameters": (Parameter("a", "current", "x", only_with=("b", "c")),)}, "no choice"),
        ({"parameters": (Parameter("a", "current", "x", shown_unit="V"),)}, "is no current"),
        ({"parameters": (Parameter("a", "current", "x", shown_unit="zz"),)}, "unknown unit"),
        ({"parameters": (Parameter("a", "pressure", "x"),)}, "unknown dimension"),
        ({"parameters": ("a",)}, "not a declaration"),
        ({"parameters": (Hours("on", "x", inverse="on"),)}, "declared 2 times"),
        ({"states": (Latch("cold"),)}, "states need `watch`"),
        ({"states": (Latch("cold", set_after="wait"),)}, "refers to `wait`"),
        (
            {"states": (Lag("cell", tau="amps", initial="air"),)},
            "which is neither a drive nor a parameter",
        ),
        ({"drives": ("level",)}, "filled in by the engine"),
        ({"powered": ("line", "least")}, "refers to `least`"),
        ({"demand": "wanted"}, "refers to `wanted`"),
        ({"pushes": "top"}, "refers to `top`"),
        ({"bridged": ("own", "plugged")}, "`bridged` refers to `own`"),
        ({"bridged": ("own", "plugged")}, "`bridged` refers to `plugged`"),
        ({"bridged": ("own", "plugged")}, "`bridged` needs `powered`"),
    ],
)
def test_what_is_wrong_with_a_model_is_told_to_its_author(
    changes: dict[str, Any], words: str
) -> None:
    assert problems_of(Good) == ()
    bad = type("Bad", (Good,), {"interface": 1, **changes})
    assert words in " / ".join(problems_of(bad))


def test_a_version_is_not_inherited() -> None:
    """Else every model would claim the version of the day."""
    (problem,) = problems_of(type("Silent", (Good,), {}))
    assert "does not say for which version" in problem
    assert "`interface = 1` in its class" in problem


PORCH = SITE + (
    "storage pack : lfp { capacity 12 Ah }\n"
    "part old_lamp : lamp { amps 0.2 A }\n"
    "load hall : lamp { amps 0.2 A }\nload porch : old_lamp { }\nload stair : lamp { amps 1 A }\n"
    "cable pack -> hall { length 1 m; wire 1 mm2 }\n"
    "cable pack -> porch { length 1 m; wire 1 mm2 }\n"
    "cable pack -> stair { length 1 m; wire 1 mm2 }\n"
)


def refused(folder: Path, line: str) -> Diagnostic:
    """The one thing said of a station whose lamps have this line in place of their version."""
    path = lamp_file(folder)
    path.write_text(path.read_text().replace("interface = 1", line))
    catalogue = installed_catalogue().with_path(path)
    assert catalogue.problems == ()
    (problem,) = build_text(PORCH, None, catalogue).diagnostics
    return problem


def test_a_model_of_another_version_is_told_as_such_and_not_as_unknown(tmp_path: Path) -> None:
    problem = refused(tmp_path, "interface = 2")
    assert problem.code == "build/other-version"
    assert problem.message == (
        f"model `lamp` from {tmp_path / 'lamp.py'} is there, but it was written for version 2 of "
        "the plugin interface; this program has version 1"
    )


def test_the_devices_that_lose_their_model_are_named_through_parts_too(tmp_path: Path) -> None:
    problem = refused(tmp_path, "interface = 2")
    assert problem.help.startswith("`hall`, `porch` and `stair` have no model: update ")
    assert len(problem.further) == 2


def test_a_model_that_does_not_say_its_version_is_refused_in_the_same_way(tmp_path: Path) -> None:
    problem = refused(tmp_path, "")
    assert problem.code == "build/other-version"
    assert "it does not say for which version of the plugin interface" in problem.message
