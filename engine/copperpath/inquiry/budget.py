"""How much may be solved again to try remedies: enough for any station but a very large one."""

from __future__ import annotations

MOST = 5e7
"""Entries of matrices in all. A station of forty devices takes a thirtieth of it; one of two
thousand is solved some ten times more, which takes a quarter of a minute."""


class SpentError(Exception):
    """No more is solved again."""


class Budget:
    """What has been solved again so far, counted alike for an inquiry and all its edits."""

    def __init__(self, most: float = MOST) -> None:
        self.left = most

    def spend(self, entries: float) -> None:
        """Take some of it.

        Raises
        ------
        SpentError
            If there is nothing left.
        """
        if self.left <= 0.0:
            raise SpentError
        self.left -= entries
