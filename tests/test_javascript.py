"""ESLint and the TypeScript compiler on the JavaScript, by the commands that the contributors' page shows."""

import re
import shlex
import shutil
import subprocess
from pathlib import Path

import pytest
from tankfoot.site.declared import DECLARED

ROOT = Path(__file__).parent.parent
COMMANDS = re.findall(r"^    npx --yes (.+)$", (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"), re.MULTILINE)
TYPED = sorted((ROOT / "site_src" / "tankfoot").glob("*/declared.d.ts"))


@pytest.mark.parametrize("command", COMMANDS)
def test_the_javascript_is_sound(command):
    words = shlex.split(command)
    if not shutil.which("npx"):
        pytest.skip("no Node: on Debian, apt-get install npm")
    offline = ["npx", "--yes", "--offline", *words]  # no test needs a network
    done = subprocess.run(offline, cwd=ROOT, capture_output=True, text=True, check=False)
    if "ENOTCACHED" in done.stderr:
        pytest.skip(f"{tool(words)} is not kept on this machine; to get it, run once: npx --yes {command}")
    assert done.returncode == 0, done.stdout + done.stderr


def tool(words):
    return words[2 * words.count("-p")]


def test_both_tools_are_asked():
    assert [tool(shlex.split(command)) for command in COMMANDS] == ["eslint", "tsc"]


@pytest.mark.parametrize("typed", TYPED, ids=lambda path: path.parent.name)
def test_the_types_of_what_the_build_writes_name_what_it_writes(typed):
    names = re.findall(r"^export const (\w+):", typed.read_text(encoding="utf-8"), re.MULTILINE)
    assert names == list(DECLARED[typed.parent.name]())
