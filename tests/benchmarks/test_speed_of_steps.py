"""Speed of the stepped methods, measured in one run; never asserts a time. Measure with --benchmark-enable -s.

Aims: first draw 10 ms, a 14-hour night at 1-minute steps 30 ms, a year of hours 300 ms, 64 nights under 8 x one.
"""

import time

import numpy as np
import pytest

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings, Weather, night

COLD, SUPPLY, FLOW, START = Q_(8.0, "degC"), Q_(55.0, "degC"), Q_(6.0, "L/min"), Q_(20.0, "degC")


def run_of(foam=19.0, length=18.0):
    return Run(
        Pipe.nominal("copper L", "3/4 in"),
        Q_(length, "m"),
        Insulation("elastomeric foam", Q_(foam, "mm")),
        Surroundings(Q_(-12, "degC"), wind=Q_(5, "m/s")),
    )


def frosty(hours):
    return Weather(Q_(np.arange(hours + 1.0), "h"), Q_(np.linspace(-2, -12, hours + 1), "degC"), Q_(4, "m/s"))


def year():
    hours = np.arange(8760.0)
    air = 5 - 15 * np.cos(2 * np.pi * hours / 8760) + 4 * np.sin(2 * np.pi * hours / 24)
    return Weather(Q_(hours, "h"), Q_(air, "degC"), Q_(2, "m/s"))


def best(call, times=5) -> float:
    """Shortest of a few [s]."""
    lasted = []
    for _ in range(times):
        begin = time.perf_counter()
        call()
        lasted.append(time.perf_counter() - begin)
    return min(lasted)


def test_first_draw(benchmark):
    assert np.isfinite(benchmark(run_of().first_draw, SUPPLY, FLOW, START).wait.magnitude)


def test_one_night(benchmark):
    assert benchmark(night, run_of(), frosty(14), COLD).largest_ice_share > 0


def test_64_nights(benchmark):
    run, weather = run_of(np.linspace(5, 40, 64)), frosty(14)
    result = benchmark(night, run, weather, COLD)
    assert result.largest_ice_share.shape == (64,)
    if benchmark.enabled:
        ratio = best(lambda: night(run, weather, COLD)) / best(lambda: night(run_of(), weather, COLD))
        benchmark.extra_info["64 nights cost so many single nights"] = round(ratio, 2)
        print(f"\n64 nights at once cost {ratio:.1f} x one")


def test_a_year_of_hours(benchmark):
    result = benchmark.pedantic(night, (run_of(), year(), COLD), {"step": Q_(1, "h")}, rounds=3)
    assert len(result.time.magnitude) == 8760


@pytest.mark.parametrize("what", ["legs of a draw", "hours of a night"])
def test_growth_is_linear(benchmark, what):
    """Slope of log(time) against log(size): 1 is linear; printed, not asserted."""
    if what == "legs of a draw":
        sizes, call = (
            (8, 32, 128),
            lambda count: Run.series([run_of(length=0.5)] * count).first_draw(SUPPLY, FLOW, START),
        )
    else:
        sizes, call = (14, 56, 224), lambda count: night(run_of(), frosty(count), COLD)
    call(sizes[0])
    benchmark.pedantic(call, (sizes[0],), rounds=1)
    if benchmark.enabled:
        times = [best(lambda size=size: call(size), 2) for size in sizes]
        slope = np.polyfit(np.log(sizes), np.log(times), 1)[0]
        benchmark.extra_info["slope"] = round(float(slope), 2)
        print(f"\n{what}: {dict(zip(sizes, np.round(np.array(times) * 1000, 1)))} ms, slope {slope:.2f}")
