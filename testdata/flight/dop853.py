#!/usr/bin/env python3
"""The flights of dop853.csv by another program: SciPy's DOP853, rtol 1e-10.

    python3 testdata/flight/dop853.py > testdata/flight/dop853.csv    write the golden values
    python3 testdata/flight/dop853.py -check testdata/flight/dop853.csv
                                        fly them again and compare; prints the worst difference

Written with SciPy 1.10.1 (Debian 12: apt-get install python3-scipy). It shares
the published coefficients and constants with core/flight, and no line of code:
vectors in numpy, spin by its closed form in the path, events by SciPy's root
finder on its own dense output. core/flight's TestDOP853 holds the engine to the
file; `make crosscheck` runs -check where SciPy is there.
"""
import csv
import math
import sys

import numpy as np
import scipy
from scipy.integrate import solve_ivp

MASS, DIAMETER, GRAVITY = 0.04593, 0.04267, 9.80665
RADIUS = DIAMETER / 2
FIELDS = ["model", "speed_mps", "launch_rad", "direction_rad", "spin_radps", "axis_rad", "temperature_k", "pressure_pa",
          "humidity", "wind_mps", "wind_from_rad", "carry_m", "offline_m", "apex_m", "descent_rad", "time_s"]


def corner(x, at, wide):
    """max(x, at) with its corner rounded by a parabola"""
    if abs(x - at) < wide:
        return at + (x - at + wide) ** 2 / (4 * wide)
    return max(x, at)


def clip(x, lo, hi):
    return min(max(x, lo), hi)


def comp(r, s):
    r = -corner(-corner(r, .7, .1), -2.2, .1)
    s = -corner(-s, -.35, .0225)
    lift = .0677 + 1.0208 * s - .5991 * s * s - .0122 / r ** 2
    return .1029 + .0274 * r + .7397 * s, lift * -corner(-s / .045, -1, .5)


def ss94(r, s):
    f, r, s = min(1, s / .08), clip(r, .7, 2.1), clip(s, .08, .2)
    return .24 + .18 * s + .06 * math.sin(math.pi * (r * 1e5 - 90000) / 200000), .54 * s ** .4 * f


def nms04(r, s):
    f, s = min(1, s / .03), clip(s, .03, 1.13)
    return (np.polyval([.7510, -1.760, 1.098, .2148, .2049], s), np.polyval([-.2158, 1.006, -1.644, 1.250, .0616], s) * f)


def lks18(r, s):
    f, r, s = min(1, s / .04), clip(r, .5, 2.2), clip(s, .04, .31)
    re = r * 1e5
    cd = 1.91e-11 * re ** 2 - 5.40e-6 * re + .56 if re > 1e5 else 1.29e-10 * re ** 2 - 2.59e-5 * re + 1.50
    return cd, (1.99 * s - 3.25 * s * s) * f


def itr98(r, s):
    f, r, s = min(1, s / .044), clip(r, .81, 2), clip(s, .044, .218)
    return .2028 - .2159 * s + 2.8466 * s ** 2 + .0165 * r, (.0860 + .6463 * s + 1.4789 * s ** 2 - .0122 / r ** 2) * f


MODELS = {"COMP": comp, "SS94": ss94, "NMS04": nms04, "LKS18": lks18, "ITR98": itr98}


def fly(row):
    rho = (.34848 * row["pressure_pa"] / 100 - .9 * row["humidity"] * math.exp(.061 * (row["temperature_k"] - 273.15))) / row["temperature_k"]
    mu = 1.458e-6 * row["temperature_k"] ** 1.5 / (row["temperature_k"] + 110.4)
    k = rho * math.pi * RADIUS ** 2 / (2 * MASS)
    v, a, d, t = row["speed_mps"], row["launch_rad"], row["direction_rad"], row["axis_rad"]
    axis = math.cos(t) * np.array([-math.sin(d), 0, math.cos(d)]) - math.sin(t) * np.array([0, 1, 0])
    blow = -row["wind_mps"] * np.array([math.cos(row["wind_from_rad"]), 0, math.sin(row["wind_from_rad"])])
    model = MODELS[row["model"]]

    def rhs(_, q):
        u = q[3:6] - blow * math.log(math.hypot(q[1], 1) / .03) / math.log(10 / .03)
        speed = np.linalg.norm(u)
        side = np.cross(axis, u)
        across = np.linalg.norm(side)
        w = row["spin_radps"] * math.exp(-2e-5 * rho / 1.225 * q[6] / RADIUS)
        cd, cl = model(rho * speed * DIAMETER / mu / 1e5, RADIUS * w * across / speed ** 2)
        acc = -k * cd * speed * u + k * cl * speed ** 2 * side / across - np.array([0, GRAVITY, 0])
        return np.concatenate([q[3:6], acc, [speed]])

    def ground(_, q):
        return q[1]

    def top(_, q):
        return q[4]

    ground.terminal, ground.direction, top.direction = True, -1, -1
    start = [0, 1e-14, 0, v * math.cos(a) * math.cos(d), v * math.sin(a), v * math.cos(a) * math.sin(d), 0]
    out = solve_ivp(rhs, (0, 30), start, method="DOP853", rtol=1e-10, atol=1e-10, max_step=.25, events=[ground, top])
    end = out.y_events[0][0]
    return [end[0], end[2], out.y_events[1][0][1], math.atan2(-end[4], math.hypot(end[3], end[5])), out.t_events[0][0]]


def launches():
    rng = np.random.default_rng(853)
    for i in range(96):
        model = "COMP" if i < 48 else list(MODELS)[1 + i % 4]
        yield {"model": model, "speed_mps": rng.uniform(100, 190) * .44704, "launch_rad": math.radians(rng.uniform(6, 20)),
               "direction_rad": math.radians(rng.normal(0, 4)), "spin_radps": rng.uniform(1300, 4500) * math.pi / 30,
               "axis_rad": math.radians(rng.normal(0, 8)), "temperature_k": 293.15 + 8 * rng.normal(), "pressure_pa": 101325 - 4000 * rng.random(),
               "humidity": rng.random(), "wind_mps": 0 if i % 2 else 7 * rng.random(), "wind_from_rad": 0 if i % 2 else 2 * math.pi * rng.random()}


def main():
    if sys.argv[1:2] == ["-check"]:
        with open(sys.argv[2]) as f:
            rows = list(csv.DictReader(line for line in f if not line.startswith("#")))
        worst, allowed = {}, {"COMP": 1e-8}
        for r in rows:
            row = {k: x if k == "model" else float(x) for k, x in r.items()}
            w = worst.setdefault(r["model"], [0.0] * 5)
            for i, (key, got) in enumerate(zip(FIELDS[11:], fly(row))):
                w[i] = max(w[i], abs(got - row[key]))
        print(f"dop853.csv: {len(rows)} flights flown again by SciPy {scipy.__version__}; the default is smooth, the others have edges, across which rounding moves the steps")
        for model, w in worst.items():
            print(f"  {model:6} allowed {allowed.get(model, 1e-5):.0e}, worst differences " + ", ".join(f"{k} {x:.1e}" for k, x in zip(FIELDS[11:], w)))
        sys.exit(1 if any(max(w) > allowed.get(m, 1e-5) for m, w in worst.items()) else 0)
    print(f"# written by dop853.py with SciPy {scipy.__version__}, numpy {np.__version__}: DOP853, rtol 1e-10, atol 1e-10")
    print(",".join(FIELDS))
    for row in launches():
        print(",".join([row["model"]] + [f"{row[k]:.12g}" for k in FIELDS[1:11]] + [f"{x:.12g}" for x in fly({k: float(f'{x:.12g}') if k != 'model' else x for k, x in row.items()})]))


main()
