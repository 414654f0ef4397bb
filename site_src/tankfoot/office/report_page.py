"""The report as one page that needs nothing else: no script, no other file, no address; it prints on A4 and Letter."""

from importlib.resources import files

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup

from tankfoot import __version__
from tankfoot.batches.wall_clock import wall_text
from tankfoot.office.seen_page import strip_pictures, trust_sentences
from tankfoot.quantities.format import format_plain, format_result
from tankfoot.quantities.units import MONEY_SIGN, offered, units
from tankfoot.report.facts import is_told
from tankfoot.report.limits import natural_limits, signals
from tankfoot.report.pictures import bar, dots, run_chart
from tankfoot.report.svg import svg_text
from tankfoot.usual.purges import tells
from tankfoot.wording import plural, words
from tankfoot.wording.languages import LANGUAGE

KINDS = {  # what is counted, and the kind of quantity that it is
    "overrun": "bucket_volume", "money_overrun": "money", "saved": "bucket_volume", "money_saved": "money",
    "beer_in_solids": "bucket_volume", "solids": "bucket_volume", "volume_lost": "bucket_volume",
    "co2_mass": "gas_mass", "seconds": "stay", "money": "money", "money_beer": "money", "money_co2": "money",
    "money_hand": "money",
}
HEADLINE = {"overrun": "overrun", "money_overrun": "overrun_worth", "saved": "saved", "money_saved": None}
IN_TABLE = ("overrun", "money_overrun", "beer_in_solids", "solids", "co2_mass", "seconds", "money")
COUNTS = ("wrong", "stops", "cards", "skipped")
BEYOND, RUNS = ("above_limit", "below_limit"), ("run_above", "run_below")
PARTS = ("solids", "beer_in_solids", "overrun")
LEFT = ("volume_lost", *PARTS)  # the whole, and what it is the sum of
IN_CHART = 60  # purges
FEW_DIGITS = 3
BARS, ROWS = 12, 120  # of batches, and of any table


def report_html(report, zone, system, made):
    """The text of the page. ``made``: the instant at which the last of the files was written."""
    page = _Page(report, zone, system)
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    template = environment.from_string((files(__package__) / "report.html").read_text(encoding="utf-8"))
    own, said = words("cost"), words("screens")["cost"]
    sheets = (files("tankfoot.report") / "pictures.css", files(__package__) / "report.css")
    style = Markup("\n".join(sheet.read_text(encoding="utf-8") for sheet in sheets))
    return template.render(page=page, own=own, said=said, style=style, language=LANGUAGE, version=__version__,
                           made=wall_text(made, zone) if made else "")


class _Page:
    """What the template shows of a report, worded in one system of units."""

    def __init__(self, report, zone, system):
        self.report, self.zone, self.system = report, zone, system
        self.pictures = 0
        self.said, self.solids = words("screens")["cost"], words("purge")["solids"]

    @property
    def headline(self):
        """[(label, text, ±, whether it tells)] of the overrun, what it is worth, and what was saved."""
        figures = self.report.figures
        for name, key in HEADLINE.items():
            if figures[name]["told"]:
                amount = {"value": figures[name]["sum"], "uncertainty": figures[name]["uncertainty"]}
                label = self.said[key] if key else self.said["measures"][name]
                yield label, *self._pair(figures[name], KINDS[name]), tells(amount)

    @property
    def sentences(self):
        """What else is said of all purges."""
        report, said = self.report, self.said
        carried, share = report.figures["beer_in_solids"], report.share
        if self._add_up():
            amounts = {name: self._short(report.figures[name]["sum"], "bucket_volume") for name in LEFT}
            yield said["parts"].format(**amounts)
        if carried["told"]:
            text, spread = self._pair(carried, "bucket_volume")
            key = "carried" if carried["assumed"] > 0.0 else "carried_measured"
            yield said[key].format(text=text, spread=spread, assumed=self._short(carried["assumed"], "bucket_volume"))
        if share:
            facts = {"share": self._short(share["lost"] / share["filled"], "share")}
            facts |= {name: self._short(share[name], "tank_volume") for name in ("lost", "filled")}
            yield plural(said["share"], share["batches"], **facts)
            if share["packed"] > 0.0:
                unit = offered("tank_volume", self.system)[0]
                each = share["lost"] / share["packed"] * units()[unit].factor
                yield said["packed"].format(unit=f"1 {unit}", each=self._short(each, "bucket_volume"))
        yield self._baseline()
        if not report.figures["money_beer"]["told"]:
            yield said["not_priced"]

    def _add_up(self):
        """Whether the parts are told of every purge that tells the whole."""
        told = {self.report.figures[name]["told"] for name in LEFT}
        return len(told) == 1 and told != {0}

    def _baseline(self):
        baseline = self.report.baseline
        if not baseline:
            return self.said["no_baseline"]
        kinds = [
            self.said["saved_kind"].format(kind=self.solids[kind], seconds=self._short(told["seconds"], "duration"))
            for kind, told in baseline.items()
        ]
        count = sum(told["purges"] for told in baseline.values())
        return plural(self.said["saved_from"], count, kinds=", ".join(kinds))

    def figures(self):
        """[(label, in all, usually)] of everything that any purge tells."""
        for name, kind in KINDS.items():
            made = self.report.figures[name]
            if made["told"]:
                yield self.said["measures"][name], self._said(made, kind), self._usual(made, kind)

    def groups(self, by):
        """A table of groups: its columns, and its rows of a label and cells."""
        shown = [name for name in IN_TABLE if self.report.figures[name]["told"]]
        heads = [self.said["columns"]["purges"], *(self.said["measures"][name] for name in shown)]
        rows = [(self.label(by, key), [str(made["purges"]), *(self._said(made[name], KINDS[name]) for name in shown)])
                for key, made in self._shown(by)]
        return heads, rows

    def left_out(self, by):
        """A sentence about groups that are too many to be shown, "" where none is."""
        count = len(self.report.groups[by]) - ROWS
        return plural(words("cost")["report"]["more"], count) if count > 0 else ""

    def _shown(self, by):
        """The groups that took most, in their order; of batches the last ones."""
        groups = self.report.groups[by]
        if len(groups) <= ROWS or by == "batches":
            return groups[-ROWS:]
        most = sorted(groups, key=lambda group: -group[1]["overrun"]["sum"])[:ROWS]
        names = {name for name, _ in most}
        return [group for group in groups if group[0] in names]

    def label(self, by, key):
        """The name of a group."""
        if by == "solids":
            return self.solids[key]
        return key or self.said["no_tank"]

    def dots(self, by):
        """The overrun by group, as a picture."""
        rows = []
        for key, made in self._shown(by):
            told, (text, spread) = made["overrun"], self._pair(made["overrun"], KINDS["overrun"])
            rows.append({"label": self.label(by, key), "text": f"{text} {spread}" if told["told"] else "–",
                         "value": self._in_unit(told["sum"]) if told["told"] else None,
                         "uncertainty": self._in_unit(told["uncertainty"])})
        says = "; ".join(f"{row['label']}: {row['text']}" for row in rows)
        return self._svg(dots(rows, {"title": words("cost")["where"], "says": says, "across": self._axis}))

    def overruns(self):
        """The last purges that tell an overrun, in time: [(day, amount)], in SI."""
        facts = self.report.told.facts
        told = [row for row in range(len(facts["id"])) if is_told(facts["overrun"][row])]
        told.sort(key=lambda row: (facts["at"][row], facts["id"][row]))
        for row in told[-IN_CHART:]:
            doubt = facts["overrun_doubt"][row]
            yield facts["at"][row], {"value": facts["overrun"][row], "uncertainty": doubt if is_told(doubt) else None}

    def chart(self):
        """The overrun by purge in time with its natural limits, and a sentence where a rule is broken."""
        told = list(self.overruns())
        values = [self._in_unit(amount["value"]) for _, amount in told]
        limits = natural_limits(values)
        broken = signals(values, limits)
        points = [{"value": value, "uncertainty": self._in_unit(amount["uncertainty"] or 0.0), "rule": rule,
                   "day": wall_text(at, self.zone)[:10]}
                  for (at, amount), value, rule in zip(told, values, broken, strict=True)]
        picture = run_chart(points, limits, self._chart_words(limits, len(told)))
        return self._svg(picture), " ".join(self._broken(points))

    def _broken(self, points):
        """A word about the chart only where a rule is broken: what is beyond a limit, the last of eight in a row."""
        beyond = [point["day"] for point in points if point["rule"] in BEYOND]
        if beyond:
            yield plural(self.said["unusual"], len(beyond), when=", ".join(beyond))
        for run in RUNS:
            days = [point["day"] for point in points if point["rule"] == run]
            if days:
                yield self.said[run].format(when=days[-1])

    def _chart_words(self, limits, count):
        said = self.said
        if limits is None:
            says = plural(said["chart_few"], count)
        else:
            shown = {name: self._short_in_unit(max(0.0, limits[name])) for name in ("centre", "low", "high")}
            says = said["chart"].format(count=count, **shown)
        return {"title": words("cost")["better"], "says": says, "up": self._axis, "rules": said["rules"],
                **self._line_words(limits)}

    def _line_words(self, limits):
        keys = {"centre": "centre", "low": "limit", "high": "limit"}
        return {name: self.said[key].format(value=format_plain(limits[name] if limits else 0.0, FEW_DIGITS))
                for name, key in keys.items()}

    def bars(self):
        """What left each of the last batches as one bar: [(label, picture)]."""
        for key, made in self.report.groups["batches"][-BARS:]:
            if made["volume_lost"]["told"]:
                parts = [self._part(name, made) for name in PARTS if made[name]["told"]]
                whole = self._part("volume_lost", made)
                says = "; ".join(f"{part['label']}: {part['text']}" for part in [*parts, whole])
                yield key, self._svg(bar(parts, whole, {"title": key, "says": says}))

    def _part(self, name, made):
        return {"part": name, "label": self.said["measures"][name], "text": self._said(made[name], KINDS[name]),
                "value": self._in_unit(made[name]["sum"]), "uncertainty": self._in_unit(made[name]["uncertainty"])}

    def seen(self):
        """What is said of what a camera saw, and its strips; nothing where none watched."""
        trust = self.report.trust
        pictures = [self._svg(picture) for picture in strip_pictures(self.report.told.runs, self.zone, self.system)]
        return [*trust_sentences(trust, self.system)] if trust else [], pictures

    def misses(self):
        """[(month, counts)] and [(reason, how many)]."""
        rows = [(month, [str(told[name]) for name in COUNTS]) for month, told in self.report.misses]
        reasons = [pair for _, told in self.report.misses for pair in told["reasons"]]
        return rows, reasons

    def time(self, instant):
        """An instant by the clock on the wall."""
        return wall_text(instant, self.zone)

    def amount(self, amount):
        """A volume and its ±."""
        shown = format_result(amount["value"], amount["uncertainty"], offered("bucket_volume", self.system)[0])
        return f"{shown['text']} {shown['give_or_take'] or ''}".strip()

    def _svg(self, picture):
        self.pictures += 1
        return Markup(svg_text(picture, f"picture-{self.pictures}"))

    @property
    def _axis(self):
        unit = offered("bucket_volume", self.system)[0]
        return self.said["axis"].format(what=self.said["measures"]["overrun"], unit=unit)

    def _in_unit(self, si):
        return si / units()[offered("bucket_volume", self.system)[0]].factor

    def _short_in_unit(self, value):
        return self._short(value * units()[offered("bucket_volume", self.system)[0]].factor, "bucket_volume")

    def _said(self, made, kind):
        return " ".join(self._pair(made, kind))

    def _pair(self, made, kind):
        shown = format_result(made["sum"], made["uncertainty"], offered(kind, self.system)[0])
        return self._money(shown["text"]), self._money(shown["give_or_take"] or "")

    def _usual(self, made, kind):
        return plural(self.said["of"], made["told"], text=self._short(made["median"], kind))

    def _short(self, si, kind):
        shown = format_result(float(f"{si:.{FEW_DIGITS}g}"), None, offered(kind, self.system)[0])
        return self._money(shown["text"])

    def _money(self, text):
        return text.replace(MONEY_SIGN, self.report.told.basis["currency"])
