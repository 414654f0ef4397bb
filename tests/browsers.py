"""Real browsers for the tests: Chromium through Playwright, WebKitGTK through WebDriver, and their server."""

import os
import shutil
import signal
import subprocess
import sys
import threading
import time
from functools import cache, partial
from pathlib import Path

from playwright.sync_api import Error as PlaywrightError
from tankfoot.site.scripts import ALL
from tankfoot.site.server import bind
from workers import locked

SYSTEM_CHROMIUMS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
LIGHT = "chromium-headless-shell"  # the same engine without windows: under a third of the work a page
ARGUMENTS = ("--no-sandbox", "--disable-background-networking", "--disable-component-update")
PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "device_scale_factor": 2}
FIRST_PORT = 12000 + 40 * (os.getpid() % 500)  # a range of its own for each run on one machine
PATIENCE = 30  # seconds for a browser to come up


class NoBrowser(Exception):
    """No browser of the wanted engine, and how to get one."""


class Served:
    """A folder of frozen files on one port of this machine; it can be stopped and started again there.

    ``faults``: {path: status} that it answers in place of a file, a redirect to the root among them.
    ``asked``: the paths that were asked for, in their order. ``headers``: what it sends beside its own.
    """

    def __init__(self, folder, port=FIRST_PORT):
        self.folder, self.port = folder, port
        self.faults, self.asked, self.headers = {}, [], {}
        self._server = None
        self.start()

    @property
    def address(self):
        """The site's root, with a slash at the end."""
        return f"http://127.0.0.1:{self.port}/"

    @property
    def script(self):
        """The address from which all modules can be taken; its ``take("room/module.js")`` gives one of them."""
        return self.address + ALL

    def start(self):
        again = self._server is not None
        server = bind(self.folder, self.port)
        if again and server.server_port != self.port:
            server.server_close()
            raise OSError(f"port {self.port} was taken while the server was stopped")
        server.RequestHandlerClass = self._with_faults(server.RequestHandlerClass)
        self._server, self.port = server, server.server_port
        threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True).start()

    def stop(self):
        self._server.shutdown()
        self._server.server_close()

    def swap(self, folder):
        """Another build on the same port, as a deploy does it."""
        self.stop()
        self.folder = folder
        self.start()

    def _with_faults(self, handler):
        faults, asked, headers = self.faults, self.asked, self.headers

        class Faulty(handler.func):
            def do_GET(self):
                asked.append(self.path)
                if self.path not in faults:
                    return super().do_GET()
                self.send_response(faults[self.path])
                if 300 <= faults[self.path] < 400:
                    self.send_header("Location", "/")
                return self.end_headers()

            def end_headers(self):
                for name, text in headers.items():
                    self.send_header(name, text)
                super().end_headers()

        return partial(Faulty, **handler.keywords)


def light_options(playwright):
    """Launch options for a Chromium that many tests share: the one without windows, else any."""
    path = shutil.which(LIGHT) or (apt_install(LIGHT) and shutil.which(LIGHT))
    return {"executable_path": path, "args": list(ARGUMENTS)} if path else chromium_options(playwright)


def chromium_options(playwright):
    """Launch options for a Chromium as people have it: the system's own, else Playwright's, else one from apt-get."""
    path = _system_chromium() or _playwright_chromium(playwright) or _debian_chromium()
    if path is None:
        raise NoBrowser("no Chromium: apt-get install chromium, or playwright install chromium")
    return {"executable_path": path, "args": list(ARGUMENTS)}


def _system_chromium():
    return next(filter(None, map(shutil.which, SYSTEM_CHROMIUMS)), None)


def _playwright_chromium(playwright):
    path = playwright.chromium.executable_path
    if not Path(path).exists():
        subprocess.run([sys.executable, "-m", "playwright", "install", "chromium"], check=False)
    return path if Path(path).exists() else None


def _debian_chromium():
    return _system_chromium() if apt_install("chromium") else None


@cache
def apt_install(*packages):
    """Installs Debian packages where that is possible; whether it was. A run asks once for the same."""
    if os.name != "posix" or os.geteuid() != 0 or not shutil.which("apt-get"):
        return False
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    commands = (["apt-get", "update", "-qq"], ["apt-get", "install", "-y", "-qq", *packages])
    with locked(Path(__file__)):  # apt-get refuses to run twice at a time
        return all(subprocess.run(command, env=environment, check=False).returncode == 0 for command in commands)


class OwnChromium:
    """A Chromium with a profile of its own on disk, that can be closed, killed and started again."""

    def __init__(self, playwright, profile):
        self._playwright, self._profile = playwright, profile
        self._path = chromium_options(playwright)["executable_path"]
        self._process = self._browser = None

    def start(self):
        """Starts it; returns Playwright's context of the profile."""
        port_file = self._profile / "DevToolsActivePort"
        port_file.unlink(missing_ok=True)
        own = ("--headless", "--remote-debugging-port=0", f"--user-data-dir={self._profile}", "about:blank")
        silent = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
        self._process = subprocess.Popen([self._path, *ARGUMENTS, *own], start_new_session=True, **silent)
        self._browser = self._playwright.chromium.connect_over_cdp(f"http://127.0.0.1:{_first_line(port_file)}")
        return self._browser.contexts[0]

    def close(self):
        """Ends it as a person does; one that did not come up, or does not end, is killed."""
        if self._process is None:
            return
        try:
            if self._browser:
                self._ask_to_close()
                self._process.wait(PATIENCE)
        finally:
            if self._process.poll() is None:
                self.strike()
                self._process.wait(PATIENCE)
            self._forget()

    def _ask_to_close(self):
        try:
            self._browser.new_browser_cdp_session().send("Browser.close")
        except PlaywrightError as error:
            if "closed" not in str(error):
                raise

    def kill(self):
        """Ends it as a phone does that runs out of memory: at once, without a word."""
        self.strike()
        self._process.wait(PATIENCE)
        self._forget()

    def strike(self):
        """The kill alone, from another thread while this one is tapping; ``kill`` has to follow."""
        os.killpg(self._process.pid, signal.SIGKILL)

    def _forget(self):
        browser, self._process, self._browser = self._browser, None, None
        if browser:
            browser.close()


def _first_line(path):
    until = time.monotonic() + PATIENCE
    while time.monotonic() < until:
        if path.exists() and (lines := path.read_text().splitlines()):
            return lines[0]
        time.sleep(0.02)
    raise NoBrowser(f"Chromium did not come up within {PATIENCE} s")
