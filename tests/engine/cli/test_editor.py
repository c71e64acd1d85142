"""`copperpath editor` called by people, or without its libraries, says so in words."""

from __future__ import annotations

import importlib.util
import subprocess
import sys
from importlib.machinery import ModuleSpec

import pytest

from copperpath.cli.main import exit_code


def test_missing_libraries_are_named_with_the_remedy(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    find = importlib.util.find_spec

    def without(name: str, package: str | None = None) -> ModuleSpec | None:
        return None if name == "pygls" else find(name, package)

    monkeypatch.setattr("copperpath.cli.editor_command.find_spec", without)
    assert exit_code(["editor"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "pip install 'copperpath[editor]'" in err
    assert "Traceback" not in err
    assert max(map(len, err.splitlines())) <= 80


def test_a_person_who_calls_it_is_told_what_it_is_for(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    assert exit_code(["editor"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "language server for files that end in `.station`" in err
    assert max(map(len, err.splitlines())) <= 80


def test_importing_the_package_and_checking_a_file_imports_no_protocol_library() -> None:
    code = (
        "import sys, copperpath, copperpath.cli.main, copperpath.pipeline\n"
        "import copperpath.editor.completion, copperpath.editor.rename, copperpath.editor.hover\n"
        "print([name for name in sys.modules if name.startswith(('pygls', 'lsprotocol'))])\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"
