"""The ``tankfoot`` command: build and serve the site, sums, words, and the commands of office/commands.py.

What a command needs is imported when it runs: all of it takes longer than the words of ``--help``.
"""

import argparse
import os
import sys
from functools import partial
from pathlib import Path

from tankfoot import __version__
from tankfoot.office.commands import COULD_NOT, REFUSED, add_commands
from tankfoot.quantities.units import SYSTEMS
from tankfoot.site.papers import PAPERS
from tankfoot.wording import words


def main(arguments=None):
    """Runs one command; returns the exit code: 0 done, 1 could not, 2 refused input."""
    options = _parser().parse_args(arguments)
    try:
        code = options.run(options)
        print(end="", flush=True)
        return code
    except _faults() as fault:
        print(fault, file=sys.stderr)
        return COULD_NOT
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # or Python complains again at its end
        return COULD_NOT


def _faults():
    from tankfoot.site.faults import FAULTS

    return FAULTS


def _parser():
    parser = argparse.ArgumentParser(prog="tankfoot", description=words("app")["tagline"])
    parser.add_argument("--version", action="version", version=__version__)
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    build, says = _command(commands, "build", _build)
    build.add_argument("--output", type=Path, default=Path("build"), metavar="DIR", help=says["output"])
    build.add_argument("--address", metavar="URL", help=says["address"])
    build.add_argument("--zip", type=Path, metavar="FILE", help=says["zip"])

    serve, says = _command(commands, "serve", _serve)
    serve.add_argument("--output", type=Path, default=Path("build"), metavar="DIR", help=says["output"])
    serve.add_argument("--port", type=int, default=8000, help=says["port"])
    serve.add_argument("--lan", action="store_true", help=says["lan"])
    serve.add_argument("--certificate", metavar="FILE", help=says["certificate"])
    serve.add_argument("--key", metavar="FILE", help=says["key"])

    print_, says = _command(commands, "print", _print)
    print_.add_argument("--output", type=Path, default=Path("tankfoot-sheets.pdf"), metavar="FILE", help=says["output"])
    print_.add_argument("--paper", choices=PAPERS, default="a5", help=says["paper"])
    print_.add_argument("--address", metavar="URL", help=says["address"])

    reckon_, says = _command(commands, "reckon", _reckon)
    reckon_.add_argument("calculator", metavar="ID", help=says["calculator"])
    reckon_.add_argument("inputs", nargs="*", metavar="NAME=VALUE", help=says["inputs"])
    reckon_.add_argument("--units", choices=SYSTEMS, default="us", help=says["units"])
    reckon_.add_argument("--json", action="store_true", help=says["json"])

    list_, says = _command(commands, "list", _list)
    list_.add_argument("--units", choices=SYSTEMS, default="us", help=says["units"])
    list_.add_argument("--json", action="store_true")

    words_, says = _command(commands, "words", _words)
    asked = words_.add_mutually_exclusive_group(required=True)
    asked.add_argument("--missing", metavar="LANG", help=says["missing"])
    asked.add_argument("--stray", metavar="LANG", help=says["stray"])
    words_.add_argument("--json", action="store_true", help=says["json"])

    add_commands(partial(_command, commands))
    return parser


def _command(commands, name, run):
    """The parser of one command, and its words."""
    says = words("command")[name]
    parser = commands.add_parser(name, help=says["help"])
    parser.set_defaults(run=run)
    return parser, says


def _say(command, key, **facts):
    return words("command")[command][key].format(**facts)


def _build(options):
    from tankfoot.site.archive import zipped
    from tankfoot.site.freezer import freeze
    from tankfoot.site.qr import AddressError, site_root

    try:
        count, size = freeze(options.output, options.address and site_root(options.address))
    except AddressError as wrong:
        return _refused(wrong)
    print(_say("build", "done", count=count, size=f"{size / 1000:.0f}", folder=options.output))
    if options.zip:
        zipped(options.output, options.zip)
        print(_say("build", "zipped", file=options.zip))
    return 0


def _serve(options):
    from tankfoot.site.freezer import freeze
    from tankfoot.site.server import HERE, LAN, address_in_lan, bind, secured

    try:
        host = address_in_lan() if options.lan else HERE
        security = options.certificate and secured(options.certificate, options.key)
        freeze(options.output)
        server = bind(options.output, options.port, LAN if options.lan else HERE, security)
    except OSError as failed:
        print(failed, file=sys.stderr)
        return COULD_NOT
    scheme = "https" if security else "http"
    if server.server_port != options.port:
        print(_say("serve", "taken", port=options.port))
    address = f"{scheme}://{host}:{server.server_port}"
    if options.lan:
        _show_to_phones(f"{address}/", scheme)
    print(_say("serve", "at", address=address), flush=True)
    try:
        server.serve_forever()
    except KeyboardInterrupt:
        server.server_close()
    return 0


def _show_to_phones(address, scheme):
    from tankfoot.site.qr import qr_at_terminal

    if sys.stdout.isatty():
        print(qr_at_terminal(address))
    print(_say("serve", scheme))


def _print(options):
    from tankfoot.site.printing import PrintError, chromium, print_pdf, sheets_html
    from tankfoot.site.qr import AddressError, site_root

    try:
        html = sheets_html(options.paper, options.address and site_root(options.address))
    except AddressError as wrong:
        return _refused(wrong)
    output = options.output / "tankfoot-sheets.pdf" if options.output.is_dir() else options.output
    browser = chromium()
    try:
        if output.suffix == ".html" or browser is None:
            output = output.with_suffix(".html")
            output.write_text(html, encoding="utf-8")
        else:
            print_pdf(browser, html, output)
    except (PrintError, OSError) as failed:
        print(failed, file=sys.stderr)
        return COULD_NOT
    print(output)
    if browser is None:
        print(_say("print", "no_browser"))
    if options.address is None:
        print(_say("print", "no_codes"))
    return 0


def _refused(wrong):
    print(wrong, file=sys.stderr)
    return REFUSED


def _reckon(options):
    from tankfoot.site.sums import reckoned

    return reckoned(options)


def _list(options):
    from tankfoot.site.sums import listed

    return listed(options)


def _words(options):
    from tankfoot.site.left import told

    return told(options)
