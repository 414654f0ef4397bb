"""WebKitGTK, the engine family of Safari, through WebDriver on a screen of its own that nobody sees."""

import os
import shutil
import subprocess
from contextlib import contextmanager
from pathlib import Path

from browsers import NoBrowser, apt_install
from selenium.webdriver import Remote, WebKitGTKOptions, WebKitGTKService
from selenium.webdriver.remote.client_config import ClientConfig
from selenium.webdriver.remote.remote_connection import RemoteConnection

PACKAGES = ("webkit2gtk-driver", "libwebkit2gtk-4.1-0", "xvfb")
HOW_TO_GET = f"no WebKitGTK with its driver: on Debian, apt-get install {' '.join(PACKAGES)}"
SEARCHED = ("/usr/lib", "/usr/libexec")
WITHOUT_A_GRAPHICS_CARD = {"WEBKIT_DISABLE_COMPOSITING_MODE": "1", "LIBGL_ALWAYS_SOFTWARE": "1"}
WITHOUT_ITS_SANDBOX = {"WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS": "1"}  # root in a container cannot make one


@contextmanager
def webkit():
    """A WebDriver session; NoBrowser where there is none and none can be installed."""
    driver, browser = _found() or _installed()
    options = WebKitGTKOptions()
    options.binary_location = browser
    options.add_argument("--automation")
    with _screen() as display:
        service = WebKitGTKService(executable_path=driver, env=_environment(display))
        service.start()
        try:
            with Remote(RemoteConnection(client_config=ClientConfig(service.service_url)), options=options) as session:
                yield session
        finally:
            service.stop()


def _environment(display):
    sandbox = WITHOUT_ITS_SANDBOX if os.geteuid() == 0 else {}
    return {**os.environ, **WITHOUT_A_GRAPHICS_CARD, **sandbox, "DISPLAY": display}


def _found():
    browsers = (path for root in SEARCHED for path in Path(root).glob("**/webkit2gtk-4.1/MiniBrowser"))
    driver, browser = shutil.which("WebKitWebDriver"), next(browsers, None)
    return (driver, str(browser)) if driver and browser and shutil.which("Xvfb") else None


def _installed():
    found = _found() if apt_install(*PACKAGES) else None
    if found is None:
        raise NoBrowser(HOW_TO_GET)
    return found


@contextmanager
def _screen():
    """An X server that picks a free number and tells it; its number is yielded."""
    reading, writing = os.pipe()
    command = ["Xvfb", "-displayfd", str(writing), "-screen", "0", "800x1200x24", "-nolisten", "tcp"]
    server = subprocess.Popen(command, pass_fds=[writing], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    os.close(writing)
    with os.fdopen(reading) as told:
        number = told.readline().strip()
    try:
        yield f":{number}"
    finally:
        server.terminate()
        server.wait()
