"""The one file that all modules are joined into does what they do one by one."""

import urllib.parse

import pytest
from tankfoot.site.joined import joined, naming_screens

# Each of these does what ECMA-262 (16.2, Modules) says: names imported and renamed, a module run once and only when it
# is needed, a function that may be called above its line, a module asked for as the page runs, names of its own.
MODULES = {
    "physics/gas.js": 'log.push("gas");\nexport const R = 8;\nexport function twice(x) {\nreturn 2 * x;\n}\n',
    "physics/unused.js": 'log.push("unused");\n',
    "browser/storage/kept.js": (
        'import { R } from "../../physics/gas.js";\nlog.push(`kept ${R}`);\nexport class Full extends Error {}\n'
    ),
    "browser/today/today.js": (
        'import { R as gas,\ntwice } from "../../physics/gas.js";\nimport "../storage/kept.js";\n'
        'await told();\nlog.push(`today ${twice(gas)}`);\nconst late = await import("./late.js");\nlate.show("late");\n'
        'async function told() {\nlog.push(new URL("../../", import.meta.url).protocol);\n}\n'
    ),
    "browser/today/late.js": "export async function show(what) {\nlog.push(what);\n}\n",
    "browser/parts/shell.js": 'take("shell");\nfunction take(what) {\nlog.push(what);\n}\n',
}


def test_modules_run_once_when_needed_and_in_order(chromium):
    page = chromium.new_page()
    page.set_content('<script data-screens="browser/today/today browser/parts/shell" type="text/plain"></script>')
    script = "globalThis.log ??= [];" + joined(MODULES).replace("import.meta.url", '"file:///js/tankfoot.js"')
    address = "data:text/javascript," + urllib.parse.quote(script)
    told = page.evaluate(
        """async (address) => {
          const { take } = await import(address);
          await take("browser/today/today.js");
          return [log, Object.keys(take("physics/gas.js")), take("browser/storage/kept.js").Full.name];
        }""",
        address,
    )
    page.close()
    assert told == [["gas", "kept 8", "file:", "shell", "today 16", "late"], ["R", "twice"], "Full"]


@pytest.mark.parametrize(
    "line", ["export default 1;", "export let a = 1;", 'export * from "./b.js";', 'import a from "./b.js";']
)
def test_what_cannot_be_joined_is_refused(line):
    with pytest.raises(ValueError, match="browser/a.js: cannot join"):
        joined({"browser/a.js": line + "\n"})


def test_a_page_has_one_script_that_names_its_screens(tmp_path):
    page = tmp_path / "tanks" / "index.html"
    page.parent.mkdir()
    page.write_text('<head><script type="module" src="../js/browser/tanks/tanks.js"></script>\n'
                    '<script type="module" src="../js/browser/parts/shell.js"></script>\n</head>'
                    '<p><script type="module" src="../js/browser/parts/current_tank.js"></script>', encoding="utf-8")
    assert naming_screens(page, tmp_path) == (
        '<head><script type="module" src="../js/tankfoot.js" data-screens="browser/tanks/tanks browser/parts/shell '
        'browser/parts/current_tank"></script>\n</head><p>'
    )
