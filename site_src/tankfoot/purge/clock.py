"""Whether the times of a purge can be told: a phone's clock may have been set back while the port was open."""


def was_set_back(run, overrun):
    """Whether the seconds that run_times gives say so; None where there are none.

    >>> was_set_back(70.0, 9.5), was_set_back(-86399.8, 0.0), was_set_back(70.0, 3670.0), was_set_back(None, None)
    (False, True, True, None)
    """
    return None if None in (run, overrun) else not 0.0 <= overrun <= run


RANGES = {"was_set_back": [[None, -86399.8, -0.001, 0.0, 9.5, 70.0], [None, -3600.0, -0.001, 0.0, 9.5, 70.0, 70.001]]}
