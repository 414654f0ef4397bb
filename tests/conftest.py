"""The frozen site, the server that shows it and the browsers that look at it."""

# ruff: noqa: E402
import os

os.environ["TANKFOOT_LANGUAGE"] = "en"  # before the package is loaded: the machine may speak another

from functools import partial

import pytest
from browsers import PHONE, OwnChromium, Served, light_options
from hypothesis import settings
from playwright.sync_api import sync_playwright
from tankfoot.cli import main
from tankfoot.site.freezer import freeze
from tankfoot.site.scripts import OF_BASE
from workers import made_once, running, shared_folder

NEXT_VERSION = "99.0"
TOLD = "told"  # what a test measured travels with its report, from a worker too

settings.register_profile("steady", deadline=None, derandomize=True)  # a busy machine is no failure
settings.load_profile("steady")


def pytest_addoption(parser):
    parser.addoption(
        "--parity-cases", type=int, default=500, metavar="N",
        help="generated cases a calculator, through Python and the browser (500; before a release 10000)",
    )
    parser.addoption(
        "--twin-cases", type=int, default=200, metavar="N",
        help="generated calls of each function that has a twin (200; before a release 10000)",
    )
    parser.addoption(
        "--cellars", type=int, default=1000, metavar="N",
        help="simulated cellars whose next colour change is foretold (1000; before a release 10000)",
    )
    parser.addoption(
        "--kills", type=int, default=4, metavar="N",
        help="times that the browser is killed in the middle of a tap (4; before a release 50)",
    )
    parser.addoption(
        "--demo-days", type=int, default=13, metavar="N",
        help="the demo is dated on every so many days, and on those about clock changes (13; before a release 1)",
    )
    parser.addoption(
        "--purges", type=int, default=600, metavar="N",
        help="purges of a record that is exported and read again (600 long ones; before a release 100000)",
    )
    parser.addoption(
        "--entries", type=int, default=1200, metavar="N",
        help="entries of a record that goes into files while the page answers (1200; before a release 20000)",
    )
    parser.addoption(
        "--charts", type=int, default=1000, metavar="N",
        help="charts of steady values that are looked at for broken rules (1000; before a release 20000)",
    )
    parser.addoption(
        "--mutations", type=int, default=900, metavar="N",
        help="mutated files and entries, judged by Python and the browser (900; before a release 100000)",
    )
    parser.addoption(
        "--random-acts", type=int, default=600, metavar="N",
        help="random acts on simulated tanks, of which nothing may be lost (600; before a release 10000)",
    )
    parser.addoption(
        "--watched-runs", type=int, default=8, metavar="N",
        help="invented runs of each kind before the camera (8; before a release 300)",
    )
    parser.addoption(
        "--all-screens", action="store_true",
        help="all pages in the pseudo-language and at both widths, not one of each kind at one; before a release",
    )
    parser.addoption(
        "--films", action="store_true", help="all eight films before the camera, not two; before a release",
    )


@pytest.fixture(scope="session")
def site(tmp_path_factory, pytestconfig):
    """The folder of the frozen site. Nobody changes it: copy it to change it."""
    return made_once(shared_folder(tmp_path_factory, pytestconfig) / "frozen" / "tankfoot", freeze)


@pytest.fixture(scope="session")
def next_site(tmp_path_factory, pytestconfig):
    """The folder of a later version of the same site: its script is another one, as in most versions."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("tankfoot.site.scripts.OF_BASE", '"a later version";\n' + OF_BASE)
        patch.setattr("tankfoot.site.app.__version__", NEXT_VERSION)
        return made_once(shared_folder(tmp_path_factory, pytestconfig) / "next" / "tankfoot", freeze)


@pytest.fixture(scope="session")
def served(site):
    """The frozen site on a port of this machine, all the time."""
    server = Served(site)
    yield server
    server.stop()


@pytest.fixture
def serve():
    """Serves a folder on a port of its own; what is returned can be stopped and started."""
    servers = []

    def start(folder):
        servers.append(Served(folder))
        return servers[-1]

    yield start
    for server in servers:
        server.stop()


@pytest.fixture(scope="session")
def playwright():
    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="session")
def chromium(playwright):
    browser = playwright.chromium.launch(**light_options(playwright))
    yield browser
    browser.close()


@pytest.fixture
def phone(chromium):
    """A fresh phone: its own storage, a screen of 390 x 844, a touch screen; it keeps no file of the app."""
    context = chromium.new_context(**PHONE, service_workers="block")
    yield context
    context.close()


@pytest.fixture
def keeping_phone(chromium):
    """A fresh phone that keeps the app for a time without signal, as real ones do."""
    context = chromium.new_context(**PHONE)
    yield context
    context.close()


@pytest.fixture
def own_chromium(playwright, tmp_path):
    """A browser with a profile on disk, to be closed, killed and started again."""
    browser = OwnChromium(playwright, tmp_path / "profile")
    yield browser
    browser.close()


@pytest.fixture
def tankfoot(capsys):
    """Runs one command; returns (exit code, standard output, standard error)."""

    def run(*arguments):
        code = main(list(map(str, arguments)))
        written = capsys.readouterr()
        return code, written.out, written.err

    return run


@pytest.fixture
def tell(record_property):
    """Adds a line to the end of the test report: a measured time or size."""
    return partial(record_property, TOLD)


def pytest_terminal_summary(terminalreporter):
    for report in [report for reports in terminalreporter.stats.values() for report in reports]:
        if getattr(report, "when", None) == "call":
            for line in [line for name, line in report.user_properties if name == TOLD]:
                terminalreporter.write_line(line)


def pytest_xdist_auto_num_workers(config):
    """One more than there are cores: half of the time a test waits for its browser."""
    return (os.cpu_count() or 1) + 1


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item):
    with running(alone=item.get_closest_marker("alone") is not None):
        return (yield)
