"""The drawings of cards, gates and steps as files of their own, for the page that judges them without their words."""

import sys
from pathlib import Path

from tankfoot.checklists import cards
from tankfoot.site.app import create_app
from tankfoot.site.step_signs import step_signs
from tankfoot.wording import words
from tankfoot.wording.languages import languages

# What the app's own style sheet gives them, and a ground: a page of documentation may be dark.
LOOK = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="{width}" style="color:#132327;background:#fff;'
    'font:600 17px system-ui,sans-serif"'
)


def signs():
    """{file name: SVG} of each card's drawing, each step's sign, and of the valve stack in each language."""
    app = create_app()
    with app.app_context():
        drawn = {f"card-{name}": _alone(app, f"card-{name}", width=144) for name in cards()}
        drawn |= {f"step-{name}": _alone(app, f"step-{name}", width=96) for name in step_signs().values()}
        for language in languages():
            drawn[f"valve-stack-{language}"] = _alone(
                app, "valve-stack", width=270, words=lambda name, of=language: words(name, of)
            )
    return {f"{name}.svg": svg for name, svg in drawn.items()}


def _alone(app, name, width, **given):
    page = app.jinja_env.get_template(f"pictures/{name}.svg").render(**given)
    svg = page[page.index("<svg"): page.index("</svg>") + len("</svg>")]
    return svg.replace("<svg", LOOK.format(width=width), 1).replace(' aria-hidden="true"', "") + "\n"


if __name__ == "__main__":
    for name, svg in signs().items():
        (Path(sys.argv[1]) / name).write_text(svg, encoding="utf-8")
