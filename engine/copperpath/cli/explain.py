"""What `copperpath explain` does: mistakes by their code, wiring rules by their name."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

import click

from copperpath.cli.exit_codes import GOOD
from copperpath.cli.say import say


def explain_mistake(code: str | None) -> int:
    """Print what is said about a code, or the list of codes; the exit code."""
    from copperpath.inquiry.rule_catalogue import installed_rules
    from copperpath.report.explain_screen import explain_screen, mistakes_screen
    from copperpath.report.layout import paragraph
    from copperpath.report.mistake_pages import page_files, pages_by_group, read_page
    from copperpath.report.rule_page import rule_screen, rules_screen

    rules = {rule.name: rule for rule in installed_rules().rules}
    if code is None:
        say(mistakes_screen(pages_by_group()) + "\n" + rules_screen(list(rules.values())))
        return GOOD
    if code.lower() in rules:
        say(rule_screen(rules[code.lower()]))
        return GOOD
    files = page_files()
    meant = _meant(code, files)
    if len(meant) != 1:
        near = meant or _near(code, files) or get_close_matches(code.lower(), rules, n=1)
        hint = f"; did you mean {' or '.join(f'`{each}`' for each in near)}?" if near else ""
        lines = paragraph(f"there is no mistake or rule `{code}`{hint}", indent="")
        raise click.ClickException("\n".join([*lines, "`copperpath explain` lists them"]))
    say(explain_screen(read_page(files[meant[0]])))
    return GOOD


def _meant(code: str, codes: Iterable[str]) -> list[str]:
    """The codes that a person can mean by this one, which may lack its first word."""
    code = code.lower()
    return [each for each in codes if code in (each, each.partition("/")[2])]


def _near(code: str, codes: Iterable[str]) -> list[str]:
    """The codes spelled most like it, with and without their first word."""
    by_name = {each.partition("/")[2]: each for each in codes} | {each: each for each in codes}
    near = get_close_matches(code.lower(), by_name, n=4)
    return list(dict.fromkeys(by_name[each] for each in near))[:2]
