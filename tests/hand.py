"""A hand on the guided purge: what it types and taps at each step, and how long it looks before it taps."""

from weakref import WeakSet

READINGS = {
    "choose": {"headspace": "3 bbl", "temperature": "36 °F"},
    "sanitise": {"contact_time": "1 s"},
    "pressure": {"rated_pressure": "15 psi", "pressure_found": "8 psi", "target_pressure": "12 psi"},
    "gas": {"pressure_before": "12 psi"},
    "margin": {"planned_draw": "5 gal"},
    "after": {"pressure_after": "10.5 psi", "flow": "2 gal/min", "collected_volume": "4 gal"},
}
CAP_OFF = ("across", "tank-side", "understood", "outer", "cap-off", "wet", "time-over")
HOOKED_UP = (
    "hooked-up", "at-pressure", "gas-shut", "fits", "opened", "colour-change", "closed", "read", "seen", "shut",
    "let-out", "quiet", "ran-clear", "within-reach", "tank-side", "understood", "outer", "apart", "rinsed", "capped",
    "topped-up", "save",
)
# One way through all steps with the gas shut, the wrong clamp touched once at each gate.
TAPS = ("begin", "all-there", *CAP_OFF, *HOOKED_UP)
# Where no tank is known, nobody has recorded how its cap is let down: no cap comes off, and the stack hangs already.
TAPS_WITHOUT_A_TANK = ("begin", "all-there", "stack-hangs", *HOOKED_UP)
LOOK = 1100  # ms: a question takes a second to read, and a second tap at a spot is none for 0.7 s
COUNT = 30_000  # ms, of the count at the open end

_hurried = WeakSet()  # contexts whose clock the hand turns on instead of waiting


def hurry(page, since=None):
    """From the next page on, waits are turned on at the page's clock, now or ``since``; what runs, runs as ever."""
    if page.context not in _hurried:
        page.clock.install(time=since)
        _hurried.add(page.context)
    return page


def wait(page, ms):
    if page.context in _hurried:
        page.clock.fast_forward(ms)
    else:
        page.wait_for_timeout(ms)


def open_purge(page, root, anchor=""):
    hurry(page).goto(f"{root}purge/{anchor}")
    page.locator("[data-purge][data-ready]").wait_for()
    return page


def go_on(page):
    """Takes up the purge that was not finished."""
    wait(page, LOOK)
    page.locator("[data-go-on]").click()
    step(page).wait_for()


def step(page):
    return page.locator("[data-step]:visible")


def state(page):
    return step(page).get_attribute("data-step")


def type_readings(page, readings=READINGS):
    """Types what is measured at the step that is shown, where it is asked for."""
    here = step(page)
    for name, text in readings.get(here.get_attribute("data-step"), {}).items():
        asked = here.locator(f"[data-field={name}]")
        if asked.get_attribute("hidden") is None:
            asked.locator("[data-entry]").fill(text)


def tap(page, event):
    """Taps one of the step's buttons; resolves once the screen has moved, which confirms the tap."""
    look(page)
    here = page.locator(f"[data-step={state(page)}]")
    here.locator(f"[data-event={event}]").first.click()
    here.wait_for(state="hidden")


def look(page):
    """Reads the step that is shown, says what hangs under the tank where that is asked, and counts to thirty."""
    wait(page, LOOK)
    here = step(page)
    usual = here.locator("[data-stack-usual]")
    if usual.is_visible():
        usual.click()
        usual.wait_for(state="hidden")
        wait(page, LOOK)
    if here.locator("[data-waits]:disabled").count():
        wait(page, COUNT)


def walk(page, taps):
    for event in taps:
        type_readings(page)
        tap(page, event)
