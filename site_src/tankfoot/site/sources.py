"""Where the package's own files are, and which of them are scripts of its rooms."""

from importlib.resources import files
from pathlib import Path

PACKAGE = Path(str(files("tankfoot")))
ASSETS = PACKAGE / "site" / "assets"


def modules():
    """The paths of all JavaScript files of the rooms, below the package."""
    paths = (path.relative_to(PACKAGE) for path in PACKAGE.rglob("*.js"))
    return sorted(path.as_posix() for path in paths if path.parts[0] != "site")
