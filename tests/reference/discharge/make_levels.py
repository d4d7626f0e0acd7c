"""The charge that new cells of the sets of make_aged.py had given when they came down to 3.3 V, at 25 degC,
as a fact of a capacity test tells it. See the README of this folder.

    python make_levels.py > levels.csv
"""
import csv, sys
import numpy as np
import make_aged as aged

LEVEL = 3.3

if __name__ == "__main__":
    rows = csv.writer(sys.stdout, lineterminator="\n")
    rows.writerow("set,temperature_c,c_rate,current_a,level_v,capacity_ah".split(","))
    for name in aged.BASE:
        if name in aged.HI: continue
        for rate in (0.5, 1.0):
            amps = rate * aged.BASE[name]
            try:
                _, v, q = aged.run(name, "new", amps, 25, 0, 1.0, 2.9, np.linspace(0, 3600 / rate * 1.3, 3000))
            except Exception as e:
                print(name, rate, repr(e)[:120], file=sys.stderr); continue
            i = np.nonzero(v <= LEVEL)[0][0]
            f = (v[i-1] - LEVEL) / (v[i-1] - v[i])
            rows.writerow([name, 25, rate, amps, LEVEL, f"{q[i-1] + f * (q[i] - q[i-1]):.6g}"])
            sys.stdout.flush()
