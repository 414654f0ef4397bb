"""The site on a host: in one file, from two common servers set up as docs/deploy.md says, and in the local network."""

import gzip
import os
import re
import shutil
import ssl
import subprocess
import sys
import time
import urllib.error
import urllib.request
import zipfile
from getpass import getuser
from pathlib import Path
from threading import Thread
from uuid import RFC_4122, UUID

import pytest
import zxingcpp
from browsers import FIRST_PORT, PHONE, apt_install, light_options
from PIL import Image
from playwright.sync_api import expect
from start_cost import MAIN
from tankfoot.cli import main
from tankfoot.site.qr import qr_at_terminal
from tankfoot.site.scripts import ALL
from tankfoot.site.server import address_in_lan, bind, secured

DOCS = Path(__file__).parent.parent / "docs" / "deploy.md"
BLOCK = re.compile(r"```(\w+)\n(.*?)```", re.DOTALL)
PATIENCE = 20  # seconds for a server to come up
# IANA media types; RFC 9239 makes text/javascript the one for scripts, and application/javascript the former one.
TYPES = {
    ".html": {"text/html"}, ".css": {"text/css"}, ".js": {"text/javascript", "application/javascript"},
    ".json": {"application/json"}, ".svg": {"image/svg+xml"}, ".png": {"image/png"},
    ".webmanifest": {"application/manifest+json"},
}
SMALL = 1400  # bytes, which one packet holds: a server may leave them as they are
SMALLER = {".css", ".js", ".json", ".svg", ".webmanifest", ".html"}
NGINX = """daemon off; user {user}; pid {folder}/pid; error_log {folder}/errors; worker_processes 1;
events {{}}
http {{
  include /etc/nginx/mime.types; access_log off;
  client_body_temp_path {folder}/1; proxy_temp_path {folder}/2; fastcgi_temp_path {folder}/3;
  uwsgi_temp_path {folder}/4; scgi_temp_path {folder}/5;
  {server}
}}"""


def told(kind):
    return dict(BLOCK.findall(DOCS.read_text(encoding="utf-8")))[kind]


def nginx(site, port, folder):
    """The command for the server of the docs, on this port and without its certificate."""
    server = re.sub(r"^\s*ssl_.*\n", "", told("nginx"), flags=re.MULTILINE)
    server = server.replace("listen 443 ssl;", f"listen 127.0.0.1:{port};").replace("/srv/tankfoot", str(site))
    (folder / "nginx.conf").write_text(NGINX.format(user=getuser(), folder=folder, server=server), encoding="utf-8")
    return ["nginx", "-c", str(folder / "nginx.conf"), "-p", str(folder)]


def caddy(site, port, folder):
    server = told("caddy").replace("cellar.example", f"http://127.0.0.1:{port}").replace("/srv/tankfoot", str(site))
    (folder / "Caddyfile").write_text("{\n    admin off\n}\n" + server, encoding="utf-8")
    return ["caddy", "run", "--adapter", "caddyfile", "--config", str(folder / "Caddyfile")]


@pytest.fixture(params=[nginx, caddy], ids=["nginx", "caddy"])
def host(request, site, tmp_path):
    """The address of the site on a server that is no part of the project."""
    name = request.param.__name__
    if not shutil.which(name) and not (apt_install(name) and shutil.which(name)):
        pytest.skip(f"no {name}: apt-get install {name}")
    port = FIRST_PORT + 30 + [nginx, caddy].index(request.param)
    with (tmp_path / "says").open("w") as says:
        home = {**os.environ, "HOME": str(tmp_path)}
        server = subprocess.Popen(request.param(site, port, tmp_path), stdout=says, stderr=says, env=home)
        try:
            wait_for(f"http://127.0.0.1:{port}/", server, tmp_path / "says")
            yield f"http://127.0.0.1:{port}/"
        finally:
            server.terminate()
            server.wait(PATIENCE)


def wait_for(address, server, says):
    until = time.monotonic() + PATIENCE
    while True:
        try:
            return urllib.request.urlopen(address).close()
        except urllib.error.URLError as wrong:
            if server.poll() is not None or time.monotonic() > until:
                raise AssertionError(f"{wrong}\n{says.read_text()}") from wrong
            time.sleep(0.05)


def asked(address, **headers):
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    return urllib.request.urlopen(urllib.request.Request(address, headers=named))


def refused(address, **headers):
    with pytest.raises(urllib.error.HTTPError) as answer:
        asked(address, **headers)
    with answer.value as told:
        return told.code, told.read()


def test_a_host_set_up_as_the_docs_say_serves_every_file_as_a_phone_wants_it(host, site):
    for path in sorted(path for path in site.rglob("*") if path.is_file() and path.name != "README"):
        address = host + path.relative_to(site).as_posix().removesuffix("index.html")
        with asked(address, Accept_Encoding="gzip") as answer:
            body, headers = answer.read(), answer.headers
        is_packed = headers["Content-Encoding"] == "gzip"
        assert (gzip.decompress(body) if is_packed else body) == path.read_bytes()
        assert path.suffix == ".pack" or headers["Content-Type"].split(";")[0] in TYPES[path.suffix], path
        assert is_packed == (path.suffix in SMALLER) or path.stat().st_size < SMALL, path
        assert (headers["Cache-Control"], headers["X-Content-Type-Options"]) == ("no-cache", "nosniff")
        assert headers["Content-Security-Policy"] == "frame-ancestors 'none'"
        assert headers["Permissions-Policy"] == "camera=(self), microphone=(), geolocation=()"
    with asked(host) as answer:
        tag = answer.headers["ETag"]
    assert refused(host, If_None_Match=tag) == (304, b"")  # RFC 9110, 13.1.2
    assert refused(host + "nowhere/") == (404, (site / "404.html").read_bytes())


def test_a_phone_keeps_the_app_from_such_a_host(host, keeping_phone):
    page = keeping_phone.new_page()
    page.goto(host)
    expect(page.locator("[data-kept]").first).to_have_text("Ready to use without signal.", timeout=20000)


def test_the_same_files_give_the_same_archive_on_another_machine(tmp_path):
    archives = []
    for name, seed, zone in (("one", "1", "UTC"), ("two", "2", "America/Denver")):
        folder = tmp_path / name
        folder.mkdir()
        environment = {**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "LC_ALL": "C"}
        command = [sys.executable, "-c", MAIN, "build", "--output", "site", "--zip", "a.zip"]
        subprocess.run(command, check=True, cwd=folder, env=environment, capture_output=True)
        subprocess.run(["sha256sum", "-c", "a.zip.sha256"], check=True, cwd=folder, capture_output=True)
        archives.append((folder / "a.zip").read_bytes())
        with zipfile.ZipFile(folder / "a.zip") as archive:
            packed = {member: archive.read(member) for member in archive.namelist()}
        written = (path for path in (folder / "site").rglob("*") if path.is_file())
        assert packed == {path.relative_to(folder / "site").as_posix(): path.read_bytes() for path in written}
    assert archives[0] == archives[1]


@pytest.mark.parametrize("accepted", ["gzip", "br, gzip;q=0", ""])
def test_the_own_server_packs_text_for_whoever_takes_it(served, site, accepted):
    with asked(served.address + "emergency/", Accept_Encoding=accepted) as answer:
        body, headers = answer.read(), answer.headers
    assert headers["Content-Encoding"] == ("gzip" if accepted == "gzip" else None)
    assert (gzip.decompress(body) if accepted == "gzip" else body) == (site / "emergency" / "index.html").read_bytes()


def test_the_code_at_the_terminal_leads_a_phone_there():
    rows = qr_at_terminal("http://192.0.2.7:8000/").splitlines()
    # Two modules above each other in a character, light ones drawn (Unicode, Block Elements).
    light = {" ": (0, 0), "▀": (1, 0), "▄": (0, 1), "█": (1, 1)}
    lines = [[light[each][half] for each in row] for row in rows for half in (0, 1)]
    picture = Image.new("L", (len(lines[0]), len(lines)))
    picture.putdata([255 * each for line in lines for each in line])
    found, = zxingcpp.read_barcodes(picture.resize((picture.width * 4, picture.height * 4), Image.Resampling.NEAREST))
    assert found.text == "http://192.0.2.7:8000/"


def test_with_a_certificate_the_server_speaks_https(site, tmp_path):
    certificate, key = tmp_path / "c.pem", tmp_path / "k.pem"
    made = ["openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2", "-subj", "/CN=cellar.example"]
    names = ["-addext", "subjectAltName=IP:127.0.0.1", "-keyout", str(key), "-out", str(certificate)]
    subprocess.run([*made, *names], check=True, capture_output=True)
    server = bind(site, FIRST_PORT + 34, security=secured(str(certificate), str(key)))
    Thread(target=server.serve_forever, args=(0.02,), daemon=True).start()
    trusting = ssl.create_default_context(cafile=str(certificate))
    with urllib.request.urlopen(f"https://127.0.0.1:{server.server_port}/", context=trusting) as answer:
        assert answer.read() == (site / "index.html").read_bytes()
    server.shutdown()
    server.server_close()


def test_a_certificate_that_does_not_fit_is_said_in_a_sentence(tmp_path, capsys):
    (tmp_path / "c.pem").write_text("nothing", encoding="utf-8")
    assert main(["serve", "--output", str(tmp_path / "site"), "--certificate", str(tmp_path / "c.pem")]) == 1
    assert capsys.readouterr().err.startswith(f"{tmp_path / 'c.pem'}: no certificate in PEM with its key")
    assert not (tmp_path / "site").exists()


def test_a_first_look_without_https_begins_a_purge(playwright, served):
    # A page from a host of another name than localhost is no secure context (W3C Secure Contexts, 3.1).
    mapped = ["--host-resolver-rules=MAP cellar.example 127.0.0.1"]
    options = light_options(playwright)
    browser = playwright.chromium.launch(**options | {"args": [*options["args"], *mapped]})
    page = browser.new_context(**PHONE).new_page()
    faults = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    root = f"http://cellar.example:{served.port}/"
    page.goto(root)
    assert not page.evaluate("isSecureContext")
    ids = page.evaluate("""async (url) => {
      const { newEntry } = (await import(url)).take("browser/storage/record.js");
      return [newEntry("tank", {}).id, newEntry("tank", {}).id];
    }""", root + ALL)
    assert {(UUID(each).version, UUID(each).variant, str(UUID(each))) for each in ids} == {
        (4, RFC_4122, each) for each in ids
    }
    assert ids[0] != ids[1]
    page.goto(f"{root}purge/")
    page.locator("[data-purge][data-ready]").wait_for()
    assert faults == []
    browser.close()


def test_the_address_in_the_local_network_is_one_of_this_machine():
    try:
        address = address_in_lan()
    except OSError:
        pytest.skip("this machine is in no network")
    server = bind(Path(__file__).parent, FIRST_PORT + 35, where=address)
    assert server.server_address[0] == address
    server.server_close()
