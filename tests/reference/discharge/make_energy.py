"""The energy that new and worn cells of make_aged.py give at 25 degC beside their charge and the voltages on
the way, as a fact of a capacity test tells it. See the README of this folder.

    python make_energy.py [SET,SET ...] > energy.csv
"""
import csv, sys
import numpy as np
import make_aged as aged

AGES, RATES = ("worn-1", "worn-2", "worn-4"), (0.2, 1.0)

if __name__ == "__main__":
    names = sys.argv[1].split(",") if len(sys.argv) > 1 else list(aged.BASE)
    rows = csv.writer(sys.stdout, lineterminator="\n")
    rows.writerow("set,age,temperature_c,c_rate,current_a,cutoff_v,capacity_ah,energy_wh,v_at_50pct_v,v_at_90pct_v".split(","))
    for name in names:
        ends = (3.0, 2.5, 2.0) if name in aged.HI else (3.0, 2.5)
        for age in AGES:
            for rate in RATES:
                amps = rate * aged.BASE[name]
                try:
                    _, v, q = aged.run(name, age, amps, 25, 0, 1.0, ends[-1] - 0.01, np.linspace(0, 3600 / rate * 1.3, 3000))
                except Exception as e:
                    print(name, age, rate, type(e).__name__, file=sys.stderr, flush=True)
                    continue
                energy = np.concatenate([[0], np.cumsum(np.diff(q) * (v[1:] + v[:-1]) / 2)])
                for end in ends:
                    below = np.nonzero(v <= end)[0]
                    if len(below) == 0 or below[0] == 0: continue
                    i = below[0]
                    f = (v[i-1] - end) / (v[i-1] - v[i])
                    charge = q[i-1] + f * (q[i] - q[i-1])
                    half, late = np.interp(np.array([.5, .9]) * charge, q, v)
                    rows.writerow([name, age, 25, rate, amps, end, f"{charge:.6g}", f"{np.interp(charge, q, energy):.6g}", f"{half:.4f}", f"{late:.4f}"])
                sys.stdout.flush()
