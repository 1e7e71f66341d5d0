"""A host on this machine that loses its connections when it is told to."""

from __future__ import annotations

import shutil
from dataclasses import dataclass, field
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Lock, Thread


@dataclass
class Host:
    """A host on this machine; it may be made to fail, and to serve another build."""

    folder: Path
    requests: list[str] = field(default_factory=list)
    good_for: int | None = None
    """So many more requests are answered, then connections break; None for all."""
    _lock: Lock = field(default_factory=Lock)
    _server: ThreadingHTTPServer | None = None
    _port: int = 0

    def start(self) -> None:
        handler = partial(_Handler, host=self, directory=str(self.folder))
        self._server = ThreadingHTTPServer(("127.0.0.1", self._port), handler)
        self._port = self._server.server_port
        Thread(target=self._server.serve_forever, kwargs={"poll_interval": 0.02}).start()

    def stop(self) -> None:
        if self._server:
            self._server.shutdown()
            self._server.server_close()
            self._server = None

    def is_good(self, path: str) -> bool:
        with self._lock:
            self.requests.append(path)
            if self.good_for is None:
                return True
            self.good_for -= 1
            return self.good_for >= 0

    def address(self, site: str, path: str) -> str:
        return f"http://127.0.0.1:{self._port}/{site}/{path}"

    def serve(self, site: str, build: Path) -> None:
        """Put a build in the place of what a site serves."""
        shutil.rmtree(self.folder / site, ignore_errors=True)
        shutil.copytree(build, self.folder / site)


class _Handler(SimpleHTTPRequestHandler):
    def __init__(self, *arguments: object, host: Host, **others: object) -> None:
        self._host = host
        super().__init__(*arguments, **others)  # type: ignore[arg-type]

    def do_GET(self) -> None:
        if not self._host.is_good(self.path):
            # Half an answer, as when a phone loses its signal
            self.send_response(200)
            self.send_header("Content-Length", "100000")
            self.end_headers()
            self.wfile.write(b"<!doctype html>")
            self.close_connection = True
            return
        super().do_GET()

    def end_headers(self) -> None:
        # Else the browser may answer from a cache of its own, and the test would see no worker
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()

    def log_message(self, format: str, *arguments: object) -> None:
        pass
