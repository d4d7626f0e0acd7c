"""Equilibrium voltages at 25 degC of the sets of make_aged.py, new and worn, by the charge between the ends
that the curves of the classes have: 2.75 and 4.2 V, of iron phosphate 2.0 and 3.6 V. See the README of this
folder.

    python make_curves.py [SET,SET ...] > curves.csv
"""
import csv, sys
import numpy as np, pybamm
import make_aged as aged

ENDS = {True: (2.0, 3.6), False: (2.75, 4.2)}
PERCENT = [0.5, 1, 2, 3.5, 5, 7.5, 10, 15, 20, 30, 40, 50, 60, 70, 80, 85, 90, 92.5, 95, 97.5, 99, 99.5]

def filled(name, age, charge):
    """The parameters, and how full both electrodes are: straight lines over the charge."""
    p = aged.load(name, age, charge)
    of = lambda side: p[f"Initial concentration in {side} electrode [mol.m-3]"] / p[f"Maximum concentration in {side} electrode [mol.m-3]"]
    return p, of("negative"), of("positive")

def curve(name, age):
    p, *empty = filled(name, age, 0.0)
    _, *full = filled(name, age, 1.0)
    par, at = pybamm.LithiumIonParameters(), pybamm.Scalar(298.15)
    of = lambda u: float(np.ravel(p.evaluate(u))[0])
    def volts(charge):
        x, y = (pybamm.Scalar(a + charge * (b - a)) for a, b in zip(empty, full))
        return of(par.p.prim.U(y, at)) - of(par.n.prim.U(x, at))
    return volts

if __name__ == "__main__":
    rows = csv.writer(sys.stdout, lineterminator="\n")
    rows.writerow(["set", "age", "charge", "ocv_v"])
    for name in sys.argv[1].split(",") if len(sys.argv) > 1 else aged.BASE:
        low, high = ENDS[name in aged.HI]
        aged.LO[name] = low
        aged.HI.update({name: high} if name in aged.HI else {})
        for age in list(aged.AGES):
            try:
                volts = curve(name, age)
                ends = volts(0.0), volts(1.0)
                if abs(ends[0] - low) > 0.01 or abs(ends[1] - high) > 0.001:
                    print(name, age, "does not reach its ends", ends, file=sys.stderr); continue
                rows.writerows([name, age, percent / 100, f"{volts(percent / 100):.4f}"] for percent in PERCENT)
            except Exception as e:
                print(name, age, repr(e)[:200], file=sys.stderr)
            sys.stdout.flush()
