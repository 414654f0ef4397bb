"""The cores of this machine, and how processes for them are started."""

import multiprocessing
import os
import sys
import threading


def cores():
    """How many there are."""
    return os.cpu_count() or 1


def is_forked():
    """Whether another process begins with what this one has read and declared, or has to begin anew.

    A fork is safe where there is one thread; macOS and Windows fork none.
    """
    return sys.platform == "linux" and threading.active_count() == 1


def context():
    """What starts processes."""
    return multiprocessing.get_context("fork" if is_forked() else "spawn")
