"""A small server for the frozen files, on this machine only."""

import errno
import os
import sys
from functools import partial
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer

PORTS_TO_TRY = 20


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
            return super().send_head()
        except ValueError:  # a NUL in the address, which no file's name has
            return self.send_error(HTTPStatus.NOT_FOUND)

    def list_directory(self, path):
        """Lists no folder: what has no page is not there."""
        return self.send_error(HTTPStatus.NOT_FOUND)

    def end_headers(self):
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()

    def log_message(self, *arguments):
        """Stays quiet: the terminal shows the address and errors only."""


class _Server(ThreadingHTTPServer):
    allow_reuse_address = os.name != "nt"  # the same port again at once; Windows would share it instead
    allow_reuse_port = False
    daemon_threads = True

    def handle_error(self, request, client_address):
        """A browser that left before its file came is no error."""
        if not isinstance(sys.exception(), ConnectionError):
            super().handle_error(request, client_address)


def bind(folder, port):
    """A server for ``folder`` on 127.0.0.1 at ``port`` or the next free one; OSError after 20 taken ports."""
    handler = partial(_Handler, directory=str(folder))
    for candidate in range(port, port + PORTS_TO_TRY):
        try:
            return _Server(("127.0.0.1", candidate), handler)
        except OSError as error:
            if error.errno != errno.EADDRINUSE:
                raise
    taken = f"ports {port} to {port + PORTS_TO_TRY - 1} are all taken: give another --port"
    raise OSError(errno.EADDRINUSE, taken)
