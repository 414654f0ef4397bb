"""The few files that all modules are joined into do what they do one by one, and a page asks for what it needs."""

import re

import pytest
from frozen import html_files
from tankfoot.site.joined import joined
from tankfoot.site.parts import parts
from tankfoot.site.scripts import BASE, Scripts, modules_of, naming_screens

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
    "browser/cost/thread.js": 'import { twice } from "../../physics/gas.js";\npostMessage(twice(8));\n',
    "browser/tanks/tanks.js": 'log.push("tanks");\n',
    "browser/parts/shell.js": 'take("shell");\nfunction take(what) {\nlog.push(what);\n}\n',
}


PAGE = """<!doctype html><html><head>
<script type="module" src="js/browser/today/today.js"></script>
<script type="module" src="js/browser/parts/shell.js"></script>
</head><body></body></html>"""
OTHER_PAGE = PAGE.replace("today/today", "tanks/tanks")
LOG = "globalThis.log ??= [];\n"


def scripts_of(modules):
    pages = {"index": modules_of(PAGE), "other": modules_of(OTHER_PAGE)}
    return Scripts(modules, pages, "index", {"browser/cost/thread.js"})


@pytest.fixture
def frozen(tmp_path):
    """A folder with a page and the files that its modules are joined into."""
    scripts = scripts_of(MODULES)
    for address, text in scripts.files().items():
        (tmp_path / address).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / address).write_text(LOG + text, encoding="utf-8")
    (tmp_path / "index.html").write_text(naming_screens(PAGE, "js", scripts.of("index")), encoding="utf-8")
    return tmp_path


def test_modules_run_once_when_needed_and_in_order(chromium, serve, frozen):
    server = serve(frozen)
    page = chromium.new_page()
    page.goto(server.address)
    told = page.evaluate(
        """async (address) => {
          const { take } = await import(address);
          await take("browser/today/today.js");
          return [log, Object.keys(take("physics/gas.js")), take("browser/storage/kept.js").Full.name];
        }""",
        server.script,
    )
    page.close()
    assert told == [["gas", "kept 8", "http:", "shell", "today 16", "late"], ["R", "twice"], "Full"]


def test_a_thread_runs_its_module_and_asks_for_no_other_files(chromium, serve, frozen):
    server = serve(frozen)
    page = chromium.new_page()
    page.goto(server.address)
    page.wait_for_function("() => log.includes('late')")
    server.asked.clear()
    told = page.evaluate(
        """(address) => new Promise((resolve) => {
          new Worker(address, { type: "module" }).onmessage = ({ data }) => resolve(data);
        })""",
        server.address + "js/browser/cost/thread.js",
    )
    page.close()
    assert told == 16
    texts = [(frozen / path.lstrip("/")).read_text(encoding="utf-8") for path in server.asked]
    needs = re.compile(r'"(physics/gas|browser/cost/thread)\.js": \(')
    assert [text for text in texts if '": (' in text and not needs.search(text)] == []


def test_a_file_of_another_version_is_refused(chromium, serve, frozen):
    (late,) = (file for file in (frozen / "js").glob("*.js") if '"browser/today/late.js": (' in file.read_text("utf-8"))
    assert late.stem != BASE
    late.write_text(re.sub(r'(\$add\("[^"]+", )"[0-9a-f]+"', r'\1"0"', late.read_text("utf-8")), encoding="utf-8")
    page = chromium.new_page()
    page.goto(serve(frozen).address)
    refused = page.evaluate(
        """async () => (await import("./js/base.js")).take("browser/today/today.js").catch((error) => error.message)"""
    )
    page.close()
    assert re.search(r"of another version", refused)


def test_modules_that_the_same_pages_need_are_one_file():
    needs = {"a": {"x", "y", "only a"}, "b": {"x", "y", "only b"}, "c": {"x", "y"}}
    sizes = dict.fromkeys(["x", "y", "only a", "only b"], 1000)
    assert parts(needs, sizes, {}, one_more=0) == [("x", "y"), ("only a",), ("only b",)]
    # One file fewer for page a is worth 1500, and costs b and c 1000 each: not worth it. Worth 2500 it is.
    assert parts(needs, sizes, {}, one_more=1500) == [("x", "y"), ("only a",), ("only b",)]
    assert parts(needs, sizes, {}, one_more=2500) == [("only a", "only b", "x", "y")]
    # Where page a counts as two, 1500 twice is worth what it costs the others.
    assert parts(needs, sizes, {"a": 2}, one_more=1500) == [("only a", "x", "y"), ("only b",)]


def test_every_module_of_the_site_is_in_one_file_and_each_page_names_all_that_it_needs(site):
    texts = {file.stem: file.read_text(encoding="utf-8") for file in (site / "js").glob("*.js")}
    parts = {name: re.split(r'"([\w/]+\.js)":\(', text)[1:] for name, text in texts.items()}
    of = {path: name for name, part in parts.items() for path in part[::2]}
    assert len(of) == sum(len(part) // 2 for part in parts.values()) > 250
    bodies = {path: body for part in parts.values() for path, body in zip(part[::2], part[1::2], strict=True)}
    for page in html_files(site):
        html = page.read_text(encoding="utf-8")
        named = re.search(r'data-screens="([^"]+)" data-files="([^"]+)"', html)
        files, wanted = named[2].split(), [f"{screen}.js" for screen in named[1].split()]
        assert len(set(files)) == len(files) == len(re.findall('<script type="module"', html))
        seen = set()
        while wanted:
            path = wanted.pop()
            if path not in seen:
                seen.add(path)
                assert of[path] in files, f"{page}: {path}"
                wanted += re.findall(r'\$take\("([\w/]+\.js)"\)', bodies[path])


@pytest.mark.parametrize(
    "line", ["export default 1;", "export let a = 1;", 'export * from "./b.js";', 'import a from "./b.js";']
)
def test_what_cannot_be_joined_is_refused(line):
    with pytest.raises(ValueError, match="browser/a.js: cannot join"):
        joined({"browser/a.js": line + "\n"})


def test_a_page_names_its_screens_and_its_files():
    html = ('<head><script type="module" src="../js/browser/tanks/tanks.js"></script>\n'
            '<script type="module" src="../js/browser/parts/shell.js"></script>\n</head>'
            '<p><script type="module" src="../js/browser/parts/current_tank.js"></script>')
    assert naming_screens(html, "../js", ["base", "browser-tanks"]) == (
        '<head><script type="module" src="../js/base.js" data-screens="browser/tanks/tanks browser/parts/shell '
        'browser/parts/current_tank" data-files="base browser-tanks"></script>\n'
        '<script type="module" src="../js/browser-tanks.js"></script>\n</head><p>'
    )


def test_a_page_is_asked_for_its_screens_and_its_sums():
    more = '<main data-calculator="purge-volume"></main><p data-asks-for="browser/parts/alarms"></body>'
    html = PAGE.replace("</body>", more)
    assert modules_of(html) == [
        "browser/today/today.js", "browser/parts/shell.js", "browser/parts/alarms.js",
        "calculators/purge_volume.js",
    ]
