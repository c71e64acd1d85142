"""The suite that any author of a model runs on it: `assert_conforms(MyModel)` in a test."""

from copperpath.conformance.breach import Breach, Examination, Outcome
from copperpath.conformance.suite import CHECKS, assert_conforms, examine

__all__ = ["CHECKS", "Breach", "Examination", "Outcome", "assert_conforms", "examine"]
