"""Measures a first visit on slow lines: ``python tests/first_visit.py`` prints how long it takes until all is kept.

The line is drawn at the server, since a browser's own throttling does not reach the requests of a service worker. It
has a rate that all connections share and a way that takes half of the round trip; a new connection costs one more. It
has no TLS and no slow start of TCP. The site and an identical copy of it as a control run in turn; ``--against FOLDER``
adds another build, such as an older one.
"""

import argparse
import asyncio
import gzip
import hashlib
import random
import shutil
import statistics
import tempfile
from contextlib import suppress
from functools import cache, partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import NamedTuple

from browsers import PHONE, light_options
from budgets import START_CLOCK
from playwright.sync_api import sync_playwright
from tankfoot.site.freezer import freeze

PIECE = 1460  # bytes: what an Ethernet frame carries of TCP
AHEAD = 0.03  # s that the line may be promised ahead, so that connections share it
LATE = 0.03  # s that this process may be late in reading, on a busy machine, without the line losing them
PATIENCE = 120  # s
KEPT = "() => navigator.serviceWorker.ready.then(() => performance.now())"
PACKED_ON_THE_WAY = {".html", ".css", ".js", ".json", ".svg", ".webmanifest"}
MOST_BYTES, MOST_REQUESTS = 300_000, 10  # the project's own aims, no source


class Line(NamedTuple):
    """Bits a second, round trip in s, and the aim for a first visit in s (the project's own, no source)."""

    rate: float
    round_trip: float
    aim: float


LINES = {
    "slow 4G": Line(1.6e6, 0.15, 3.0),  # Source: Lighthouse, docs/throttling.md, "Slow 4G", from memory
    "edge of the cellar": Line(400e3, 0.4, 9.0),
}


class Host(SimpleHTTPRequestHandler):
    """A host as many are: connections that stay, gzip for text, an ETag, and each use asks again."""

    protocol_version = "HTTP/1.1"

    def do_GET(self):
        file = Path(self.translate_path(self.path))
        file = file / "index.html" if file.is_dir() else file
        self.server.asked.append(self.path)
        if not file.is_file():
            self.send_response(404)
            self.send_header("Content-Length", "0")
            return self.end_headers()
        body, tag, is_packed = answer_of(file)
        is_known = self.headers["If-None-Match"] == tag
        self.send_response(304 if is_known else 200)
        self.send_header("Cache-Control", "no-cache")
        self.send_header("ETag", tag)
        if not is_known:
            self.send_header("Content-Type", self.guess_type(str(file)))
            self.send_header("Content-Length", str(len(body)))
            if is_packed:
                self.send_header("Content-Encoding", "gzip")
        self.end_headers()
        if not is_known:
            self.wfile.write(body)

    def log_message(self, *arguments):
        """Stays quiet."""


@cache
def answer_of(file):
    data = file.read_bytes()
    is_packed = file.suffix in PACKED_ON_THE_WAY
    body = gzip.compress(data, 6, mtime=0) if is_packed else data
    return body, f'"{hashlib.sha256(data).hexdigest()[:16]}"', is_packed


class SlowLine:
    """A port of this machine with a slow line behind it to another port; ``carried``: bytes that came down."""

    def __init__(self, line, target):
        self._line, self._target, self._loop = line, target, asyncio.new_event_loop()
        self._free, self.carried = 0.0, 0
        Thread(target=self._loop.run_forever, daemon=True).start()
        starting = asyncio.start_server(self._connected, "127.0.0.1", 0)
        self.port = asyncio.run_coroutine_threadsafe(starting, self._loop).result().sockets[0].getsockname()[1]

    async def _connected(self, reader, writer):
        await asyncio.sleep(self._line.round_trip)  # the handshake
        up = await asyncio.open_connection("127.0.0.1", self._target)
        await asyncio.gather(self._carry(reader, up[1], is_down=False), self._carry(up[0], writer, is_down=True))

    async def _carry(self, reader, writer, is_down):
        on_the_way = asyncio.Queue()
        arriving = asyncio.create_task(self._arrive(on_the_way, writer))
        with suppress(ConnectionError):  # the browser was closed
            while data := await reader.read(PIECE):
                on_the_way.put_nowait((await self._sent(data, is_down), data))
        on_the_way.put_nowait((self._loop.time(), b""))
        await arriving

    async def _sent(self, data, is_down):
        """When ``data`` is at the other end. What goes up is small: it has the way, and no rate."""
        now = self._loop.time()
        if is_down:
            self.carried += len(data)
            self._free = max(self._free, now - LATE) + 8 * len(data) / self._line.rate
            if self._free - now > AHEAD:
                await asyncio.sleep(self._free - now - AHEAD)
        return (max(now, self._free) if is_down else now) + self._line.round_trip / 2

    async def _arrive(self, on_the_way, writer):
        while True:
            due, data = await on_the_way.get()
            await asyncio.sleep(max(0, due - self._loop.time()))
            if not data or writer.is_closing():
                return writer.close()
            writer.write(data)


def host(folder):
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Host, directory=str(folder)))
    server.daemon_threads, server.asked = True, []
    Thread(target=server.serve_forever, daemon=True).start()
    return server


def first_visit(browser, line, server):
    """Seconds until all is kept and until the page can be used, requests and bytes down, of a fresh phone."""
    slow = SlowLine(line, server.server_port)
    server.asked.clear()
    context = browser.new_context(**PHONE)
    context.add_init_script(START_CLOCK)
    page = context.new_page()
    page.set_default_timeout(PATIENCE * 1000)
    page.goto(f"http://127.0.0.1:{slow.port}/", wait_until="commit")
    kept = page.evaluate(KEPT) / 1000
    found = kept, page.evaluate("startedAt") / 1000, len(server.asked), slow.carried
    context.close()
    return found


def ways(folder, against):
    site = folder / "site"
    freeze(site)
    found = {"the site": site, "a copy (control)": shutil.copytree(site, folder / "copy")}
    return found | {str(other): other for other in against}


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--runs", type=int, default=5, metavar="N", help="visits of each way on each line (5)")
    parser.add_argument("--against", type=Path, nargs="*", default=[], metavar="FOLDER", help="other built sites")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        servers = {way: host(site) for way, site in ways(Path(folder), options.against).items()}
        browser = playwright.chromium.launch(**light_options(playwright))
        for name, line in LINES.items():
            visits = {way: [] for way in servers}
            for _ in range(options.runs):
                for way in random.sample(list(servers), len(servers)):
                    visits[way].append(first_visit(browser, line, servers[way]))
            for way, found in visits.items():
                tell(name, line, way, found)
        browser.close()


def tell(name, line, way, found):
    times, starts, requests, sizes = zip(*found, strict=True)
    seconds, size = statistics.median(times), statistics.median(sizes)
    over = [
        what
        for what, is_over in {
            "time": seconds > line.aim, "bytes": size > MOST_BYTES, "requests": max(requests) > MOST_REQUESTS
        }.items()
        if is_over
    ]
    print(
        f"{name}, {way}: kept after {seconds:.2f} s ({min(times):.2f} to {max(times):.2f}; aim {line.aim:g}), "
        f"can be used after {statistics.median(starts):.2f} s, "
        f"{max(requests)} requests (aim {MOST_REQUESTS}), {size / 1000:.0f} kB (aim {MOST_BYTES / 1000:.0f}; "
        f"the line alone takes {8 * size / line.rate:.1f} s for them)"
        + (f"  OVER: {', '.join(over)}" if over else ""),
        flush=True,
    )


if __name__ == "__main__":
    main()
