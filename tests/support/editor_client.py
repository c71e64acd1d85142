"""A minimal client of the Language Server Protocol over the pipes of a process.

Written against the protocol's own text (base protocol: headers, then JSON-RPC 2.0), without the
library that the server uses. Whatever stands on standard output outside a message is an error.
"""

from __future__ import annotations

import json
import queue
import subprocess
import sys
import threading
from pathlib import Path
from types import TracebackType
from typing import Any, Self

LONGEST_S = 60.0


class Client:
    """Starts `copperpath editor`, asks, and waits for answers."""

    def __init__(self, *arguments: str) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "copperpath.cli", "editor", *arguments],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
        )
        self.answers: queue.Queue[dict[str, Any]] = queue.Queue()
        self.told: queue.Queue[dict[str, Any]] = queue.Queue()
        self.stray = b""
        self.errors = b""
        self.last_id = 0
        self.threads = [threading.Thread(target=each) for each in (self._listen, self._drain)]
        for thread in self.threads:
            thread.start()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self.process.poll() is None:
            self.process.kill()
        self.process.wait()
        for thread in self.threads:
            thread.join()
        for pipe in (self.process.stdin, self.process.stdout, self.process.stderr):
            assert pipe is not None
            pipe.close()

    def begin(self, capabilities: dict[str, Any] | None = None) -> dict[str, Any]:
        """The greeting; what the server says it can do."""
        parameters = {"processId": None, "rootUri": None, "capabilities": capabilities or {}}
        result: dict[str, Any] = self.ask("initialize", parameters)
        self.tell("initialized", {})
        return result

    def end(self) -> int:
        """The goodbye; the exit code of the server."""
        self.ask("shutdown", None)
        self.tell("exit", None)
        return self.process.wait(LONGEST_S)

    def open(self, uri: str, text: str) -> list[dict[str, Any]]:
        """Open a text; the mistakes that the server tells."""
        document = {"uri": uri, "languageId": "station", "version": 1, "text": text}
        self.tell("textDocument/didOpen", {"textDocument": document})
        return self.mistakes(uri)

    def change(self, uri: str, text: str, version: int) -> None:
        """Send a new version of a text."""
        document = {"uri": uri, "version": version}
        changes = {"textDocument": document, "contentChanges": [{"text": text}]}
        self.tell("textDocument/didChange", changes)

    def mistakes(self, uri: str) -> list[dict[str, Any]]:
        """The next mistakes that the server tells of a file."""
        while True:
            message = self.told.get(timeout=LONGEST_S)
            assert message, f"the server has ended: {self._last_words()}"
            if message["method"] != "textDocument/publishDiagnostics":
                continue
            if message["params"]["uri"] == uri:
                found: list[dict[str, Any]] = message["params"]["diagnostics"]
                return found

    def at(self, method: str, uri: str, place: tuple[int, int], **more: Any) -> Any:
        """Ask about a line and character of a text."""
        position = {"line": place[0], "character": place[1]}
        return self.ask(
            f"textDocument/{method}", {"textDocument": {"uri": uri}, "position": position, **more}
        )

    def ask(self, method: str, parameters: Any) -> Any:
        """The result of a request; a refusal is raised with its words."""
        self.last_id += 1
        self._send({"id": self.last_id, "method": method, "params": parameters})
        answer = self.answers.get(timeout=LONGEST_S)
        assert answer, f"the server has ended: {self._last_words()}"
        assert answer["id"] == self.last_id
        if "error" in answer:
            raise Refusal(answer["error"]["message"])
        return answer["result"]

    def tell(self, method: str, parameters: Any) -> None:
        """Send a notification."""
        self._send({"method": method, "params": parameters})

    def _send(self, message: dict[str, Any]) -> None:
        body = json.dumps({"jsonrpc": "2.0", **message}).encode()
        assert self.process.stdin is not None
        self.process.stdin.write(b"Content-Length: %d\r\n\r\n%s" % (len(body), body))
        self.process.stdin.flush()

    def _last_words(self) -> str:
        self.threads[1].join(LONGEST_S)
        return self.errors.decode(errors="replace")

    def _listen(self) -> None:
        out = self.process.stdout
        assert out is not None
        while line := out.readline():
            length = 0
            while line.strip():
                name, _, value = line.partition(b":")
                if name == b"Content-Length":
                    length = int(value)
                elif name != b"Content-Type":
                    self.stray += line
                line = out.readline()
            if not length:
                self.stray += line
                continue
            message = json.loads(out.read(length))
            (self.told if "method" in message else self.answers).put(message)
        for waiting in (self.told, self.answers):
            waiting.put({})

    def _drain(self) -> None:
        assert self.process.stderr is not None
        self.errors = self.process.stderr.read()


class Refusal(Exception):
    """What the server says instead of a result."""


def uri_of(path: Path) -> str:
    """The address of a file."""
    return path.resolve().as_uri()


def place_of(text: str, words: str) -> tuple[int, int]:
    """Line and character at which some words begin; plain letters only."""
    before = text[: text.index(words)]
    return before.count("\n"), len(before.rpartition("\n")[2])
