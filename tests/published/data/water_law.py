#!/usr/bin/env python3
"""The law `water` by another route, in plain Python: python3 water_law.py > water_law.csv

The formulas are those of the law's definition (saturation pressure: Huang 2018; wet bulb: the
ASHRAE balance; film temperature: wet bulb + 0.2 of the way to the air). The route is another:
the wet bulb by bisection, the integral by Simpson's rule with steps of at most 2 s, the due time by
bisection on a running sum. Air is linear between readings and flat outside.
"""
from math import exp

P = 101325.0


def saturation(t):
    return exp(34.494 - 4924.99 / (t + 237.1)) / (t + 105.0) ** 1.57


def ratio(vapour):
    return 0.621945 * vapour / (P - vapour)


def wet_bulb(t, rh):
    w = ratio(rh / 100.0 * saturation(t))

    def off(tw):
        at = ((2501.0 - 2.326 * tw) * ratio(saturation(tw)) - 1.006 * (t - tw)) / (
            2501.0 + 1.86 * t - 4.186 * tw
        )
        return at - w

    low, high = -40.0, t
    for _ in range(100):
        middle = (low + high) / 2
        if off(middle) < 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def drive(t, rh):
    tw = wet_bulb(t, rh)
    return saturation(tw + 0.2 * (t - tw)) - rh / 100.0 * saturation(t)


def air(readings, at):
    before = [r for r in readings if r[0] <= at]
    after = [r for r in readings if r[0] > at]
    if not before:
        return after[0][1:]
    if not after:
        return before[-1][1:]
    (t0, c0, h0), (t1, c1, h1) = before[-1], after[0]
    x = (at - t0) / (t1 - t0)
    return c0 + (c1 - c0) * x, h0 + (h1 - h0) * x


def left_air(readings, at):
    """The air just before a time: the value that a step leaves."""
    before = [r for r in readings if r[0] < at]
    after = [r for r in readings if r[0] >= at]
    if not before:
        return after[0][1:]
    if not after:
        return before[-1][1:]
    (t0, c0, h0), (t1, c1, h1) = before[-1], after[0]
    x = (at - t0) / (t1 - t0)
    return c0 + (c1 - c0) * x, h0 + (h1 - h0) * x


def simpson(readings, a, b, reference):
    n = max(2, 2 * int((b - a) / 4.0 + 1))
    h = (b - a) / n
    total = drive(*air(readings, a)) + drive(*left_air(readings, b))
    for i in range(1, n):
        total += (4 if i % 2 else 2) * drive(*air(readings, a + i * h))
    return total * h / 3 / reference


def integral(readings, end, reference):
    cuts = sorted({0.0, end} | {r[0] for r in readings if 0.0 < r[0] < end})
    return sum(simpson(readings, a, b, reference) for a, b in zip(cuts, cuts[1:]))


def due(readings, wanted, reference):
    high = 60.0
    while integral(readings, high, reference) < wanted:
        high *= 2
    low = 0.0
    while high - low > 0.005:
        middle = (low + high) / 2
        if integral(readings, middle, reference) < wanted:
            low = middle
        else:
            high = middle
    return (low + high) / 2


REFERENCES = [(25.0, 50.0), (20.0, 65.0)]
HISTORIES = {
    "steady": [(0, 20.0, 65.0)],
    "damp evening": [(0, 21.0, 55.0), (1800, 18.0, 68.0), (3600, 15.5, 80.0)],
    "heating": [(0, 14.0, 75.0), (1200, 24.0, 42.0)],
    "step": [(0, 18.0, 60.0), (600, 18.0, 60.0), (600, 28.0, 35.0)],
    "nearly wet": [(0, 16.0, 90.0), (2400, 16.5, 97.0), (3600, 19.0, 70.0)],
}


def main():
    print("# python3 water_law.py: Simpson's rule (steps of 2 s or less), wet bulb by bisection")
    print("# kind rate: value = rate at t_c, rh_pct; progress: value = progress at at_s of a")
    print("# duration of 1200 s; due: value = seconds until progress 1")
    print("kind,history,ref_c,ref_pct,t_c,rh_pct,at_s,value")
    for ref_c, ref_pct in REFERENCES:
        reference = drive(ref_c, ref_pct)
        for t in (-5, 2, 8, 12, 15, 18, 20, 22, 25, 28, 30, 35, 45, 58):
            for rh in (5, 20, 35, 50, 65, 80, 95, 99):
                print(f"rate,,{ref_c},{ref_pct},{t},{rh},,{drive(t, rh) / reference:.12g}")
        for name, readings in HISTORIES.items():
            for at in (300.0, 900.0, 2700.0, 5400.0):
                value = integral(readings, at, reference) / 1200.0
                print(f"progress,{name},{ref_c},{ref_pct},,,{at},{value:.10g}")
            value = due(readings, 1200.0, reference)
            print(f"due,{name},{ref_c},{ref_pct},,,,{value:.3f}")


if __name__ == "__main__":
    main()
