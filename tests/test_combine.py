"""Several measurements of one volume, against a reference library."""

import numpy as np
import pytest
from tankfoot.physics.combine import agree, inverse_variance_mean


def test_the_weighted_mean_is_numpys():
    # Source: numpy.average with weights 1/u^2, and the ± of a weighted mean, 1/sqrt(sum of weights).
    values, uncertainties = [0.27, 0.31, 0.25], [0.10, 0.03, 0.05]
    weights = 1 / np.square(uncertainties)
    mean, uncertainty = inverse_variance_mean(values, uncertainties)
    assert mean == pytest.approx(np.average(values, weights=weights), rel=1e-14)
    assert uncertainty == pytest.approx(1 / np.sqrt(weights.sum()), rel=1e-14)


def test_two_volumes_three_combined_doubts_apart_do_not_agree():
    # Source: by hand, 2 sqrt(0.1^2 + 0.1^2) = 0.2828.
    assert agree([1.0, 1.28], [0.1, 0.1])
    assert not agree([1.0, 1.29], [0.1, 0.1])
