"""The shape of the code that the house style asks for."""

from __future__ import annotations

import ast
import subprocess
import sys
from importlib.metadata import EntryPoint, entry_points
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
MODULES = sorted(
    file
    for folder in ("grammar", "engine", "plugins")
    for file in (ROOT / folder).rglob("*.py")
    if "__pycache__" not in file.parts
)
HEAVY = ("matplotlib", "pandas", "scipy", "numba", "pvlib")


def name(file: Path) -> str:
    """Path under the checkout."""
    return str(file.relative_to(ROOT))


@pytest.mark.parametrize("file", MODULES, ids=name)
def test_a_module_has_at_most_400_lines_and_says_what_it_is_for(file: Path) -> None:
    text = file.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 400
    assert not text.strip() or ast.get_docstring(ast.parse(text))


@pytest.mark.parametrize("file", MODULES, ids=name)
def test_a_function_is_shorter_than_60_lines(file: Path) -> None:
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.FunctionDef):
            length = (node.end_lineno or 0) - node.lineno + 1
            assert length < 60, f"{node.name} has {length} lines"


@pytest.mark.parametrize("file", [m for m in MODULES if m.name == "__init__.py"], ids=name)
def test_a_package_only_passes_names_on(file: Path) -> None:
    for node in ast.parse(file.read_text(encoding="utf-8")).body:
        fine = isinstance(node, ast.Import | ast.ImportFrom) or (
            isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
        )
        if isinstance(node, ast.Assign):
            targets = [target.id for target in node.targets if isinstance(target, ast.Name)]
            fine = targets == ["__all__"]
        if isinstance(node, ast.FunctionDef):
            # A name that costs a heavy import is passed on only when it is asked for.
            fine = node.name in ("__getattr__", "__dir__")
        if isinstance(node, ast.If):
            fine = ast.unparse(node.test) == "TYPE_CHECKING"
        assert fine, f"line {node.lineno}: {ast.unparse(node)[:60]}"


def test_every_model_has_a_page() -> None:
    from copperpath.report.model_page import model_page

    found = list(entry_points(group="copperpath.models"))
    assert len(found) >= 8
    for point in found:
        page = model_page(point.load())
        assert page.startswith(f"# `{point.name}`")
        assert "## Parameters" in page


RULES = sorted(entry_points(group="copperpath.rules"), key=lambda point: point.name)


@pytest.mark.parametrize("point", RULES, ids=lambda point: point.name)
def test_every_rule_has_a_page_made_of_complete_declarations(point: EntryPoint) -> None:
    from copperpath.plugin_api import Rule
    from copperpath.report.rule_page import LEVELS, rule_page, rule_screen

    rule: type[Rule] = point.load()
    assert rule.name == point.name.replace("_", "-")
    assert rule.summary
    assert rule.why
    assert rule.levels
    assert set(rule.levels) <= set(LEVELS)
    assert rule.source or rule.limit_from in ("common practice", "from memory")
    # The page says how it is done in the class's own words, not in those of the base.
    assert rule.__doc__
    assert rule.__doc__ != Rule.__doc__
    page = rule_page(rule)
    assert page.startswith(f"# `{rule.name}`\n")
    for title in ("Why", "How", "Where its limit comes from", "Levels"):
        assert f"\n## {title}\n" in page
    assert max(len(line) for line in rule_screen(rule).splitlines()) <= 80


def test_each_rule_that_comes_along_is_listed_under_one_heading() -> None:
    from copperpath.report.rule_groups import GROUPS

    listed = [name for names in GROUPS.values() for name in names]
    assert sorted(listed) == sorted(point.name.replace("_", "-") for point in RULES)


def test_check_loads_none_of_the_heavy_libraries() -> None:
    """It must feel instant, and these take most of a second each."""
    example = ROOT / "docs" / "stations" / "heron_bog.station"
    code = (
        "import sys\n"
        "from copperpath.cli.main import exit_code\n"
        f"assert exit_code(['check', {str(example)!r}]) in (0, 1)\n"
        f"print(*[name for name in {HEAVY!r} if name in sys.modules])\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, encoding="utf-8", check=False
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[-1] == ""


def test_nothing_committed_names_the_machine_it_was_made_on() -> None:
    # Put together here so that this file does not find itself.
    places = ["/" + word + "/" for word in ("work", "opt", "root")] + ["/" + "tmp" + "/"]
    kept = (".py", ".md", ".station", ".toml", ".lark", ".csv", ".in", ".out")
    found = [ROOT / "README.md", ROOT / "DEVELOPERS.md", ROOT / "pyproject.toml"]
    for folder in ("docs", "engine", "grammar", "plugins", "tests"):
        found += [file for file in (ROOT / folder).rglob("*") if file.suffix in kept]
    assert len(found) > 100
    for file in found:
        text = file.read_text(encoding="utf-8", errors="replace")
        for place in places:
            assert place not in text, f"{name(file)} names {place}"
