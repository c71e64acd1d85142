"""A page for one wiring rule, from its declarations: Markdown for the docs, text for `explain`."""

from __future__ import annotations

from collections.abc import Sequence

from copperpath.plugin_api import Rule
from copperpath.report.declared import sentence
from copperpath.report.layout import paragraph
from copperpath.report.rule_groups import rules_by_group

LEVELS = {
    "danger": "danger (hazard or damage)",
    "fail": "fail (will not do the job)",
    "warn": "warn (thin margin or likely trouble)",
    "note": "note",
}


def rule_page(rule: type[Rule]) -> str:
    """The page of one rule."""
    parts = [f"# `{rule.name}`"]
    for title, words in rule_words(rule):
        parts += [f"## {title}" if title else "", words]
    parts.append(f"```text\n{_example(rule)}\n```")
    return "\n\n".join(part for part in parts if part) + "\n"


def rules_index(rules: Sequence[type[Rule]]) -> str:
    """The page that lists the rules, with the hidden table of contents that Sphinx wants."""
    parts = [
        "# Wiring rules",
        "Every rule that comes along, written from its own declarations. `copperpath explain RULE` "
        "prints the same on the screen. [](../../checking.md) says how they are asked.",
    ]
    for title, group in rules_by_group(rules).items():
        rows = [
            f"| [`{rule.name}`]({rule.name}.md) | {', '.join(rule.levels)} "
            f"| {sentence(rule.summary)} |"
            for rule in group
        ]
        head = ["| rule | levels | what must be so |", "|---|---|---|"]
        parts += [f"## {title}", "\n".join([*head, *rows])]
    names = "\n".join(rule.name for rule in rules)
    return "\n\n".join(parts) + f"\n\n```{{toctree}}\n:hidden:\n\n{names}\n```\n"


def rule_screen(rule: type[Rule]) -> str:
    """The same on a screen of 80 columns."""
    lines = [rule.name]
    for title, words in rule_words(rule):
        lines += ["", *([title] if title else []), *paragraph(words)]
    lines += ["", *(f"  {line}" for line in _example(rule).split("\n"))]
    return "\n".join(lines) + "\n"


def rules_screen(rules: Sequence[type[Rule]]) -> str:
    """The names of all rules under their headings, for the list of what can be explained."""
    lines: list[str] = []
    for title, group in rules_by_group(rules).items():
        names = ", ".join(rule.name for rule in group)
        lines += [f"Wiring rules: {title.lower()}", *paragraph(names), ""]
    return "\n".join([*lines, "`copperpath explain RULE` says what one of them looks at."]) + "\n"


def rule_words(rule: type[Rule]) -> list[tuple[str, str]]:
    """What is said of a rule, with the heading over each piece; "" for none."""
    limit = rule.limit_from if not rule.source else f"{rule.limit_from}: {rule.source}"
    if rule.limit_from == "common practice" and not rule.source:
        limit = "common practice, no source"
    words = [
        ("", sentence(rule.summary)),
        ("Why", sentence(rule.why)),
        ("How", sentence(" ".join((rule.__doc__ or "").split()))),
        ("Where its limit comes from", sentence(limit)),
        ("Levels", sentence(", ".join(LEVELS[level] for level in rule.levels))),
    ]
    if rule.asks:
        ask = "It is a question of the checklist. The file answers it where it is true:"
        return [*words, ("Answering it", ask)]
    stand = "Where its finding is known and may stand, the file says so with the reason:"
    return [*words, ("Letting it stand", stand)]


def _example(rule: type[Rule]) -> str:
    if rule.asks:
        return f'confirm "{rule.asks}", "how it was done"'
    return f'accept "{rule.name}", "why it may stand"'
