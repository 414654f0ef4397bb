"""A hand on the guided purge: what it types and taps at each step."""

READINGS = {
    "choose": {"headspace": "3 bbl", "temperature": "36 °F"},
    "sanitise": {"contact_time": "1 s"},
    "pressure": {"pressure_found": "8 psi", "target_pressure": "12 psi"},
    "gas": {"pressure_before": "12 psi"},
    "margin": {"planned_draw": "5 gal"},
    "after": {"pressure_after": "10.5 psi", "flow": "2 gal/min", "collected_volume": "4 gal"},
}
# One way through all steps with the gas shut, the wrong clamp touched once.
TAPS = (
    "begin", "all-there", "wet", "time-over", "at-pressure", "gas-shut", "fits", "hooked-up", "opened",
    "colour-change", "closed", "read", "seen", "shut", "let-out", "within-reach", "tank-side", "understood", "outer",
    "apart", "rinsed", "capped", "topped-up", "save",
)


def open_purge(page, root):
    page.goto(f"{root}purge/")
    page.locator("[data-purge][data-ready]").wait_for()
    return page


def go_on(page):
    """Takes up the purge that was not finished."""
    page.locator("[data-go-on]").click()
    step(page).wait_for()


def step(page):
    return page.locator("[data-step]:visible")


def state(page):
    return step(page).get_attribute("data-step")


def type_readings(page, readings=READINGS):
    """Types what is measured at the step that is shown."""
    here = step(page)
    for name, text in readings.get(here.get_attribute("data-step"), {}).items():
        here.locator(f"[data-field={name}] [data-entry]").fill(text)


def tap(page, event):
    """Taps one of the step's buttons; resolves once the screen has moved, which confirms the tap."""
    here = state(page)
    page.locator(f"[data-step={here}] [data-event={event}]").click()
    page.locator(f"[data-step={here}]").wait_for(state="hidden")


def walk(page, taps):
    for event in taps:
        type_readings(page)
        tap(page, event)
