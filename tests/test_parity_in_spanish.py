"""Python that speaks Spanish and the page in Spanish say the same, to the character."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from browsers import PHONE
from spoken import AT, cases

SAID = """async (given) => {
  const { root, at, asked, counts } = JSON.parse(given);
  const { take } = await import(`${root}js/tankfoot.js`);
  const said = take("wording/sentences.js");
  const { dueSentence, dueTitle, filled, fileSentence, ofCount, problemSentence, shapeWords } = said;
  const { calculatorWords, screens } = take("wording/declared.js");
  const inside = (place) => place.split(".").reduce((inner, name) => inner[name], screens);
  const names = (forms) => Object.values(forms).join("").match(/(?<=\\{)\\w+(?=\\})/g) ?? [];
  return JSON.stringify({
    problems: asked.problems.map((one) => problemSentence(one.id, one)),
    shapes: asked.shapes.map(shapeWords),
    wrong: asked.wrong.map(fileSentence),
    titles: asked.titles.map((item) => dueTitle(item, { title: null })),
    reasons: asked.reasons.map((item) => dueSentence(item, at)),
    remarks: Object.fromEntries(Object.entries(calculatorWords).map(([id, own]) => [id, own.remarks ?? {}])),
    counts: counts.map(([place, count]) => {
      const forms = inside(place);
      const facts = Object.fromEntries(names(forms).map((name) => [name, "x"]));
      return [place, count, filled(ofCount(forms, count), { ...facts, count })];
    }),
  });
}"""


@pytest.fixture(scope="module")
def python():
    """What a process says that speaks Spanish."""
    ended = subprocess.run(
        [sys.executable, Path(__file__).with_name("spoken.py")], input=json.dumps(cases()), text=True,
        capture_output=True, check=True, env={**os.environ, "TANKFOOT_LANGUAGE": "es", "PYTHONIOENCODING": "utf-8"},
    )
    return json.loads(ended.stdout)


@pytest.fixture(scope="module")
def browser(chromium, served, python):
    context = chromium.new_context(**PHONE, service_workers="block", locale="es-MX")
    page = context.new_page()
    page.goto(f"{served.address}es/about/")
    given = {"root": f"{served.address}es/", "at": AT, "asked": cases(), "counts": python["counts"]}
    yield json.loads(page.evaluate(SAID, json.dumps(given)))
    context.close()


@pytest.mark.parametrize("kind", ["problems", "shapes", "wrong", "titles", "reasons", "remarks", "counts"])
def test_python_and_the_page_say_the_same_in_spanish(kind, python, browser):
    assert len(python[kind]) == len(browser[kind]) > 0
    assert python[kind] == browser[kind]


def test_what_is_compared_is_spanish_and_every_kind_of_it_is_there(python):
    # Words that Spanish has and English has not: Diccionario de la lengua española, from memory.
    assert any("un texto de" in text for text in python["shapes"])
    assert "Purgar el lúpulo" in python["titles"]
    assert len(python["problems"]) > 1000 and len(python["reasons"]) > 500
