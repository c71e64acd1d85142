"""Settings of the documentation; the pages on models are written anew at every build."""

from __future__ import annotations

import sys
from importlib.metadata import version as installed_version
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent / "_extensions"))

project = "copperpath"
author = "the copperpath developers"
copyright = "the copperpath developers"
release = installed_version("copperpath")
version = release

extensions = [
    "myst_parser",
    "mistake_pages",
    "model_pages",
    "rule_pages",
    "library_page",
    "validation_page",
]
myst_enable_extensions = ["deflist", "colon_fence"]
myst_heading_anchors = 3
exclude_patterns = ["_build", "stations", "library", "validation"]

html_theme = "furo"
html_title = "copperpath"
