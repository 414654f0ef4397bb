"""What the workers of one run share on one machine: what is made once, and when a test is alone."""

import fcntl
import os
from contextlib import contextmanager
from pathlib import Path

# flock(2) needs a file that is there: with two of the suite's own nothing is left behind.
NEXT, RUNNING = Path(__file__), Path(__file__).with_name("conftest.py")
WITHIN_A_TEST = "PYTEST_CURRENT_TEST" in os.environ  # a run that a test starts has that test's time


def shared_folder(tmp_path_factory, config):
    """The folder for what all workers of this run use; without workers the run's own."""
    own = tmp_path_factory.getbasetemp()
    return own.parent if hasattr(config, "workerinput") else own


def made_once(folder, make):
    """``folder``, written by ``make(folder)`` for the first worker that asks; the others wait for it."""
    folder.parent.mkdir(exist_ok=True)
    with locked(folder.parent):
        if not folder.exists():
            draft = folder.with_name("draft")
            make(draft)
            draft.rename(folder)
    return folder


@contextmanager
def locked(path):
    """What only one worker at a time may do."""
    with _opened(path) as file:
        fcntl.flock(file, fcntl.LOCK_EX)
        yield


@contextmanager
def running(alone):
    """The time of one test: beside those of other workers, or alone; no other starts while one waits to be alone."""
    if WITHIN_A_TEST:
        yield
        return
    with _opened(RUNNING) as file:
        with locked(NEXT):
            fcntl.flock(file, fcntl.LOCK_EX if alone else fcntl.LOCK_SH)
        yield


@contextmanager
def _opened(path):
    file = os.open(path, os.O_RDONLY)
    try:
        yield file
    finally:
        os.close(file)
