"""Networks that this version cannot solve are refused before anything is computed."""

from __future__ import annotations

from copperpath.finding import Finding
from copperpath.network.checks import REFUSED


class NetworkRefused(Exception):
    """Carries the findings that say why."""

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        super().__init__("; ".join(f"{f.message}: {f.remedy}" for f in findings))
        self.findings = findings


def refuse_unsolvable(findings: tuple[Finding, ...]) -> None:
    """Raise if a finding says that the network cannot be solved."""
    against = tuple(finding for finding in findings if finding.rule in REFUSED)
    if against:
        raise NetworkRefused(against)
