"""From our own values to those of the Language Server Protocol."""

from __future__ import annotations

from collections.abc import Callable

from lsprotocol import types
from pygls.uris import from_fs_path

from copperpath.editor.completion import Completion
from copperpath.editor.contents import Content
from copperpath.editor.hover import Hover
from copperpath.editor.mistakes import Mistake
from copperpath.editor.positions import Position, Stretch, position_at, stretch_of
from copperpath.editor.rename import Edit
from copperpath_grammar.source import Source, Span

UriOf = Callable[[str], str]
"""The address of a file by the name that messages have for it."""

COMPLETION_KINDS = {
    "statement": types.CompletionItemKind.Keyword,
    "model": types.CompletionItemKind.Class,
    "part": types.CompletionItemKind.Module,
    "device": types.CompletionItemKind.Variable,
    "entry": types.CompletionItemKind.Property,
    "unit": types.CompletionItemKind.Unit,
    "value": types.CompletionItemKind.Value,
    "word": types.CompletionItemKind.EnumMember,
    "terminal": types.CompletionItemKind.Field,
    "case": types.CompletionItemKind.Text,
}
SYMBOL_KINDS = {
    "station": types.SymbolKind.Namespace,
    "part": types.SymbolKind.Class,
    "device": types.SymbolKind.Object,
    "kit": types.SymbolKind.Object,
    "cable": types.SymbolKind.Field,
    "value": types.SymbolKind.Constant,
    "assembly": types.SymbolKind.Module,
    "case": types.SymbolKind.Event,
    "other": types.SymbolKind.Property,
}


def our_position(position: types.Position) -> Position:
    """A place as the editor sends it."""
    return Position(position.line, position.character)


def lsp_range(stretch: Stretch) -> types.Range:
    """A stretch as the editor wants it."""
    return types.Range(
        types.Position(stretch.start.line, stretch.start.character),
        types.Position(stretch.end.line, stretch.end.character),
    )


def span_range(span: Span) -> types.Range:
    """The same of a span."""
    return lsp_range(stretch_of(span))


def uri_of_path(path: str) -> str:
    """The address of a file."""
    return from_fs_path(path) or path


def location(span: Span, uri_of: UriOf) -> types.Location:
    """A span in its file."""
    return types.Location(uri_of(span.source.name), span_range(span))


def diagnostic(mistake: Mistake, uri_of: UriOf) -> types.Diagnostic:
    """A mistake; every one keeps the station from being built, so all are errors."""
    related = [
        types.DiagnosticRelatedInformation(
            types.Location(uri_of(each.file), lsp_range(each.stretch)), each.text
        )
        for each in mistake.related
    ]
    return types.Diagnostic(
        lsp_range(mistake.stretch),
        mistake.message,
        severity=types.DiagnosticSeverity.Error,
        code=mistake.code,
        source="copperpath",
        related_information=related or None,
    )


def completion_list(found: Completion, source: Source) -> types.CompletionList:
    """Proposals, in our order."""
    place = lsp_range(
        Stretch(position_at(source, found.start), position_at(source, found.end)),
    )
    return types.CompletionList(
        is_incomplete=False,
        items=[
            types.CompletionItem(
                each.label,
                kind=COMPLETION_KINDS[each.sort],
                detail=each.detail or None,
                documentation=markdown(each.help) if each.help else None,
                sort_text=f"{index:04}",
                text_edit=types.TextEdit(place, each.insert or each.label),
            )
            for index, each in enumerate(found.suggestions)
        ],
    )


def markdown(text: str) -> types.MarkupContent:
    """A text with Markdown in it."""
    return types.MarkupContent(types.MarkupKind.Markdown, text)


def lsp_hover(found: Hover) -> types.Hover:
    """What is said about a word."""
    return types.Hover(markdown(found.text), span_range(found.span))


def document_symbol(content: Content) -> types.DocumentSymbol:
    """One thing in the list of contents."""
    return types.DocumentSymbol(
        content.label or "-",
        SYMBOL_KINDS[content.sort],
        span_range(content.whole),
        span_range(content.name),
        detail=content.detail,
        children=[document_symbol(each) for each in content.inner],
    )


def text_edits(edits: list[Edit]) -> list[types.TextEdit]:
    """Changes of one file."""
    return [types.TextEdit(span_range(edit.span), edit.text) for edit in edits]
