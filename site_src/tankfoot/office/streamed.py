"""Many export files, and large ones, read part by part on all cores; whoever asks gets what it gathers, no entries.

A file is told of once all of it was found right, in the order in which the files were named.
"""

from collections import deque
from concurrent.futures import Future, ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import accumulate

from tankfoot.office.check import check_file
from tankfoot.office.columns import Ids
from tankfoot.office.cores import context, cores
from tankfoot.office.lines import Doubt, Layout, entries_in, layout, sum_of
from tankfoot.record.canonical import canonical
from tankfoot.record.entry import Problem

PART = 1_000_000  # bytes that are read at once: few, or at the end all cores but one have nothing left to do
ALONE = 8_000_000  # bytes in all that one process reads sooner than another one has started
AHEAD = 3  # parts for each process that are under way or wait to be told


@dataclass(frozen=True)
class FileRead:
    """What a file tells: what was ``gathered``, part by part, and when it was ``made``; ``problems`` where it is wrong.

    ``starts``: how many entries stand before each part. ``error``: the OSError, where it could not be read.
    """

    path: object
    gathered: list = field(default_factory=list)
    starts: list[int] = field(default_factory=list)
    made: str | None = None
    problems: list[Problem] = field(default_factory=list)
    error: OSError | None = None


@dataclass
class _UnderWay:
    path: object
    size: int = 0
    layout: Layout | None = None
    parts: list[Future] = field(default_factory=list)
    error: OSError | None = None


def read_files(paths, gather, tell=lambda done, size: None):
    """A FileRead of each of ``paths``, in their order.

    ``gather``: of pairs of an entry and its canonical text -> what is wanted of them, which goes from process to
    process. ``tell`` is told how many bytes of how many are read.
    """
    sizes = [_size(path) for path in paths]
    ends = accumulate(sizes)
    with _workers(sum(sizes)) as (workers, ahead):
        waiting = deque()

        def first():
            file, end = waiting.popleft(), next(ends)
            read = _told(file, gather, workers, lambda done: tell(end - file.size + done, sum(sizes)))
            tell(end, sum(sizes))
            return read

        for path, size in zip(paths, sizes, strict=True):
            waiting.append(_begun(path, size, gather, workers))
            while sum(len(file.parts) for file in waiting) > ahead:
                yield first()
        while waiting:
            yield first()


def _size(path):
    try:
        return path.stat().st_size
    except OSError:
        return 0


def _begun(path, size, gather, workers):
    file = _UnderWay(path, size)
    try:
        file.layout = layout(path, PART)
    except Doubt:
        pass
    except OSError as error:
        file.error = error
    else:
        file.parts = [
            workers.submit(_part, path, span, file.layout.version, gather) for span in file.layout.spans
        ]
    return file


def _told(file, gather, workers, tell):
    if file.error:
        return FileRead(file.path, error=file.error)
    try:
        if file.layout:
            return _joined(file, tell)
    except Doubt:
        for part in file.parts:
            part.cancel()
    except OSError as error:
        return FileRead(file.path, error=error)
    return workers.submit(_whole, file.path, gather).result()


def _joined(file, tell):
    found = file.layout
    if sum_of(file.path, found.spans) != found.sha256:
        raise Doubt
    ids, gathered, starts = set(), [], []
    for part, (_, end) in zip(file.parts, found.spans, strict=True):
        of_part, told = part.result()
        tell(end)
        starts.append(len(ids))
        ids.update(map(of_part.number, range(len(of_part))))
        if len(ids) != starts[-1] + len(of_part):
            raise Doubt
        gathered.append(told)
    if len(ids) != found.count:
        raise Doubt
    return FileRead(file.path, gathered, starts, found.made)


def _part(path, span, version, gather):
    ids = Ids()

    def noting_ids():
        for entry, text in entries_in(path, span, version):
            ids.append(entry["id"])
            yield entry, text

    told = gather(noting_ids())
    return ids, told


def _whole(path, gather):
    """The same by the reader that says what is wrong."""
    try:
        contents = check_file(path)
    except OSError as error:
        return FileRead(path, error=error)
    if contents.problems:
        return FileRead(path, made=contents.made, problems=contents.problems)
    return FileRead(path, [gather((entry, canonical(entry)) for entry in contents.entries)], [0], contents.made)


@contextmanager
def _workers(size):
    """(What takes the work, how many parts may be under way)."""
    count = cores()
    if count == 1 or size <= ALONE:
        yield _Here(), 1
        return
    pool = ProcessPoolExecutor(count, context())
    try:
        yield pool, AHEAD * count
    finally:
        pool.shutdown(cancel_futures=True)


class _Here:
    """Takes the place of a pool: the work is done when somebody waits for it."""

    def submit(self, function, *arguments):
        return _Later(function, arguments)


@dataclass
class _Later:
    function: object
    arguments: tuple

    def result(self):
        return self.function(*self.arguments)

    def cancel(self):
        """Nothing was begun."""
