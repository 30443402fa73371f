#!/usr/bin/env python3
"""Air by two other programs.

    python3 testdata/air/air.py testdata/air      writes standard.csv and moist.csv there

standard.csv: the standard atmosphere of 1976 (the same as ISO 2533 to 11 km) by
fluids; moist.csv: the density of moist air by iapws, which solves the IAPWS
equations of state for humid air (guideline G8-10) and for water's saturation.
Debian: apt-get install python3-fluids python3-iapws. Neither shares a line or a
formula with core/air but the viscosity's, which the standard itself prescribes.
"""
import csv
import sys
from importlib.metadata import version

from fluids import ATMOSPHERE_1976
from iapws.humidAir import HumidAir
from iapws.iapws97 import _PSat_T

EARTH = 6356766.0  # [m] the standard's radius: geometric from geopotential altitude


def table(path, head, rows):
    with open(path, "w", newline="") as f:
        w = csv.writer(f, lineterminator="\n")
        w.writerow(head)
        w.writerows(rows)


def main(folder):
    rows = []
    for h in range(0, 3001, 250):
        a = ATMOSPHERE_1976(EARTH * h / (EARTH - h))
        rows.append([h] + [f"{v:.9g}" for v in (a.T, a.P, a.rho, a.mu)])
    table(f"{folder}/standard.csv", ["altitude_m", "temperature_k", "pressure_pa", "density_kgm3", "viscosity_pas"], rows)
    rows = []
    for p in (75000, 90000, 101325, 104000):
        for c in range(0, 36, 5):
            for humidity in (0, .3, .6, .95):
                # Water's share by its saturation pressure; a trace stands for none.
                share = max(humidity * _PSat_T(c + 273.15) * 1e6 / p, 1e-9)
                rows.append([p, c, humidity, f"{HumidAir(T=c + 273.15, P=p / 1e6, xw=share).rho:.7g}"])
    table(f"{folder}/moist.csv", ["pressure_pa", "temperature_c", "humidity", "density_kgm3"], rows)
    print("fluids", version("fluids"), "; iapws", version("iapws"))


main(sys.argv[1])
