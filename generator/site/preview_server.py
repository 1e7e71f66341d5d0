"""The preview of one vehicle over HTTP, for the browser of the one who writes its profile."""

from __future__ import annotations

from errno import EADDRINUSE
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Event, Thread
from urllib.parse import quote, unquote, urlsplit

from generator.site.preview import SCRIPT_FILE, Answer, Preview, Told
from generator.site.renderer import Renderer

DEFAULT_ADDRESS = "127.0.0.1:8000"
CHANGED_FILE = "preview/changed"
LONGEST_WAIT_S = 20.0

_SCRIPT = """\
// Loads the page again when its profile was saved; the preview answers as soon as it was.
(function () {
  "use strict";
  var own = new URL(document.currentScript.src);
  var known = own.search.slice(1);
  function ask() {
    fetch(new URL("changed?" + known, own), { cache: "no-store" })
      .then(function (answer) { return answer.text(); })
      .then(function (number) { if (number === known) { ask(); } else { location.reload(); } })
      .catch(function () { setTimeout(ask, 1000); });
  }
  ask();
}());
"""


class PreviewServer:
    """Serves a preview until it is closed."""

    def __init__(self, preview: Preview, address: str) -> None:
        """Take the address, such as ``127.0.0.1:8000``.

        Raises:
            ValueError: it is no host and port.
            OSError: it is taken.
        """
        host, _, port = address.rpartition(":")
        self._preview = preview
        self._ended = Event()
        self._server = ThreadingHTTPServer((host, int(port)), _handler(preview))

    @property
    def address(self) -> str:
        """Where the guide begins."""
        host, port = self._server.server_address[:2]
        return f"http://{host!s}:{port}/"

    def serve(self, told: Told) -> None:
        """Serve until `close` is called from another thread, or interrupted."""
        told(self._preview.findings)
        Thread(target=self._preview.watch, args=(self._ended, told), daemon=True).start()
        try:
            self._server.serve_forever(poll_interval=0.1)
        finally:
            self._ended.set()
            self._server.server_close()

    def close(self) -> None:
        """End serving."""
        self._server.shutdown()


def _handler(preview: Preview) -> type[BaseHTTPRequestHandler]:
    class Handler(BaseHTTPRequestHandler):
        server_version = "Sondebook"

        def do_GET(self) -> None:
            parts = urlsplit(self.path)
            path = unquote(parts.path).lstrip("/")
            if path == CHANGED_FILE:
                self._send(_changed(preview, parts.query))
            elif path == SCRIPT_FILE:
                self._send(Answer(200, "text/javascript; charset=utf-8", _SCRIPT.encode()))
            elif index := preview.index_of(path):
                self._redirect(f"/{quote(index)}")
            else:
                self._send(preview.answer(path))

        def _redirect(self, target: str) -> None:
            self.send_response(302)
            self.send_header("Location", target)
            self.send_header("Content-Length", "0")
            self.end_headers()

        def _send(self, answer: Answer) -> None:
            self.send_response(answer.status)
            self.send_header("Content-Type", answer.kind)
            self.send_header("Content-Length", str(len(answer.content)))
            self.send_header("Cache-Control", "no-store")
            self.send_header("X-Content-Type-Options", "nosniff")
            self.end_headers()
            try:
                self.wfile.write(answer.content)
            except ConnectionError:
                # The page was left, or loaded again, before the answer came
                return

        def log_message(self, *_arguments: object) -> None:
            """Say nothing of each request: the terminal is for the findings."""

    return Handler


def _changed(preview: Preview, known: str) -> Answer:
    number = preview.wait(int(known) if known.isdecimal() else 0, LONGEST_WAIT_S)
    return Answer(200, "text/plain; charset=utf-8", str(number).encode())


def address_fault(error: OSError, address: str | None) -> str:
    """Why an address cannot be served at, and which to try where another program has it."""
    if error.errno != EADDRINUSE:
        return f"{error.strerror or error}."
    taken = address or DEFAULT_ADDRESS
    host, _, port = taken.rpartition(":")
    return f"{taken} is in use by another program; add `--address {host}:{int(port) + 1}`."


def preview_server(
    path: Path, renderer: Renderer, theme: list[Path], address: str | None
) -> PreviewServer:
    """A server for the preview of one profile.

    Raises:
        ValueError: the address is no host and port.
        OSError: it is taken.
    """
    return PreviewServer(Preview(path, renderer, theme), address or DEFAULT_ADDRESS)
