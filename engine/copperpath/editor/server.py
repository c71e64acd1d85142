"""The language server: the editor's requests handed to the functions of this folder.

The only file here, with `protocol`, that knows the library which speaks the protocol.
"""

from __future__ import annotations

import asyncio
import sys
from collections.abc import Generator
from importlib.metadata import version
from pathlib import Path
from typing import Any
from typing import Protocol as TypingProtocol

from lsprotocol import types
from pygls.exceptions import JsonRpcInvalidParams
from pygls.lsp.server import LanguageServer
from pygls.protocol import LanguageServerProtocol, lsp_method
from pygls.uris import to_fs_path

from copperpath.catalogue import Catalogue
from copperpath.editor import protocol
from copperpath.editor.completion import complete
from copperpath.editor.contents import contents
from copperpath.editor.definition import definitions, references
from copperpath.editor.desk import Desk
from copperpath.editor.formatting import format_edits
from copperpath.editor.hover import hover
from copperpath.editor.mistakes import Mistake
from copperpath.editor.positions import offset_at
from copperpath.editor.reading import Reading
from copperpath.editor.rename import RenameRefused, renamable_at, rename
from copperpath.editor.shared import forget, path_of

QUIET_S = 0.1
"""So long nothing must have been typed before a text is checked."""

TRIGGERS = [".", ":", " ", '"']


class AtPlace(TypingProtocol):
    """What requests about a place in a text have in common."""

    text_document: types.TextDocumentIdentifier
    position: types.Position


class _Protocol(LanguageServerProtocol):
    """The protocol with places in UTF-16 code units, which every editor knows."""

    @lsp_method(types.INITIALIZE)
    def lsp_initialize(
        self, params: types.InitializeParams
    ) -> Generator[Any, Any, types.InitializeResult]:
        """As the library does it, with no other way to count letters on offer."""
        if params.capabilities.general is not None:
            params.capabilities.general.position_encodings = None
        return (yield from super().lsp_initialize(params))


class StationServer(LanguageServer):
    """The server with the texts that are open in the editor."""

    def __init__(self, catalogue: Catalogue) -> None:
        super().__init__(
            "copperpath",
            version("copperpath"),
            text_document_sync_kind=types.TextDocumentSyncKind.Full,
            protocol_cls=_Protocol,
        )
        self.desk = Desk(catalogue)
        self.waiting: dict[str, asyncio.TimerHandle] = {}

    def reading(self, uri: str) -> Reading:
        """The text at an address, as the editor has it."""
        path = to_fs_path(uri) if uri.startswith("file:") else None
        folder = Path(path).parent if path is not None else None
        text = self.workspace.get_text_document(uri).source
        return self.desk.put(path or uri, text, folder)

    def place(self, params: AtPlace) -> tuple[Reading, int]:
        """The text and the offset that a request is about."""
        reading = self.reading(params.text_document.uri)
        return reading, offset_at(reading.source, protocol.our_position(params.position))

    def check(self, uri: str) -> None:
        """Check a text now."""
        self.desk.check(self.reading(uri).source.name, self.publish)

    def check_soon(self, uri: str) -> None:
        """Check a text as soon as nothing more is typed."""
        self.forget(uri)
        loop = asyncio.get_running_loop()
        self.waiting[uri] = loop.call_later(QUIET_S, self.check, uri)

    def forget(self, uri: str) -> None:
        """Take back a check that has not begun."""
        waiting = self.waiting.pop(uri, None)
        if waiting is not None:
            waiting.cancel()

    def publish(self, name: str, mistakes: list[Mistake]) -> None:
        """Tell the editor the mistakes of a file."""
        found = [protocol.diagnostic(each, self.uri_of) for each in mistakes]
        self.text_document_publish_diagnostics(
            types.PublishDiagnosticsParams(self.uri_of(name), found)
        )

    def uri_of(self, name: str) -> str:
        """The address of a file or unsaved text by its name."""
        path = path_of(name)
        return protocol.uri_of_path(str(path)) if path is not None else name


def make_server(catalogue: Catalogue) -> StationServer:
    """A server with all that it can do, ready to be started."""
    server = StationServer(catalogue)
    _follow_texts(server)
    _answer_about_texts(server)
    _answer_about_names(server)
    return server


def serve(catalogue: Catalogue) -> None:
    """Speak with an editor over standard input and output until it says goodbye."""
    out = sys.stdout.buffer
    sys.stdout = sys.stderr  # nothing but the protocol may reach the editor
    make_server(catalogue).start_io(stdout=out)


def _follow_texts(server: StationServer) -> None:
    """Texts opened, changed, saved and closed."""

    @server.feature(types.TEXT_DOCUMENT_DID_OPEN)
    def opened(params: types.DidOpenTextDocumentParams) -> None:
        server.check(params.text_document.uri)

    @server.feature(types.TEXT_DOCUMENT_DID_CHANGE)
    def changed(params: types.DidChangeTextDocumentParams) -> None:
        server.check_soon(params.text_document.uri)

    @server.feature(types.TEXT_DOCUMENT_DID_SAVE)
    def saved(params: types.DidSaveTextDocumentParams) -> None:
        # Another open text may name the file that was saved.
        forget()
        for name in list(server.desk.readings):
            server.desk.refresh(name)
            server.desk.check(name, server.publish)

    @server.feature(types.TEXT_DOCUMENT_DID_CLOSE)
    def closed(params: types.DidCloseTextDocumentParams) -> None:
        uri = params.text_document.uri
        server.forget(uri)
        name = to_fs_path(uri) if uri.startswith("file:") else None
        server.desk.close(name or uri, server.publish)


def _answer_about_texts(server: StationServer) -> None:
    """Completion, hover, the list of contents, and formatting."""

    @server.feature(
        types.TEXT_DOCUMENT_COMPLETION, types.CompletionOptions(trigger_characters=TRIGGERS)
    )
    def completion(params: types.CompletionParams) -> types.CompletionList:
        reading, offset = server.place(params)
        return protocol.completion_list(complete(reading, offset), reading.source)

    @server.feature(types.TEXT_DOCUMENT_HOVER)
    def hovering(params: types.HoverParams) -> types.Hover | None:
        found = hover(*server.place(params))
        return protocol.lsp_hover(found) if found is not None else None

    @server.feature(types.TEXT_DOCUMENT_DOCUMENT_SYMBOL)
    def document_symbols(params: types.DocumentSymbolParams) -> list[types.DocumentSymbol]:
        reading = server.reading(params.text_document.uri)
        return [protocol.document_symbol(each) for each in contents(reading)]

    @server.feature(types.TEXT_DOCUMENT_FORMATTING)
    def formatting(params: types.DocumentFormattingParams) -> list[types.TextEdit]:
        return protocol.text_edits(format_edits(server.reading(params.text_document.uri)))


def _answer_about_names(server: StationServer) -> None:
    """Definition, references and rename."""

    @server.feature(types.TEXT_DOCUMENT_DEFINITION)
    def definition(params: types.DefinitionParams) -> list[types.Location]:
        found = definitions(*server.place(params))
        return [protocol.location(span, server.uri_of) for span in found]

    @server.feature(types.TEXT_DOCUMENT_REFERENCES)
    def all_references(params: types.ReferenceParams) -> list[types.Location]:
        reading, offset = server.place(params)
        found = references(reading, offset, declarations=params.context.include_declaration)
        return [protocol.location(span, server.uri_of) for span in found]

    @server.feature(types.TEXT_DOCUMENT_PREPARE_RENAME)
    def prepare_rename(params: types.PrepareRenameParams) -> types.Range:
        try:
            return protocol.span_range(renamable_at(*server.place(params)))
        except RenameRefused as reason:
            raise JsonRpcInvalidParams(str(reason)) from reason

    @server.feature(types.TEXT_DOCUMENT_RENAME, types.RenameOptions(prepare_provider=True))
    def renaming(params: types.RenameParams) -> types.WorkspaceEdit:
        reading, offset = server.place(params)
        try:
            edits = rename(reading, offset, params.new_name)
        except RenameRefused as reason:
            raise JsonRpcInvalidParams(str(reason)) from reason
        return types.WorkspaceEdit({params.text_document.uri: protocol.text_edits(edits)})
