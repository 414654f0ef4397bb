"""A copy of the package that a test may add to or break, and the command run on it."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

from tankfoot.site.sources import PACKAGE
from tankfoot.wording.languages import languages

COMMAND = Path(sys.executable).with_name("tankfoot")


class PackageCopy:
    """The package in ``folder``, on Python's path before the installed one."""

    def __init__(self, folder):
        self.folder, self.package = folder, folder / "tankfoot"
        shutil.copytree(PACKAGE, self.package, ignore=shutil.ignore_patterns("__pycache__"))

    def change(self, name, before, after):
        """Puts ``after`` in the place of the one ``before`` in the English file of that ``name``, wherever it is."""
        found = (path for path in self.package.rglob(name) if before in path.read_text(encoding="utf-8"))
        (path,) = (path for path in found if not {*languages()[1:]} & {*path.parts})
        text = path.read_text(encoding="utf-8")
        assert text.count(before) == 1, (name, before)
        path.write_text(text.replace(before, after), encoding="utf-8")

    def tankfoot(self, *arguments):
        """The real command, ended: its exit code, what it printed, what it complained of."""
        return self.run(COMMAND, *arguments)

    def run(self, *command, path=(), environment=None):
        """Any command that is to find the copy; ``path``: folders after it."""
        places = {"PYTHONPATH": os.pathsep.join(map(str, (self.folder, *path))), "PYTHONDONTWRITEBYTECODE": "1"}
        return subprocess.run(
            list(map(str, command)), env={**os.environ, **places, **(environment or {})}, capture_output=True,
            text=True, check=False,
        )
