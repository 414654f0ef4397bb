"""What a frame of a rehearsal costs a slowed phone: ``python tests/frame_cost.py [--rounds N] [--json]``.

While it runs, at 360 x 640, four times slowed: the time that the page's own thread takes of a processor, by
Chromium's trace, from one frame to the next; what other programs take of the machine meanwhile is not in it. In turns
with a page that does nothing but ask for frames and turn one needle, which is what a frame costs whoever asks.
Painting itself, on other threads or a phone's graphics chip, is not in it.
"""

import argparse
import json
import statistics
import tempfile
from pathlib import Path

from browsers import PHONE, Served, light_options
from playwright.sync_api import sync_playwright
from tankfoot.site.freezer import freeze

SLOWED = 4
SECONDS = 5.0
BUDGET = 1000.0 / 60.0  # ms
CATEGORIES = ["-*", "devtools.timeline", "disabled-by-default-devtools.timeline", "toplevel", "v8"]
# The names of Chromium's trace events, as its developer tools sum them up.
PARTS = {
    "script": (
        "FireAnimationFrame", "FunctionCall", "TimerFire", "EventDispatch", "RunMicrotasks", "MajorGC", "MinorGC",
    ),
    "style": ("UpdateLayoutTree",),
    "layout": ("Layout", "HitTest"),
    "paint": (
        "PrePaint", "Paint", "Layerize", "Commit", "UpdateLayer",
        "IntersectionObserverController::computeIntersections",
    ),
}
PART_OF = {name: part for part, names in PARTS.items() for name in names}
FRAME = "FireAnimationFrame"
FLOOR = """<!doctype html><meta name="viewport" content="width=device-width"><svg viewBox="0 0 100 100" width="100">
<path id="needle" d="M50 58L50 14" stroke="#B3001B" stroke-width="6"/></svg><script>
const needle = document.getElementById("needle");
const turn = (time) => {
  needle.setAttribute("transform", `rotate(${(time / 100 % 360).toFixed(1)} 50 50)`);
  requestAnimationFrame(turn);
};
requestAnimationFrame(turn);
</script>"""
FLOOR_AT = "floor.html"


def rehearsal(page, served):
    page.goto(f"{served.address}rehearsal/run/#scenario=plain-trub&anew")
    page.locator("[data-purge][data-ready]").wait_for()
    page.locator(".sim-stack [data-turn=isolation]").click()
    page.locator("[data-sim-flow]").press("ArrowRight")
    page.locator("[data-sim-flow]").press("ArrowRight")
    page.locator("[data-sim-end][data-flows]").wait_for()


def floor(page, served):
    page.goto(served.address + FLOOR_AT)


def frames_of(trace):
    """[{part: ms}] of each frame of the traced page's thread: its script, style, layout and paint."""
    events = [each for each in trace["traceEvents"] if each["name"] in PART_OF and "tdur" in each]
    threads = [(each["pid"], each["tid"]) for each in events if each["name"] == FRAME]
    thread = max(set(threads), key=threads.count)
    mine = sorted((each for each in events if (each["pid"], each["tid"]) == thread), key=lambda each: each["ts"])
    frames, open_ones = [], []
    for each in mine:
        start, took = each["ts"], each["tdur"] / 1000
        open_ones = [(end, part, frame) for end, part, frame in open_ones if end > start]
        if each["name"] == FRAME:
            frames.append(dict.fromkeys(PARTS, 0.0))
        if not frames:
            continue
        part = PART_OF[each["name"]]
        if open_ones:  # what a part does for another counts for the inner one
            _, outer, frame = open_ones[-1]
            frames[frame][outer] -= took
        frames[-1][part] += took
        open_ones.append((start + each["dur"], part, len(frames) - 1))
    return frames[1:-1]  # the first and last may be cut


def measured(playwright, served, opens):
    """[{part: ms}] of the frames of a few seconds."""
    browser = playwright.chromium.launch(**light_options(playwright))
    context = browser.new_context(**{**PHONE, "viewport": {"width": 360, "height": 640}}, service_workers="block")
    page = context.new_page()
    opens(page, served)
    context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
    page.wait_for_timeout(1000)
    browser.start_tracing(page=page, categories=CATEGORIES)
    page.wait_for_timeout(1000 * SECONDS)
    trace = json.loads(browser.stop_tracing())
    browser.close()
    return frames_of(trace)


def told(frames):
    """{"frames", "over", part and "all": [median, 95 of 100 within, longest]}, ms."""
    all_of_it = [sum(frame.values()) for frame in frames]
    columns = {part: [frame[part] for frame in frames] for part in PARTS} | {"all": all_of_it}
    return {"frames": len(frames), "over": sum(each > BUDGET for each in all_of_it)} | {
        name: [statistics.median(each), statistics.quantiles(each, n=20)[-1], max(each)]
        for name, each in columns.items()
    }


def cost(playwright, served, rounds):
    """{page: what is told of its frames}, the pages in turns."""
    pages = {"rehearsal": rehearsal, "floor": floor}
    found = {name: [] for name in pages}
    for _ in range(rounds):
        for name, opens in pages.items():
            found[name] += measured(playwright, served, opens)
    return {name: told(frames) for name, frames in found.items()}


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=3, metavar="N")
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        site = Path(folder) / "site"
        freeze(site)
        (site / FLOOR_AT).write_text(FLOOR, encoding="utf-8")
        served = Served(site)
        found = cost(playwright, served, asked.rounds)
        served.stop()
    if asked.json:
        print(json.dumps(found))
        return
    print(f"ms a frame, {SLOWED} times slowed: median, 95 of 100 within, longest; for 60 a second: {BUDGET:.1f}")
    for name, figures in found.items():
        print(f"{name}: {figures['frames']} frames, {figures['over']} over")
        for part in (*PARTS, "all"):
            print(f"  {part:7}" + "".join(f"{each:8.2f}" for each in figures[part]))


if __name__ == "__main__":
    main()
