"""Aged cells: the sets of make_discharge.py with less lithium and active material, slower electrolyte
and particles and more resistance. See the README of this folder.

    python make_aged.py SET[,SET ...]
"""
import csv, os, sys, warnings
import numpy as np, pybamm
from pybamm.models.full_battery_models.lithium_ion.electrode_soh import get_min_max_stoichiometries
warnings.simplefilter("ignore")
pybamm.set_logging_level("ERROR")
LO = {"Chen2020": 2.5, "Ecker2015": 2.5, "NCA_Kim2011": 2.7, "Ai2020": 3.0, "OKane2022": 2.5, "ORegan2022": 2.5, "Mohtat2020": 2.5, "Marquis2019": 3.0, "Ramadass2004": 2.8, "Prada2013": 2.0, "BPX_LFP": 2.0}
HI = {"Prada2013": 3.6, "BPX_LFP": 3.65}
BASE = {"Chen2020": 5.0, "Ecker2015": 0.15625, "NCA_Kim2011": 0.43, "Ai2020": 2.28, "OKane2022": 5.0, "ORegan2022": 5.0, "Mohtat2020": 5.0, "Marquis2019": 0.9, "Ramadass2004": 1.8, "Prada2013": 2.3, "BPX_LFP": 2.0}
# 10-second resistance at half charge and 25 degC when new, ohms (resistance.csv, more_resistance.csv)
R10 = {}
here = os.path.dirname(os.path.abspath(__file__))
for f in ("resistance.csv", "more_resistance.csv"):
    for r in csv.DictReader(open(os.path.join(here, f))):
        if r["temperature_c"] == "25" and r["soc_percent"] == "50":
            R10[r["set"]] = float(r["r_10s_mohm"]) / 1000
# lithium lost, active material lost (negative, positive), electrolyte and particles slowed to, resistance added by R10
AGES = {
    "new": (0.0, 0.0, 0.0, 1.0, 1.0, 0.0),
    "worn-1": (0.15, 0.05, 0.05, 0.8, 0.7, 0.5),
    "worn-2": (0.40, 0.15, 0.15, 0.6, 0.5, 1.0),
    "worn-3": (0.25, 0.20, 0.05, 0.7, 0.4, 2.0),
    "worn-4": (0.50, 0.10, 0.10, 0.5, 0.6, 1.0),
}
# How thick the electrodes are, by those of the set, and whether the cell warms itself: make_drawn.py.
THICKNESS, WARMS = {}, set()
CASES = [(25, 0.2), (25, 0.5), (25, 1.0), (25, 2.0), (10, 0.5), (10, 1.0), (0, 0.5), (40, 0.5), (40, 1.0)]

def slowed(value, f):
    if callable(value):
        return lambda *a: value(*a) * f
    return value * f

def load(name, age, soc):
    """A set, worn, at a charge state between its own full and empty."""
    lli, lam_n, lam_p, electrolyte, particles, added = AGES[age]
    p = pybamm.ParameterValues.create_from_bpx(os.environ["BPX_DIR"] + "/lfp_18650_cell_BPX.json") if name == "BPX_LFP" else pybamm.ParameterValues(name)
    hi = HI.get(name, 4.2)
    p.update({"Upper voltage cut-off [V]": hi, "Open-circuit voltage at 100% SOC [V]": hi, "Lower voltage cut-off [V]": LO[name], "Open-circuit voltage at 0% SOC [V]": LO[name]}, check_already_exists=False)
    for side in ("Negative", "Positive"):
        k = f"{side} electrode thickness [m]"
        p[k] = slowed(p[k], THICKNESS.get(age, 1.0))
    x0, x1, y1, _ = (float(v) for v in get_min_max_stoichiometries(p))
    par = pybamm.LithiumIonParameters()
    qn, qp = (float(np.ravel(p.evaluate(q))[0]) for q in (par.n.Q_init, par.p.Q_init))
    lithium = qn * (x1 - lli * (x1 - x0)) + qp * y1
    qn_now, qp_now = qn * (1 - lam_n), qp * (1 - lam_p)
    lithium -= qn * lam_n * x1 * 0.5 + qp * lam_p * y1  # what is lost is lost half full
    def volts(x):
        y = (lithium - qn_now * x) / qp_now
        t = pybamm.Scalar(298.15)
        up = p.evaluate(par.p.prim.U(pybamm.Scalar(min(max(y, 1e-4), 1 - 1e-4)), t))
        un = p.evaluate(par.n.prim.U(pybamm.Scalar(min(max(x, 1e-4), 1 - 1e-4)), t))
        return float(np.ravel(up)[0] - np.ravel(un)[0])
    def at(v):
        a, b = max(1e-3, (lithium - qp_now * 0.999) / qn_now), min(0.999, lithium / qn_now)
        for _ in range(40):
            m = (a + b) / 2
            a, b = (m, b) if volts(m) < v else (a, m)
        return (a + b) / 2
    full, empty = at(hi), at(LO[name])
    x = empty + soc * (full - empty)
    y = (lithium - qn_now * x) / qp_now
    p["Initial concentration in negative electrode [mol.m-3]"] = x * p["Maximum concentration in negative electrode [mol.m-3]"]
    p["Initial concentration in positive electrode [mol.m-3]"] = y * p["Maximum concentration in positive electrode [mol.m-3]"]
    p["Upper voltage cut-off [V]"] = hi + 0.3
    for side, lam in (("Negative", lam_n), ("Positive", lam_p)):
        k = f"{side} electrode active material volume fraction"
        p[k] = slowed(p[k], 1 - lam)
        k = f"{side} particle diffusivity [m2.s-1]"
        p[k] = slowed(p[k], particles)
    for k in ("Electrolyte diffusivity [m2.s-1]", "Electrolyte conductivity [S.m-1]"):
        p[k] = slowed(p[k], electrolyte)
    p.update({"Contact resistance [Ohm]": added * R10[name]}, check_already_exists=False)
    return p

def run(name, age, amps, temp, hours, soc, low, t):
    p = load(name, age, soc)
    p["Lower voltage cut-off [V]"] = low
    k = 273.15 + temp
    p.update({"Ambient temperature [K]": k, "Initial temperature [K]": k}, check_already_exists=False)
    p["Current function [A]"] = amps
    options = {"contact resistance": "true"}
    if age in WARMS:
        options["thermal"] = "lumped"
    sim = pybamm.Simulation(pybamm.lithium_ion.DFN(options), parameter_values=p, solver=pybamm.IDAKLUSolver(rtol=1e-6, atol=1e-8))
    sol = sim.solve([0, t[-1]], t_interp=t)
    return sol.t, sol["Voltage [V]"].entries, sol["Discharge capacity [A.h]"].entries

def r10(name, age):
    rest = run(name, age, 1e-6 * BASE[name], 25, 1, 0.5, 1.5, np.linspace(0, 10, 11))[1][-1]
    return (rest - run(name, age, BASE[name], 25, 1, 0.5, 1.5, np.linspace(0, 10, 11))[1][-1]) / BASE[name]

def rows(name, age):
    floor = 1.99 if name in HI else 2.49
    r = r10(name, age)
    out = []
    for temp, rate in CASES:
        amps = rate * BASE[name]
        end = 3600 / rate * 1.3
        t = np.concatenate([[0, 0.1, 1, 10, 60], np.linspace(100, end, 3000)])
        try:
            tt, v, q = run(name, age, amps, temp, 0, 1.0, floor, t)
        except Exception as e:
            print(name, age, temp, rate, type(e).__name__, file=sys.stderr, flush=True)
            continue
        at = lambda s: f"{np.interp(s, tt, v):.4f}" if tt[-1] >= s else ""
        for cut in ((3.0, 2.75, 2.5, 2.0) if name in HI else (3.0, 2.75, 2.5)):
            below = np.nonzero(v <= cut)[0]
            if len(below) == 0 or below[0] == 0: continue
            i = below[0]
            f = (v[i-1] - cut) / (v[i-1] - v[i])
            charge = q[i-1] + f * (q[i] - q[i-1])
            e = np.interp(np.array([.5, .9]) * charge, q, v)
            out.append([name, age, f"{r*1000:.3f}", temp, rate, amps, cut, f"{charge/amps*3600:.1f}", f"{charge:.6g}", f"{e[0]:.4f}", f"{e[1]:.4f}", at(0.1), at(1), at(10), at(60)])
    return out

if __name__ == "__main__":
    for name in sys.argv[1].split(","):
        with open(f"aged__{name}.csv", "w", newline="") as f:
            w = csv.writer(f, lineterminator="\n")
            w.writerow("set,age,r10_mohm,temperature_c,c_rate,current_a,cutoff_v,time_s,capacity_ah,v_at_50pct_v,v_at_90pct_v,v_at_0p1s_v,v_at_1s_v,v_at_10s_v,v_at_60s_v".split(","))
            for age in AGES:
                try: w.writerows(rows(name, age))
                except Exception as e: print(name, age, "failed", repr(e)[:200], flush=True)
                f.flush()
        print(name, "done", flush=True)
