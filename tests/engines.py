"""JavaScript engines that run twins from their sources, with no frozen site: Node if it is found, else Chromium."""

import json
import shutil
import subprocess
import threading
from contextlib import contextmanager
from urllib.parse import quote

from browsers import chromium_options
from playwright.sync_api import Error as PlaywrightError
from playwright.sync_api import sync_playwright
from tankfoot.site.app import create_app
from tankfoot.site.joined import IMPORT, beside, joined

# Reads a call a line, answers a line: [function of one text, the text] in, {"answer"} or {"raised"} out.
NODE = """
import { createInterface } from "node:readline";
for await (const line of createInterface({ input: process.stdin })) {
  const [fn, text] = JSON.parse(line);
  const told = await (0, eval)(fn)(text).then((answer) => ({ answer }), (error) => ({ raised: String(error) }));
  console.log(JSON.stringify(told));
}
"""
MOST_MEMORY = 1000  # MB
LONGEST = 20  # seconds that one call may take: a broken loop may have no end


class Raised(Exception):
    """What JavaScript threw where nobody caught it, or that its engine came to an end: without memory, out of time."""


class Node:
    """Node on its own, a process that answers one call after the other."""

    def __init__(self, path):
        command = [path, f"--max-old-space-size={MOST_MEMORY}", "--input-type=module", "--eval", NODE]
        pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "stderr": subprocess.DEVNULL}
        self._process = subprocess.Popen(command, text=True, **pipes)

    def evaluate(self, function, text):
        """What the ``function`` of one text answers, as a browser's page would."""
        late = threading.Timer(LONGEST, self._process.kill)
        late.start()
        self._process.stdin.write(json.dumps([function.strip(), text]) + "\n")
        self._process.stdin.flush()
        line = self._process.stdout.readline()
        late.cancel()
        told = json.loads(line) if line else {"raised": "Node came to an end"}
        if "raised" in told:
            raise Raised(told["raised"])
        return told["answer"]

    def close(self):
        self._process.kill()
        self._process.communicate()


class Page:
    """An empty page of a browser, which has no policy against text as code."""

    def __init__(self, browser):
        self._page = browser.new_page()

    def evaluate(self, function, text):
        """What the ``function`` of one text answers."""
        try:
            return self._page.evaluate(function, text)
        except PlaywrightError as error:
            raise Raised(str(error)) from error

    def close(self):
        self._page.close()


@contextmanager
def engines(in_browser=False):
    """A function that starts an engine with nothing loaded; engines have ``evaluate`` and ``close``."""
    node = None if in_browser else shutil.which("node")
    if node:
        yield lambda: Node(node)
        return
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(**chromium_options(playwright))
        yield lambda: Page(browser)
        browser.close()


def sources(paths):
    """{path below js/: text} of modules and of all that they import, as the site serves them."""
    client, texts, wanted = create_app().test_client(), {}, list(paths)
    while wanted:
        path = wanted.pop()
        if path not in texts:
            with client.get(f"/js/{path}") as answer:
                assert answer.status_code == 200, path
                texts[path] = answer.text
            wanted += [beside(path, address) for _, address in IMPORT.findall(texts[path])]
    return texts


def root_of(texts):
    """What to import modules from, in the place of a site's root: the text itself, as an address.

    What follows the root becomes the part of the address that nobody reads.
    """
    return f"data:text/javascript,{quote(joined(texts, start=''))}#"
