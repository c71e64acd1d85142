"""From parser trees to the nodes of statements; values and names are in `tree_to_values`.

These two are the only modules that look into a tree of lark.

Literals were checked before (see `token_mistakes`), so nothing can go wrong here.
"""

from __future__ import annotations

from collections.abc import Callable

from lark import Token, Tree

from copperpath_grammar.nodes import (
    AssemblyNode,
    AssemblyParameter,
    BondNode,
    CableNode,
    CaseNode,
    Changed,
    ChangeNode,
    Claim,
    ComparisonClaim,
    DataNode,
    DeviceNode,
    ExposeNode,
    FileNode,
    InCases,
    IncludeNode,
    Inside,
    KitNode,
    LetNode,
    NeverNode,
    PartNode,
    PoweredClaim,
    Removed,
    RequireNode,
    Statement,
    StationNode,
    VerdictClaim,
    WithoutNode,
)
from copperpath_grammar.source import Source, Span
from copperpath_grammar.tree_to_values import (
    Child,
    body_node,
    entry_node,
    expression_node,
    name_node,
    reference_node,
    span_in,
    text_node,
    trees_in,
)
from copperpath_grammar.value_nodes import Expression, Name


def file_node(tree: Tree[Token], source: Source) -> FileNode:
    """The node of a whole file."""
    statements = tuple(statement_node(child, source) for child in trees_in(tree))
    return FileNode(statements, Span(source, 0, len(source.text)))


def statement_node(tree: Tree[Token], source: Source) -> Statement:
    """The node of one statement."""
    return _STATEMENTS[str(tree.data)](tree, source)


def inside_node(tree: Tree[Token], source: Source) -> Inside:
    """The node of one line of an assembly."""
    return _INSIDE[str(tree.data)](tree, source)


def changed_node(tree: Tree[Token], source: Source) -> Changed:
    """The node of one line of a case."""
    return _CHANGED[str(tree.data)](tree, source)


# ---- statements -----------------------------------------------------------------------------


def _station(tree: Tree[Token], source: Source) -> StationNode:
    title, body = tree.children
    return StationNode(text_node(title, source), body_node(body, source), span_in(tree, source))


def _part(tree: Tree[Token], source: Source) -> PartNode:
    name, model, body = tree.children
    names = (name_node(name, source), name_node(model, source))
    return PartNode(*names, body_node(body, source), span_in(tree, source))


def _device(tree: Tree[Token], source: Source) -> DeviceNode:
    kind, counted, model, body = tree.children
    name, count = _counted(counted, source)
    names = (name_node(kind, source), name, name_node(model, source))
    return DeviceNode(*names, body_node(body, source), span_in(tree, source), count)


def _kit(tree: Tree[Token], source: Source) -> KitNode:
    counted, assembly, body = tree.children
    name, count = _counted(counted, source)
    where = span_in(tree, source)
    return KitNode(name, name_node(assembly, source), body_node(body, source), where, count)


def _counted(child: Child, source: Source) -> tuple[Name, Expression | None]:
    """`handheld[6]` to its name and how many."""
    assert isinstance(child, Tree)
    name, *rest = child.children
    return name_node(name, source), expression_node(rest[0], source) if rest else None


def _cable(tree: Tree[Token], source: Source) -> CableNode:
    start, end, body = tree.children
    ends = (reference_node(start, source), reference_node(end, source))
    return CableNode(*ends, body_node(body, source), span_in(tree, source))


def _let(tree: Tree[Token], source: Source) -> LetNode:
    name, value = tree.children
    return LetNode(name_node(name, source), expression_node(value, source), span_in(tree, source))


def _require(tree: Tree[Token], source: Source) -> RequireNode:
    child, *rest = trees_in(tree)
    claim = _CLAIMS[str(child.data)](child, source)
    cases = _in_cases(rest[0], source) if rest else None
    span = claim.span if cases is None else claim.span.to(cases.span)
    return RequireNode(claim, " ".join(span.text.split()), span_in(tree, source), cases)


def _in_cases(tree: Tree[Token], source: Source) -> InCases:
    tokens = [child for child in tree.children if isinstance(child, Token)]
    word = next((name_node(token, source) for token in tokens if token.type == "JOINER"), None)
    titles = tuple(text_node(token, source) for token in tokens if token.type == "TEXT")
    return InCases(word, titles, span_in(tree, source))


def _never(tree: Tree[Token], source: Source) -> NeverNode:
    members = tuple(reference_node(child, source) for child in trees_in(tree))
    return NeverNode(members, span_in(tree, source))


def _bond(tree: Tree[Token], source: Source) -> BondNode:
    start, joiner, end = tree.children
    ends = (reference_node(start, source), name_node(joiner, source), reference_node(end, source))
    return BondNode(*ends, span_in(tree, source))


def _data(tree: Tree[Token], source: Source) -> DataNode:
    start, end, *rest = tree.children
    ends = (reference_node(start, source), reference_node(end, source))
    return DataNode(*ends, body_node(rest[0], source) if rest else None, span_in(tree, source))


def _include(tree: Tree[Token], source: Source) -> IncludeNode:
    path = tree.children[-1]
    return IncludeNode(len(tree.children) > 1, text_node(path, source), span_in(tree, source))


def _assembly(tree: Tree[Token], source: Source) -> AssemblyNode:
    name, *between, body = tree.children
    parameters = tuple(_parameter(each, source) for part in between for each in trees_in(part))
    lines = tuple(inside_node(line, source) for line in trees_in(body))
    return AssemblyNode(name_node(name, source), parameters, lines, span_in(tree, source))


def _parameter(tree: Tree[Token], source: Source) -> AssemblyParameter:
    name, *rest = tree.children
    default = expression_node(rest[0], source) if rest else None
    return AssemblyParameter(name_node(name, source), default, span_in(tree, source))


def _expose(tree: Tree[Token], source: Source) -> ExposeNode:
    terminal, target = tree.children
    names = (name_node(terminal, source), reference_node(target, source))
    return ExposeNode(*names, span_in(tree, source))


def _case(tree: Tree[Token], source: Source) -> CaseNode:
    title, body = tree.children
    lines = tuple(changed_node(line, source) for line in trees_in(body))
    return CaseNode(text_node(title, source), lines, span_in(tree, source))


def _change(tree: Tree[Token], source: Source) -> ChangeNode:
    start, *end, body = tree.children
    ends = (reference_node(start, source), reference_node(end[0], source) if end else None)
    return ChangeNode(*ends, body_node(body, source), span_in(tree, source))


def _without(tree: Tree[Token], source: Source) -> WithoutNode:
    return WithoutNode(
        tuple(_removed(one, source) for one in trees_in(tree)), span_in(tree, source)
    )


def _removed(tree: Tree[Token], source: Source) -> Removed:
    start, *end = tree.children
    ends = (reference_node(start, source), reference_node(end[0], source) if end else None)
    return Removed(*ends, span_in(tree, source))


_STATEMENTS: dict[str, Callable[[Tree[Token], Source], Statement]] = {
    "station": _station,
    "part": _part,
    "device": _device,
    "kit": _kit,
    "cable": _cable,
    "let": _let,
    "require": _require,
    "never": _never,
    "bond": _bond,
    "data": _data,
    "include": _include,
    "assembly": _assembly,
    "case": _case,
}
_INSIDE: dict[str, Callable[[Tree[Token], Source], Inside]] = {
    "let": _let,
    "device": _device,
    "kit": _kit,
    "cable": _cable,
    "require": _require,
    "never": _never,
    "bond": _bond,
    "data": _data,
    "expose": _expose,
}
_CHANGED: dict[str, Callable[[Tree[Token], Source], Changed]] = {
    "setting": entry_node,
    "let": _let,
    "part": _part,
    "device": _device,
    "kit": _kit,
    "cable": _cable,
    "never": _never,
    "bond": _bond,
    "data": _data,
    "change": _change,
    "without": _without,
}


def _powered(tree: Tree[Token], source: Source) -> PoweredClaim:
    subject = reference_node(tree.children[0], source)
    # The words themselves are not kept in the tree: `throughout` leaves the subject alone.
    rest = tree.children[1:]
    duration = expression_node(rest[0], source) if rest else None
    return PoweredClaim(subject, duration, span_in(tree, source))


def _comparison(tree: Tree[Token], source: Source) -> ComparisonClaim:
    subject, operator, limit = tree.children
    return ComparisonClaim(
        reference_node(subject, source),
        str(operator),
        expression_node(limit, source),
        span_in(tree, source),
    )


def _verdict(tree: Tree[Token], source: Source) -> VerdictClaim:
    return VerdictClaim(name_node(tree.children[0], source), span_in(tree, source))


_CLAIMS: dict[str, Callable[[Tree[Token], Source], Claim]] = {
    "powered": _powered,
    "comparison": _comparison,
    "verdict": _verdict,
}
