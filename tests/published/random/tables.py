#!/usr/bin/env python3
"""Draws situations at random and writes what reference libraries answer for them, as tables for the checks.

    pip install psychrolib CoolProp scipy fluids
    python3 tests/published/random/tables.py

The tables (`../data/drawn_*.csv`) are kept: the checks need no Python. The same seed and the same versions give
the same tables.
"""

import math
import random
from importlib.metadata import version
from pathlib import Path

import psychrolib
from CoolProp.CoolProp import HAPropsSI, PropsSI
from fluids.atmosphere import ATMOSPHERE_1976
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

DATA = Path(__file__).resolve().parent.parent / "data"
R = 8.314462618e-3
EARTH_M = 6356766.0


def write(name, about, columns, rows):
    used = ["psychrolib", "CoolProp", "scipy", "fluids"]
    versions = ", ".join(f"{one} {version(one)}" for one in used)
    lines = [f"# tests/published/random/tables.py: {versions}", *(f"# {line}" for line in about), columns, *rows]
    (DATA / name).write_text("\n".join(lines) + "\n")
    print(name, len(rows))


def air(draw, count):
    """Moist air above freezing in every form: below it the libraries count from ice, hygrometers from water."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    psychrolib.PSYCHROLIB_TOLERANCE = 1e-9
    rows = []
    while len(rows) < count:
        t, rh = round(draw.uniform(0.5, 55.0), 2), round(draw.uniform(3.0, 100.0), 2)
        p = round(draw.choice([101325.0, draw.uniform(70000.0, 106000.0)]))
        k, share = t + 273.15, rh / 100
        wet = psychrolib.GetTWetBulbFromRelHum(t, share, p)
        pw = share * PropsSI("P", "T", k, "Q", 0, "Water")
        dew_pl = psychrolib.GetTDewPointFromRelHum(t, share)
        if wet < 0.1 or dew_pl < 0.1:
            continue
        rows.append(
            f"{t},{rh},{p},{psychrolib.GetSatVapPres(t):.8g},{dew_pl:.8g},"
            f"{PropsSI('T', 'P', pw, 'Q', 0, 'Water') - 273.15:.8g},{wet:.8g},"
            f"{psychrolib.GetHumRatioFromRelHum(t, share, p):.8g},"
            f"{HAPropsSI('Twb', 'T', k, 'P', p, 'R', share) - 273.15:.8g},"
            f"{HAPropsSI('W', 'T', k, 'P', p, 'R', share):.8g}"
        )
    write(
        "drawn_air.csv",
        ["pl: psychrolib (ASHRAE); cp: CoolProp (ASHRAE RP-1485; dew point by IAPWS-95, no enhancement factor)"],
        "T_C,RH_pct,P_Pa,psat_pl,Tdp_pl,Tdp_cp,Twb_pl,W_pl,Twb_cp,W_cp",
        rows,
    )


def heights(draw, count):
    rows = []
    for _ in range(count):
        h = round(draw.uniform(-400.0, 10900.0), 1)
        z = EARTH_M * h / (EARTH_M - h)
        rows.append(f"{h},{ATMOSPHERE_1976(z).P:.8g}")
    write(
        "drawn_heights.csv",
        ["standard atmosphere; h is geopotential, as the ICAO's tables have it; the library takes geometric height"],
        "h_m,P_Pa",
        rows,
    )


def temperature(points):
    def at(h):
        if h <= points[0][0]:
            return points[0][1]
        for (h0, t0), (h1, t1) in zip(points, points[1:]):
            if h <= h1:
                return t0 + (t1 - t0) * (h - h0) / (h1 - h0)
        return points[-1][1]

    return at


def speed(law, figure, reference, duration_h):
    if law == "energy":
        return lambda t: math.exp(-figure / R * (1 / (t + 273.15) - 1 / (reference + 273.15)))
    if law == "doubles":
        return lambda t: 2 ** ((t - reference) / figure)
    pairs = [(t, math.log(h)) for t, h in figure]

    def by_table(t):
        for (t0, d0), (t1, d1) in zip(pairs, pairs[1:]):
            if t <= t1:
                return duration_h / math.exp(d0 + (d1 - d0) * (t - t0) / (t1 - t0))
        return duration_h / math.exp(pairs[-1][1])

    return by_table


def clocks(draw, count):
    rows = []
    for number in range(count):
        law = ["energy", "doubles", "table"][number % 3]
        reference, duration = round(draw.uniform(15, 25), 1), round(draw.uniform(0.2, 20), 2)
        low, high = 6.0, 34.0
        if law == "energy":
            figure = round(draw.uniform(20, 95), 1)
            said = str(figure)
        elif law == "doubles":
            figure = round(draw.uniform(6, 16), 1)
            said = str(figure)
        else:
            # the readings stay within the table: what goes on beyond it is a rule of ours, not a library's
            temps = sorted(draw.sample(range(8, 33), draw.randint(2, 5)))
            while temps[-1] - temps[0] < 8:
                temps = sorted(draw.sample(range(8, 33), draw.randint(2, 5)))
            hours = sorted((round(draw.uniform(0.5, 30), 2) for _ in temps), reverse=True)
            figure, low, high = list(zip(temps, hours)), temps[0], temps[-1]
            said = ";".join(f"{t}@{h}" for t, h in figure)
        times = sorted({0.0, *(round(draw.uniform(0.1, 1.5 * duration), 3) for _ in range(draw.randint(1, 6)))})
        points = [(h, round(draw.uniform(low, high), 2)) for h in times]
        rate, air_at = speed(law, figure, reference, duration), temperature(points)
        breaks = [h for h, _ in points]
        if law == "table":
            # where the air passes a row of the table the integrand has a corner
            for (h0, t0), (h1, t1) in zip(points, points[1:]):
                breaks += [h0 + (h1 - h0) * (t - t0) / (t1 - t0) for t, _ in figure if min(t0, t1) < t < max(t0, t1)]

        def done(until):
            edges = [0.0, *sorted(h for h in breaks if 0 < h < until), until]
            pieces = zip(edges, edges[1:])
            return sum(quad(lambda h: rate(air_at(h)), a, b, epsabs=1e-13, epsrel=1e-13)[0] for a, b in pieces) / duration

        at = round(draw.uniform(0.1, 1.3) * duration, 3)
        most = duration
        while done(most) < 1:
            most *= 2
        due = brentq(lambda h: done(h) - 1, 0, most, xtol=1e-10, rtol=1e-13)
        readings = ";".join(f"{h}@{t}" for h, t in points)
        rows.append(f"{law},{said},{reference},{duration},{readings},{at},{done(at):.12g},{due:.12g}")
    write(
        "drawn_clocks.csv",
        [
            "law energy: kJ/mol; doubles: every so many degrees; table: degrees@hours; readings: hours@degrees, linear between,",
            "held after the last. progress at at_h and due_h by scipy: adaptive quadrature piece by piece, Brent's method",
        ],
        "law,figure,reference_c,duration_h,readings,at_h,progress,due_h",
        rows,
    )


def purges(draw, count):
    rows = []
    for _ in range(count):
        volume, mixing = round(draw.uniform(8, 400), 1), round(draw.uniform(1, 10), 2)
        flow = round(volume * draw.uniform(3, 120), 1)
        left = round(draw.uniform(0.002, 0.5), 4)
        rate = flow / volume / mixing
        reached = lambda t, y: y[0] - left
        reached.terminal = True
        solved = solve_ivp(lambda t, y: -rate * y, (0, 20 / rate), [1.0], "DOP853", events=reached, rtol=1e-12, atol=1e-14)
        rows.append(f"{volume},{flow},{mixing},{left},{solved.t_events[0][0] * 60:.10g}")
    write(
        "drawn_purges.csv",
        ["minutes until a share is left of the vapour in a well-mixed room, by scipy's ODE solver with an event"],
        "V_m3,Q_m3_h,mixing,left,purge_min",
        rows,
    )


if __name__ == "__main__":
    draw = random.Random(20261125)
    air(draw, 420)
    heights(draw, 60)
    clocks(draw, 330)
    purges(draw, 120)
