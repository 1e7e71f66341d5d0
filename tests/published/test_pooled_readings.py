"""Tolerance factors and outlier limits, computed again, simulated, and against textbooks.

ISO 16269-6 defines the two-sided factor k by an integral over the sample mean: with r(x) the half
width that covers the share p of a normal distribution seen from x beside its middle,
    2 sqrt(n) * integral from 0 of phi(sqrt(n) x) P(chi2 with n-1 degrees > (n-1) r(x)^2 / k^2) dx
is the confidence. Here scipy solves it.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import optimize, stats

from generator.trade.pooled_readings import (
    CONFIDENCE,
    COVERAGE,
    outlier_limit,
    tolerance_factor,
)

COUNTS = range(8, 61)


def exact_factor(count: int, coverage: float, confidence: float) -> float:
    nodes, weights = np.polynomial.legendre.leggauss(60)
    reach = 8 / math.sqrt(count)  # eight standard deviations of the mean: the rest is below 1e-14
    x, weights = (nodes + 1) * reach / 2, weights * reach / 2
    half = x + 2.0
    for _ in range(60):
        short_by = stats.norm.cdf(x + half) - stats.norm.cdf(x - half) - coverage
        half -= short_by / (stats.norm.pdf(x + half) + stats.norm.pdf(x - half))
    density = 2 * stats.norm.pdf(x, scale=1 / math.sqrt(count)) * weights

    def surplus(k: float) -> float:
        chance = stats.chi2.sf((count - 1) * half**2 / k**2, count - 1)
        return float((density * chance).sum() - confidence)

    return float(optimize.brentq(surplus, 1.5, 50))


@pytest.mark.parametrize("count", COUNTS)
def test_every_tolerance_factor_of_the_table(count: int) -> None:
    exact = exact_factor(count, COVERAGE, CONFIDENCE)
    assert tolerance_factor(count) == pytest.approx(exact, abs=5.1e-5)


@pytest.mark.parametrize("count", COUNTS)
def test_every_outlier_limit_of_the_table(count: int) -> None:
    t = stats.t.isf(0.05 / (2 * count), count - 2)
    limit = (count - 1) / math.sqrt(count) * math.sqrt(t**2 / (count - 2 + t**2))
    assert outlier_limit(count) == pytest.approx(limit, abs=5.1e-4)


@pytest.mark.parametrize("count", [8, 20])
def test_nine_samples_in_ten_hold_their_share(count: int) -> None:
    """A simulation that knows nothing of the integral: 40,000 samples, three standard errors."""
    samples = np.random.default_rng(20).standard_normal((40_000, count))
    mean, half = samples.mean(axis=1), tolerance_factor(count) * samples.std(axis=1, ddof=1)
    held = stats.norm.cdf(mean + half) - stats.norm.cdf(mean - half)
    assert (held >= COVERAGE).mean() == pytest.approx(CONFIDENCE, abs=0.0045)


@pytest.mark.parametrize("count", [8, 20, 60])
def test_howes_formula_falls_a_little_short(count: int) -> None:
    """W. G. Howe, J. Amer. Statist. Assoc. 64 (1969): z sqrt((n-1)(1+1/n) / chi2)."""
    chi2 = stats.chi2.ppf(1 - CONFIDENCE, count - 1)
    z = stats.norm.ppf((1 + COVERAGE) / 2)
    howe = z * math.sqrt((count - 1) * (1 + 1 / count) / chi2)
    assert howe < tolerance_factor(count) < howe * 1.003


@pytest.mark.parametrize(("count", "k"), [(10, 3.393), (20, 2.760), (100, 2.234)])
def test_the_integral_against_factors_from_memory(count: int, k: float) -> None:
    """ISO 16269-6, both parameters unknown, 95 % and 95 %: from memory.

    It checks this file's integral at another confidence, beside the simulation above.
    """
    assert exact_factor(count, 0.95, 0.95) == pytest.approx(k, abs=6e-4)


@pytest.mark.parametrize(("count", "limit"), [(8, 2.126), (10, 2.290), (20, 2.709)])
def test_outlier_limits_from_memory(count: int, limit: float) -> None:
    """F. E. Grubbs and G. Beck, Technometrics 14 (1972), 2.5 % each side: from memory."""
    assert outlier_limit(count) == pytest.approx(limit, abs=1.1e-3)
