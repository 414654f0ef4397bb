"""Calls one function in both languages and compares the answers."""

import json
import math
from dataclasses import asdict, is_dataclass
from inspect import isgenerator
from types import CodeType

from both import Both
from parity import CLOSE, CLOSE_BY_ITERATION
from tankfoot.physics.roots import brent_root

NUMBERS = (int, float)  # and no truth value, which Python takes for one

# Runs in the page. What is no finite number has no answer, as in within_reach; what a formula was asked is told too.
CALL_IN_BROWSER = """
async (given) => {
  const { root, calls } = JSON.parse(given);
  const { take } = await import(`${root}js/tankfoot.js`);
  const modules = {};
  let asked;
  const formula = (text) => {
    const fn = new Function("x", `const { sqrt } = Math; return (${text});`);
    return (x) => {
      asked.push(typeof x === "number" ? x : Object.values(x));
      return fn(x);
    };
  };
  const made = (value) => {
    if (value === null || typeof value !== "object") return value;
    if (Array.isArray(value)) return value.map(made);
    if ("$formula" in value) return formula(value.$formula);
    if ("$module" in value) return modules[value.$module];
    return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, made(inner)]));
  };
  const load = async (path) => { modules[path] ??= await take(path); };
  const finite = (key, value) => (typeof value === "number" && !Number.isFinite(value) ? "no answer" : value);
  const answers = [];
  for (const [path, name, given] of calls) {
    asked = [];
    try {
      for (const [, inner] of JSON.stringify(given).matchAll(/"[$]module":"([^"]+)"/g)) await load(inner);
      await load(path);
      const thing = modules[path][name];
      const value = typeof thing === "function" ? await thing(...made(given)) : thing;
      answers.push({ value: value ?? null, asked });
    } catch (error) {
      if (error instanceof RangeError) answers.push({ value: "no answer", asked });
      else if (error.code || error.constructor === Error) answers.push({ refused: error.code ?? null });
      else answers.push({ raised: String(error) });
    }
  }
  return JSON.stringify(answers, finite);
}
"""


def compare_calls(evaluate, root, given, ours=None):
    """Differences between Python and JavaScript over calls: [(call, sentence)]; ``ours`` where it is known."""
    asked = {"root": root, "calls": [[call.path, call.name, call.arguments] for call in given]}
    theirs = json.loads(evaluate(CALL_IN_BROWSER, json.dumps(asked, default=lambda both: both.json)))
    ours = ours or [answer(call) for call in given]
    return [
        (call, f"{our} != {their}")
        for call, our, their in zip(given, ours, theirs, strict=True)
        if not same(our, their, CLOSE_BY_ITERATION if iterates(call.function) else CLOSE)
    ]


def answer(call):
    """Python's answer in the browser's shape."""
    told = []
    arguments = [_python(argument, told) for argument in call.arguments]
    try:
        value = call.function(*arguments)
        return {"value": _plain(list(value) if isgenerator(value) else value), "asked": told}
    except (ArithmeticError, ValueError):
        return {"value": "no answer", "asked": told}
    except Exception as refused:
        if not type(refused).__module__.startswith("tankfoot."):
            raise
        return {"refused": getattr(refused, "code", None)}


def _python(value, told):
    if isinstance(value, Both):
        return value.for_python(told)
    return value


def _plain(value):
    if is_dataclass(value):
        value = asdict(value)
    if isinstance(value, dict):
        return {key: _plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(inner) for inner in value]
    return "no answer" if isinstance(value, float) and not math.isfinite(value) else value


def same(our, their, close):
    """Whether two answers agree: numbers within ``close``, relative; all else to the character."""
    if isinstance(our, dict) and isinstance(their, dict):
        return our.keys() == their.keys() and all(same(our[key], their[key], close) for key in our)
    if isinstance(our, list) and isinstance(their, list):
        return len(our) == len(their) and all(same(a, b, close) for a, b in zip(our, their, strict=True))
    if type(our) in NUMBERS and type(their) in NUMBERS:
        return math.isclose(our, their, rel_tol=close, abs_tol=0.0)
    return type(our) is type(their) and our == their


def iterates(function):
    """Whether a function, or one that it calls, finds a root step by step."""
    seen, wanted = set(), [function]
    while wanted:
        one = wanted.pop()
        if one is brent_root:
            return True
        if one not in seen and hasattr(one, "__code__"):
            seen.add(one)
            wanted += [vars_ for name in _names(one.__code__) if callable(vars_ := one.__globals__.get(name))]
    return False


def _names(code):
    inner = (const for const in code.co_consts if isinstance(const, CodeType))
    return {*code.co_names, *(name for each in inner for name in _names(each))}
