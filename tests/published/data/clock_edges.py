#!/usr/bin/env python3
"""Floors, the ends of a table, and a surface under a waterborne film by another route, in plain
Python: python3 clock_edges.py > clock_edges.csv

Beyond a table's rows the duration is read off the straight line of ln D through the two rows nearest
to it, in the cold for a minimum and a prediction, in the heat for a maximum, and never on the unsafe
side of the end row; elsewhere the end row holds. Below a floor a minimum and a prediction stand; a
maximum runs on. The film of the law `water` is no warmer than the surface for a minimum and a
prediction. Air and surface are linear between readings and flat outside. The integral is a sum of
short steps by the middle of each, the due time where it passes 1.
"""
from math import exp, log

from water_law import saturation, wet_bulb

TABLES = {
    "three rows": [(15, 36000), (23, 21600), (35, 10800)],
    "two rows": [(10, 3600), (25, 900)],
    "odd cold end": [(10, 3000), (20, 3600), (30, 1200)],
}
LAWS = {"steady": 3600.0, "doubles per 10 at 20": 3600.0, "water": 1200.0}
HISTORIES = {
    "ramp up": [(0, 2.0, 60.0), (14400, 26.0, 60.0)],
    "dip": [(0, 20.0, 50.0), (1500, 20.0, 50.0), (2400, 4.0, 60.0), (7200, 4.0, 60.0),
            (9000, 22.0, 45.0)],
    "cold night": [(0, 14.0, 55.0), (7200, 6.0, 75.0), (21600, 5.0, 80.0), (36000, 18.0, 50.0)],
}
SURFACES = {"none": None, "4 under": -4.0, "8 under": -8.0}


def line(a, b, t):
    return exp(log(a[1]) + (log(b[1]) - log(a[1])) * (t - a[0]) / (b[0] - a[0]))


def table_duration(rows, t, edge):
    if t < rows[0][0]:
        on = line(rows[0], rows[1], t)
        return max(on, rows[0][1]) if edge != "max" else rows[0][1]
    if t > rows[-1][0]:
        on = line(rows[-2], rows[-1], t)
        return min(on, rows[-1][1]) if edge == "max" else rows[-1][1]
    for a, b in zip(rows, rows[1:]):
        if a[0] <= t <= b[0]:
            return line(a, b, t)


def air(readings, at):
    if at <= readings[0][0]:
        return readings[0][1:]
    for a, b in zip(readings, readings[1:]):
        if a[0] <= at < b[0]:
            x = (at - a[0]) / (b[0] - a[0])
            return a[1] + (b[1] - a[1]) * x, a[2] + (b[2] - a[2]) * x
    return readings[-1][1:]


def drive(t, rh, surface):
    tw = wet_bulb(t, rh)
    film = tw + 0.2 * (t - tw)
    if surface is not None:
        film = min(film, t + surface)
    return film, saturation(film) - rh / 100.0 * saturation(t)


def rate(law, edge, floor, surface, t, rh):
    counted = t
    if law.startswith("water"):
        counted, pressure = drive(t, rh, surface if edge != "max" else None)
        speed = max(pressure, 0.0) / drive(25.0, 50.0, None)[1]
    elif law.startswith("doubles"):
        speed = 2.0 ** ((t - 20.0) / 10.0)
    else:
        speed = 1.0
    if floor is not None and edge != "max" and counted < floor:
        return 0.0
    return speed


def due(law, edge, floor, surface, readings, step=1.0):
    done, at, wanted = 0.0, 0.0, LAWS[law]
    while at < 200000.0:
        gained = rate(law, edge, floor, surface, *air(readings, at + step / 2)) * step
        if done + gained >= wanted:
            at += (wanted - done) / gained * step
            break
        done, at = done + gained, at + step
    if edge == "min":
        return max(at, wanted)
    return min(at, wanted) if edge == "max" else at


def main():
    print("# python3 clock_edges.py: tables by logarithms, floors and surfaces by steps of 1 s")
    print("# kind table: value = seconds in flat air of t_c; kind due: value = seconds until the edge,")
    print("# durations 3600 s (steady, doubling) and 1200 s (water, stated at 25 °C, 50 %); surface in K from the air")
    print("kind,law,edge,floor_c,surface,history,t_c,value")
    for name, rows in TABLES.items():
        for edge in ("bare", "min", "max"):
            for t in (-8, -2, 3, 5, 8, 12, 18, 24, 29, 33, 38, 44, 50):
                print(f"table,{name},{edge},,,,{t},{table_duration(rows, t, edge):.10g}")
    for law in LAWS:
        for edge in ("bare", "min", "max"):
            for floor in (None, 5.0, 10.0):
                surfaces = SURFACES if law.startswith("water") else {"none": None}
                for surface, under in surfaces.items():
                    for history, readings in HISTORIES.items():
                        value = due(law, edge, floor, under, readings)
                        shown = "" if floor is None else floor
                        print(f"due,{law},{edge},{shown},{surface},{history},,{value:.2f}")


if __name__ == "__main__":
    main()
