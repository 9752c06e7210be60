#!/usr/bin/env python3
"""Asks the built program and reference libraries the same random questions, and counts where they differ.

    pip install psychrolib CoolProp scipy fluids pint
    cargo build --release
    python3 tests/published/random/against.py target/release/boothside [COUNT] [SEED]

Run by hand: it is a wider net than the kept tables, and no part of `cargo test`. Every figure is compared with the
tolerance of docs/checked.md. Ends with status 1 where one is off.
"""

import json
import random
import subprocess
import sys
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from fractions import Fraction

import pint
import psychrolib
from CoolProp.CoolProp import HAPropsSI, PropsSI
from fluids.atmosphere import ATMOSPHERE_1976
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from tables import EARTH_M, speed, temperature

UNITS = pint.UnitRegistry()
psychrolib.SetUnitSystem(psychrolib.SI)
psychrolib.PSYCHROLIB_TOLERANCE = 1e-9


def temperature_typed(draw, celsius):
    """A temperature as typed in one of two units, and what that is in °C."""
    if draw.random() < 0.5:
        return f"{celsius}C", celsius
    fahrenheit = round(celsius * 1.8 + 32, 2)
    return f"{fahrenheit}F", (fahrenheit - 32) / 1.8


def quantity(draw, low, high, units):
    """A number typed with one of several units, and what it is in the first by pint; `low` to `high` in the first."""
    typed, name = draw.choice(units)
    first = units[0][1]
    number = float(f"{UNITS.Quantity(draw.uniform(low, high), first).to(name).magnitude:.4g}")
    return f"{number}{typed}", UNITS.Quantity(number, name).to(first).magnitude


FILM = [("um", "micrometer"), ("mm", "millimeter"), ("mil", "thou")]
AREA = [("m2", "meter**2"), ("ft2", "foot**2"), ("in2", "inch**2"), ("cm2", "centimeter**2")]
VOLUME = [("mL", "milliliter"), ("L", "liter"), ("floz", "fluid_ounce"), ("pt", "pint"), ("qt", "quart"), ("gal", "gallon")]
DENSITY = [("g/mL", "gram/milliliter"), ("kg/L", "kilogram/liter"), ("lb/gal", "pound/gallon")]
MASS = [("g", "gram"), ("kg", "kilogram"), ("oz", "ounce"), ("lb", "pound")]
ROOM = [("m3", "meter**3"), ("ft3", "foot**3")]
FLOW = [("m3/h", "meter**3/hour"), ("m3/s", "meter**3/second"), ("cfm", "foot**3/minute")]
LENGTH = [("m", "meter"), ("cm", "centimeter"), ("in", "inch"), ("ft", "foot")]
VAPOUR = [("m3/L", "meter**3/liter"), ("ft3/gal", "foot**3/gallon")]


def air(draw):
    while True:
        typed, t = temperature_typed(draw, round(draw.uniform(0.5, 55), 2))
        rh = round(draw.uniform(3, 100), 2)
        share, k = rh / 100, t + 273.15
        if draw.random() < 0.5:
            h = round(draw.uniform(-300, 3000))
            options, p = ["--height", f"{h}m"], ATMOSPHERE_1976(EARTH_M * h / (EARTH_M - h)).P
        else:
            p = round(draw.uniform(70000, 106000))
            options = ["--pressure", f"{p}Pa"]
        wet, dew = psychrolib.GetTWetBulbFromRelHum(t, share, p), psychrolib.GetTDewPointFromRelHum(t, share)
        if wet > 0.1 and dew > 0.1:
            break
    pw = share * PropsSI("P", "T", k, "Q", 0, "Water")
    surface, s = temperature_typed(draw, round(t - draw.uniform(-2, 12), 2))
    return ["air", "--temperature", typed, "--humidity", f"{rh}%", "--surface", surface, *options], [
        ("saturation_pressure_pa", PropsSI("P", "T", k, "Q", 0, "Water"), 5e-4, 0),
        ("dew_point_c", PropsSI("T", "P", pw, "Q", 0, "Water") - 273.15, 0, 0.01),
        ("surface_margin_c", s - (PropsSI("T", "P", pw, "Q", 0, "Water") - 273.15), 0, 0.01),
        ("wet_bulb_c", wet, 0, 0.005),
        ("wet_bulb_c", HAPropsSI("Twb", "T", k, "P", p, "R", share) - 273.15, 0, 0.03),
        ("humidity_ratio", psychrolib.GetHumRatioFromRelHum(t, share, p), 5e-4, 0),
        ("humidity_ratio", HAPropsSI("W", "T", k, "P", p, "R", share), 7e-3, 0),
        ("pressure_pa", p, 1e-5, 0),
    ]


def wait(draw):
    law = draw.choice(["energy", "doubles"])
    reference, duration = round(draw.uniform(15, 25), 1), round(draw.uniform(0.2, 20), 2)
    if law == "energy":
        figure = round(draw.uniform(20, 95), 1)
        options = ["--energy", f"{figure}kJ/mol"]
    else:
        step = round(draw.uniform(6, 16), 1)
        fahrenheit = draw.random() < 0.5
        figure, options = (step / 1.8, ["--doubles-per", f"{step}F"]) if fahrenheit else (step, ["--doubles-per", f"{step}C"])
    points, readings = [], []
    for h in sorted({0.0, *(round(draw.uniform(0.1, 1.5 * duration), 2) for _ in range(draw.randint(0, 5)))}):
        typed, t = temperature_typed(draw, round(draw.uniform(6, 34), 2))
        points.append((h, t))
        readings += ["--reading", f"{h}h,{typed}" if h else f"0,{typed}"]
    rate, air_at = speed(law, figure, reference, duration), temperature(points)

    def done(until):
        edges = [0.0, *(h for h, _ in points if 0 < h < until), until]
        pieces = zip(edges, edges[1:])
        return sum(quad(lambda h: rate(air_at(h)), a, b, epsabs=1e-12, epsrel=1e-12)[0] for a, b in pieces) / duration

    most = duration
    while done(most) < 1:
        most *= 2
    at = round(draw.uniform(0.1, 1.3) * duration, 2)
    due = brentq(lambda h: done(h) - 1, 0, most, xtol=1e-9, rtol=1e-12)
    call = ["wait", "--duration", f"{duration}h", "--law", "warmth", *options, "--reference", f"{reference}C", *readings]
    return [*call, "--at", f"{at}h"], [("due_s", due * 3600, 0, 0.5), ("progress", done(at), 1e-6, 0), ("rate_now", rate(air_at(at)), 1e-9, 0)]


def ventilation(draw):
    (volume, v), (flow, q) = quantity(draw, 8, 400, ROOM), quantity(draw, 100, 20000, FLOW)
    left, mixing = round(draw.uniform(0.2, 50), 2), round(draw.uniform(1, 10), 2)
    rate = q / v / mixing
    reached = lambda t, y: y[0] - left / 100
    reached.terminal = True
    solved = solve_ivp(lambda t, y: -rate * y, (0, 20 / rate), [1.0], "DOP853", events=reached, rtol=1e-11, atol=1e-13)
    return ["ventilation", "--volume", volume, "--flow", flow, "--left", f"{left}%", "--mixing", str(mixing)], [
        ("air_changes_per_h", q / v, 1e-10, 0),
        ("purge_min", solved.t_events[0][0] * 60, 1e-7, 0),
    ]


def film(draw):
    wet, um = quantity(draw, 20, 400, FILM)
    solids, thinner = round(draw.uniform(15, 80), 1), round(draw.uniform(0, 40), 1)
    spelled = draw.choice([f"{solids}%", f"{solids}", f"{solids / 100:.4f}"])
    return ["film", "--wet", wet, "--solids", spelled, "--thinner", f"{thinner}%"], [
        ("wet_um", um, 1e-10, 0),
        ("dry_um", um * solids / 100 / (1 + thinner / 100), 1e-10, 0),
    ]


def coverage(draw):
    (area, m2), (dry, um), (loss, ml) = quantity(draw, 0.1, 20, AREA), quantity(draw, 8, 80, FILM), quantity(draw, 5, 200, VOLUME)
    solids, transfer, coats = round(draw.uniform(15, 80), 1), round(draw.uniform(30, 95), 1), draw.randint(1, 5)
    spare = round(draw.uniform(0, 30), 1)
    sprayed = m2 * um * coats / (solids / 100) / (transfer / 100)
    call = ["coverage", "--area", area, "--dry", dry, "--solids", f"{solids}%", "--transfer", f"{transfer}%", "--coats", str(coats)]
    return [*call, "--loss", loss, "--spare", f"{spare}%"], [("volume_ml", (sprayed + ml) * (1 + spare / 100), 1e-10, 0)]


def weight(draw):
    (area, m2), (dry, um), (density, rho) = quantity(draw, 0.1, 20, AREA), quantity(draw, 8, 200, FILM), quantity(draw, 0.9, 2, DENSITY)
    arm, m = quantity(draw, 0.05, 2, LENGTH)
    mass = m2 * um * rho
    return ["weight", "--area", area, "--dry", dry, "--density", density, "--arm", arm], [
        ("mass_g", mass, 1e-10, 0),
        ("moment_g_m", mass * m, 1e-10, 0),
    ]


def dilution(draw):
    vapour, m3 = quantity(draw, 0.15, 0.5, VAPOUR)
    lel = round(draw.uniform(0.6, 8), 2)
    return ["dilution", "--lel", f"{lel}%", "--vapour", vapour], [("air_m3_per_l", 4 * (100 - lel) * m3 / lel, 1e-10, 0)]


def mix(draw):
    """Exact fractions: an over-pour of the first component, and what that asks of the others."""
    parts = [Fraction(draw.randint(1, 400), 4) for _ in range(draw.randint(2, 4))]
    densities = [Fraction(draw.randint(80, 180), 100) for _ in parts]
    by, mass = draw.choice(["volume", "weight"]), Fraction(draw.randint(500, 40000), 10)
    shares = [p * d for p, d in zip(parts, densities)] if by == "volume" else parts
    planned = [mass * s / sum(shares) for s in shares]
    poured = (planned[0] * Fraction(draw.randint(900, 1300), 1000)).limit_denominator(100)
    factor = max(Fraction(1), poured / planned[0])
    call = ["mix", "--parts", ":".join(str(float(p)) for p in parts), "--by", by]
    call += ["--density", ",".join(f"{float(d)}g/mL" for d in densities), "--mass", f"{float(mass)}g"]
    found = [(f"components.{i}.mass_g", float(g), 1e-11, 0) for i, g in enumerate(planned)]
    found += [(f"components.{i}.new_g", float(g * factor), 1e-9, 0) for i, g in enumerate(planned)]
    found += [(f"components.{i}.mark_ml", float(sum(g / d for g, d in list(zip(planned, densities))[: i + 1])), 1e-11, 0) for i in range(len(parts))]
    return [*call, "--poured", f"{float(poured)}g"], found


def viscosity(draw):
    """The way back from a viscosity to seconds, by Brent's method on the standards' formulas."""
    cups = {
        "iso-4": (lambda t: 1.37 * t - 200 / t, 30, 100), "iso-6": (lambda t: 6.9 * t - 570 / t, 30, 100),
        "ford-2": (lambda t: 1.44 * (t - 18), 40, 100), "ford-4": (lambda t: 3.85 * (t - 4.49), 20, 100),
        "zahn-2": (lambda t: 3.5 * (t - 14), 20, 80), "din-4": (lambda t: 4.57 * t - 452 / t, 25, 150),
    }
    cup = draw.choice(sorted(cups))
    formula, low, high = cups[cup]
    nu = round(draw.uniform(formula(low) + 0.1, formula(high) - 0.1), 3)
    return ["viscosity", "--cup", cup, "--kinematic", f"{nu}cSt"], [("seconds", brentq(lambda t: formula(t) - nu, low, high, xtol=1e-12), 1e-9, 0)]


# each with its share of the questions, and whether a library stands behind it or our own arithmetic in exact numbers
TOPICS = {air: 30, wait: 15, ventilation: 10, film: 10, coverage: 10, weight: 10, dilution: 5, mix: 8, viscosity: 2}
OWN = {mix, viscosity}


def found(answer, key):
    for step in key.split("."):
        answer = answer[int(step)] if isinstance(answer, list) else answer[step]
    return answer


def ask(program, call):
    done = subprocess.run([program, "reckon", *call, "--json"], capture_output=True, text=True)
    return json.loads(done.stdout) if done.returncode == 0 else done.stderr.strip()


def main():
    program, count = sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 5000
    draw = random.Random(int(sys.argv[3]) if len(sys.argv) > 3 else 1)
    topics = draw.choices(list(TOPICS), TOPICS.values(), k=count)
    questions = [(topic, *topic(draw)) for topic in topics]
    with ThreadPoolExecutor(2) as pool:
        answers = list(pool.map(lambda question: ask(program, question[1]), questions))
    asked, compared, off = Counter(), Counter(), 0
    for (topic, call, wanted), answer in zip(questions, answers):
        asked[topic] += 1
        for key, want, relative, absolute in wanted:
            compared[topic] += 1
            got = found(answer, key) if isinstance(answer, dict) else None
            if got is None or abs(got - want) > max(relative * abs(want), absolute):
                off += 1
                print(f"OFF {' '.join(call)}: {key} is {got if got is not None else answer}, wanted {want}")
    for topic in TOPICS:
        by = "exact fractions and our formulas" if topic in OWN else "libraries"
        print(f"{topic.__name__:12} {asked[topic]:7} questions {compared[topic]:7} numbers, against {by}")
    outside = sum(compared[topic] for topic in TOPICS if topic not in OWN)
    print(f"{'all':12} {sum(asked.values()):7} questions {sum(compared.values()):7} numbers, {outside} against libraries, {off} off")
    sys.exit(1 if off else 0)


if __name__ == "__main__":
    main()
