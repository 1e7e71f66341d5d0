"""A built site over HTTP on this machine, compressed, as a host would send it.

    python tests/bench/served.py SITE [PORT]

prints its address and serves until it is ended.
"""

from __future__ import annotations

import gzip
import mimetypes
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from functools import cache, partial
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Event, Thread
from urllib.parse import unquote, urlsplit

COMPRESSED = ("text/", "application/json", "application/javascript", "image/svg+xml")
KEPT_SECONDS = 3600


@cache
def compressed(path: Path) -> bytes:
    """A file as it is sent: made once, so that no page waits for it."""
    return gzip.compress(path.read_bytes(), 9, mtime=0)


class _Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    # Headers and body in one packet
    wbufsize = -1

    def __init__(self, site: Path, *given: object) -> None:
        self._site = site
        super().__init__(*given)  # type: ignore[arg-type]

    def do_GET(self) -> None:
        """Answer with a file of the site, or with its page for missing addresses."""
        name = unquote(urlsplit(self.path).path).lstrip("/")
        path = (self._site / name).resolve()
        path = path / "index.html" if path.is_dir() else path
        found = path.is_relative_to(self._site) and path.is_file()
        self._send(200 if found else 404, path if found else self._site / "404.html")

    def _send(self, status: int, path: Path) -> None:
        kind = mimetypes.guess_type(path.name)[0] or "application/octet-stream"
        is_text = kind.startswith(COMPRESSED)
        body = compressed(path) if is_text else path.read_bytes()
        self.send_response(status)
        self.send_header("Content-Type", f"{kind}; charset=utf-8" if is_text else kind)
        self.send_header("Content-Length", str(len(body)))
        self.send_header("Cache-Control", f"max-age={KEPT_SECONDS}")
        if is_text:
            self.send_header("Content-Encoding", "gzip")
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *_: object) -> None:
        """Say nothing."""


@contextmanager
def served(site: Path, port: int = 0) -> Iterator[str]:
    """The address of a site while it is served, without a slash at its end."""
    server = ThreadingHTTPServer(("127.0.0.1", port), partial(_Handler, site.resolve()))
    server.daemon_threads = True
    Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_address[1]}"
    finally:
        server.shutdown()
        server.server_close()


def main() -> None:
    """Serve until ended."""
    with served(Path(sys.argv[1]), int((*sys.argv, "0")[2])) as address:
        print(address, flush=True)
        with suppress(KeyboardInterrupt):
            Event().wait()


if __name__ == "__main__":
    main()
