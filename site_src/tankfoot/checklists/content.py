"""What safety content is once it is read: checklists, emergency cards, and what holds in a region."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True)
class Line:
    """One act and the stated value that the hand confirms. A ``gate`` cannot be skipped."""

    id: str
    act: str
    value: str
    why: str
    gate: bool = False
    signal: str | None = None
    consequence: str | None = None
    avoid: str | None = None
    source: str | None = None


@dataclass(frozen=True)
class Part:
    """The lines between two pauses; ``pause`` says where to stop and stand before the first of them."""

    title: str
    pause: str
    lines: tuple[Line, ...]


@dataclass(frozen=True)
class Checklist:
    """A list: when to use it, its parts, the call that ends it. ``version`` changes with any word of it.

    ``numbers``: results of sums shown on it, such as "open-port.flow"; ``inputs``: what may be typed for them there.
    A run of it ends only with ``initials``, or with those of a ``second`` person too, where it asks for them.
    ``grows_old``: after a while its gates are asked again, see ``standing``. ``language``: of its words.
    """

    id: str
    language: str
    version: str
    order: int
    title: str
    condition: str
    completion: str
    parts: tuple[Part, ...]
    dated: date
    picture: str | None = None
    numbers: tuple[str, ...] = ()
    inputs: tuple[str, ...] = ()
    initials: bool = False
    second: bool = False
    grows_old: bool = False

    @property
    def sums(self):
        """{id of a sum: (names of its results, names of its inputs)}, in the order of ``numbers``."""
        ids = dict.fromkeys(number.partition(".")[0] for number in self.numbers)
        return {id: (_of_sum(self.numbers, id), _of_sum(self.inputs, id)) for id in ids}

    @property
    def lines(self):
        """All lines, in order."""
        return tuple(line for part in self.parts for line in part.lines)


def _of_sum(names, id):
    return [name.removeprefix(f"{id}.") for name in names if name.startswith(f"{id}.")]


@dataclass(frozen=True)
class Act:
    """One act of a card. ``call``: the screen shows the emergency number of the chosen region beside it."""

    act: str
    source: str
    detail: str | None = None
    call: bool = False


@dataclass(frozen=True)
class Advice:
    """One line of a card beside its acts, and on what it rests."""

    line: str
    source: str


@dataclass(frozen=True)
class Card:
    """An emergency card: ``acts`` in the order to do them, what ``never`` to do, and what comes ``then``.

    ``language``: of all its words.
    """

    id: str
    language: str
    version: str
    order: int
    title: str
    defer: str
    acts: tuple[Act, ...]
    never: tuple[Advice, ...]
    then: tuple[Advice, ...]
    why: str
    source: str
    dated: date

    @property
    def claims(self):
        """(what the card says, on what it rests), line by line."""
        said = [(f"{act.act}. {act.detail or ''}".rstrip(), act.source) for act in self.acts]
        return said + [(advice.line, advice.source) for advice in (*self.never, *self.then)]


@dataclass(frozen=True)
class Region:
    """A region and the number of its emergency services; ``also`` is a second one that works there.

    ``standard``: whose limits hold there, None where nothing is known of them. Phones remember the ``name``, which is
    the same in all languages; ``shown``: what it is called in this one, None for the name.
    """

    name: str
    number: str
    source: str
    shown: str | None = None
    also: str | None = None
    standard: str | None = None


@dataclass(frozen=True)
class Standard:
    """What holds in some regions: the limits for CO2 and what an eyewash must do, each with where it is from."""

    named: str
    co2_limits: str
    eyewash: str
