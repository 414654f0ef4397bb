"""A small server for the frozen files: on this machine alone, or in the local network for a first look on a phone."""

import errno
import gzip
import io
import os
import socket
import ssl
import sys
from functools import lru_cache, partial
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

PORTS_TO_TRY = 20
HERE, LAN = "127.0.0.1", "0.0.0.0"
FAR = ("203.0.113.1", 9)  # RFC 5737: an address that nobody has; the way to it leads out of this machine
PACKED = (".css", ".html", ".js", ".json", ".svg", ".webmanifest")  # what gzip makes smaller
PERMISSIONS = "camera=(self), microphone=(), geolocation=()"  # what the app may ask a phone for


class _Handler(SimpleHTTPRequestHandler):
    extensions_map = {
        **SimpleHTTPRequestHandler.extensions_map,
        ".js": "text/javascript",
        ".webmanifest": "application/manifest+json",
    }

    def send_head(self):
        """Answers in full: by its date alone, a version that was taken back would pass for the newer one."""
        del self.headers["If-Modified-Since"]
        try:
            return self._send_packed() or super().send_head()
        except ValueError:  # a NUL in the address, which no file's name has
            return self.send_error(HTTPStatus.NOT_FOUND)

    def _send_packed(self):
        """None where the browser wants no gzip, or the file would gain nothing."""
        path = Path(self.translate_path(self.path))
        if self.path.split("?")[0].endswith("/"):
            path /= "index.html"
        taken = [each.strip() for each in self.headers.get("Accept-Encoding", "").split(",")]
        if "gzip" not in taken or path.suffix not in PACKED:
            return None
        try:
            found = path.stat()
        except OSError:  # it is not there, or its name is longer than a disk takes
            return None
        packed = _packed(path, found.st_mtime_ns, found.st_size)
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", self.guess_type(str(path)))
        self.send_header("Content-Encoding", "gzip")
        self.send_header("Vary", "Accept-Encoding")
        self.send_header("Content-Length", str(len(packed)))
        self.end_headers()
        return io.BytesIO(packed)

    def list_directory(self, path):
        """Lists no folder: what has no page is not there."""
        return self.send_error(HTTPStatus.NOT_FOUND)

    def end_headers(self):
        self.send_header("Cache-Control", "no-cache")
        self.send_header("Permissions-Policy", PERMISSIONS)
        super().end_headers()

    def log_message(self, *arguments):
        """Stays quiet: the terminal shows the address and errors only."""


@lru_cache(maxsize=256)
def _packed(path, changed, size):
    """The file in gzip, packed once for as long as it does not change."""
    return gzip.compress(path.read_bytes(), 6, mtime=0)


class _Server(ThreadingHTTPServer):
    allow_reuse_address = os.name != "nt"  # the same port again at once; Windows would share it instead
    allow_reuse_port = False
    daemon_threads = True

    def handle_error(self, request, client_address):
        """A browser that left before its file came is no error, nor is one that does not trust the certificate."""
        if not isinstance(sys.exception(), (ConnectionError, ssl.SSLError)):
            super().handle_error(request, client_address)


def bind(folder, port, where=HERE, security=None):
    """A server for ``folder`` at ``port`` or the next free one; OSError after 20 taken ports.

    ``where``: HERE, on this machine alone, or LAN. With what ``secured`` gives it speaks HTTPS.
    """
    handler = partial(_Handler, directory=str(folder))
    for candidate in range(port, port + PORTS_TO_TRY):
        try:
            server = _Server((where, candidate), handler)
        except OSError as error:
            if error.errno != errno.EADDRINUSE:
                raise
            continue
        if security:  # each handshake in its own thread: a browser that says nothing keeps nobody waiting
            server.socket = security.wrap_socket(server.socket, server_side=True, do_handshake_on_connect=False)
        return server
    taken = f"ports {port} to {port + PORTS_TO_TRY - 1} are all taken: give another --port"
    raise OSError(errno.EADDRINUSE, taken)


def secured(certificate, key=None):
    """What ``bind`` needs for HTTPS, from two PEM files, or from one with both; OSError where they do not fit."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    try:
        context.load_cert_chain(certificate, key)
    except OSError as wrong:
        named = " and ".join(filter(None, (certificate, key)))
        raise OSError(f"{named}: no certificate in PEM with its key ({wrong})") from wrong
    return context


def address_in_lan():
    """The address of this machine for others in its network; OSError where it is in none. Nothing is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        asking.connect(FAR)
        return asking.getsockname()[0]
