"""Makes the reference tables of this folder (see ../README.md).

    python make_discharge.py [table.csv ...]

needs pybamm 26.10.1.1 and bpx 1.1.1; BPX_DIR names the folder of the BPX example file."""
import csv
import os
import sys
import warnings
from multiprocessing import Pool

import numpy as np
import pybamm
from pybamm.models.full_battery_models.lithium_ion.electrode_soh import get_min_max_stoichiometries

PINNED = "26.10.1.1"
BPX_DIR = os.environ.get("BPX_DIR", ".")

# base: amperes of 1C. lo, hi: voltage limits of 0 % and 100 %. grp: which cases below.
SETS = {
    "Chen2020": dict(cls="INR", pos="NMC811", neg="graphite-SiOx", key="Chen2020", doi="10.1149/1945-7111/ab9050", base=5.0, lo=2.5, hi=4.2, grp="main"),
    "Ecker2015": dict(cls="INR", pos="Ni0.4Co0.6 oxide", neg="graphite", key="Ecker2015i", doi="10.1149/2.0551509jes", base=0.15625, lo=2.5, hi=4.2, grp="main"),
    "NCA_Kim2011": dict(cls="INR", pos="NCA", neg="graphite", key="Kim2011", doi="10.1149/1.3597614", base=0.43, lo=2.7, hi=4.2, grp="main"),
    "Ai2020": dict(cls="ICR", pos="LCO", neg="graphite", key="Ai2019", doi="10.1149/2.0122001JES", base=2.28, lo=3.0, hi=4.2, grp="main"),
    "BPX_LFP": dict(cls="IFR", pos="LFP", neg="graphite", key="BPX example lfp_18650_cell", doi="", base=2.0, lo=2.0, hi=3.65, grp="main", file="lfp_18650_cell_BPX.json"),
}
CASES = {
    "main": {
        "CC": [(25, 0.2), (25, 0.5), (25, 1.0), (25, 1.5), (25, 2.0), (0, 0.5), (0, 1.0), (40, 0.5), (40, 1.0)],
        "CP": [(25, 1.0), (25, 0.5)],
        "PULSE": [(25, 20), (25, 50), (25, 80), (0, 50), (40, 50)],
        "SERIES": [(1.0, (0.8, 0.9, 0.95), ((3, (9.0, 8.4)), (2, (6.0, 5.6))))],
        "PARALLEL": [(100, 50), (60, 55)],
    },
}
CC, CP, PULSE, SERIES, PARALLEL = ({k: c[n] for k, c in CASES.items()} for n in ("CC", "CP", "PULSE", "SERIES", "PARALLEL"))
ONLY = {}


# ---------------------------------------------------------------- engine
def load(name):
    """A parameter set with the voltage limits of SETS (some differ from the library's, see README)."""
    info = SETS[name]
    if info.get("file"):
        path = os.path.join(BPX_DIR, info["file"])
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            p = pybamm.ParameterValues.create_from_bpx(path)
    else:
        p = pybamm.ParameterValues(name)
    p.update(
        {
            "Upper voltage cut-off [V]": info["hi"],
            "Open-circuit voltage at 100% SOC [V]": info["hi"],
            "Lower voltage cut-off [V]": info["lo"],
            "Open-circuit voltage at 0% SOC [V]": info["lo"],
        },
        check_already_exists=False,
    )
    return p


def base(name):
    """Amperes of 1C."""
    return SETS[name]["base"]


def floor(name):
    return 1.99 if SETS[name]["cls"] == "IFR" else 2.49


def cutoffs(name):
    return (3.0, 2.75, 2.5, 2.0) if SETS[name]["cls"] == "IFR" else (3.0, 2.75, 2.5)


def limits(name):
    p = load(name)
    x0, x1, y1, y0 = (float(v) for v in get_min_max_stoichiometries(p))
    par = pybamm.LithiumIonParameters()
    q = float(np.ravel(p.evaluate(par.n.Q_init))[0]) * (x1 - x0)
    return x0, x1, y0, y1, q


def ocv(name, soc):
    """Equilibrium full-cell voltage at SoC (0..1, by charge between the limits), 25 degC."""
    p = load(name)
    x0, x1, y0, y1, _ = limits(name)
    par = pybamm.LithiumIonParameters()
    out = []
    for s in soc:
        x = pybamm.Scalar(x0 + s * (x1 - x0))
        y = pybamm.Scalar(y0 + s * (y1 - y0))
        t = pybamm.Scalar(298.15)
        up, un = p.evaluate(par.p.prim.U(y, t)), p.evaluate(par.n.prim.U(x, t))
        out.append(float(np.ravel(up)[0]) - float(np.ravel(un)[0]))
    return np.array(out)


def run(name, hours, current=None, power=None, temp_c=25.0, soc=1.0, scale=1.0, low=None, n=4000, t_interp=None):
    """One isothermal DFN run. Returns time [s], voltage [V], charge [A.h], current [A]."""
    p = load(name)
    p["Lower voltage cut-off [V]"] = floor(name) if low is None else low
    p["Electrode width [m]"] = p["Electrode width [m]"] * scale
    t_k = 273.15 + temp_c
    p.update({"Ambient temperature [K]": t_k, "Initial temperature [K]": t_k}, check_already_exists=False)
    opt = {}
    if power is not None:
        opt = {"operating mode": "power"}
        p.update({"Power function [W]": power}, check_already_exists=False)
    else:
        p["Current function [A]"] = current
    model = pybamm.lithium_ion.DFN(opt)
    sim = pybamm.Simulation(model, parameter_values=p, solver=pybamm.IDAKLUSolver(rtol=1e-6, atol=1e-8))
    end = 3600.0 * hours
    ti = np.linspace(0, end, n + 1) if t_interp is None else t_interp
    sol = sim.solve([0, end], t_interp=ti, initial_soc=soc)
    return (
        sol.t,
        sol["Voltage [V]"].entries,
        sol["Discharge capacity [A.h]"].entries,
        sol["Current [A]"].entries,
    )


def crossing(t, v, cut):
    """First time at which v falls to cut; None if it never does."""
    below = np.nonzero(v <= cut)[0]
    if len(below) == 0:
        return None
    i = below[0]
    if i == 0:
        return 0.0
    return t[i - 1] + (v[i - 1] - cut) / (v[i - 1] - v[i]) * (t[i] - t[i - 1])


def g(x, d=5):
    return "" if x is None else f"{x:.{d}g}"


def discharge_rows(name, t, v, q, i):
    """Per cut-off: time, capacity, energy, voltage at 10/50/90 % of that capacity."""
    e = np.concatenate([[0], np.cumsum(np.diff(t) * 0.5 * ((v * i)[1:] + (v * i)[:-1]))]) / 3600
    rows = []
    for cut in cutoffs(name):
        tc = crossing(t, v, cut)
        if tc is None or tc <= 0:
            rows.append([cut] + [g(tc)] + [""] * 5)
            continue
        qc = np.interp(tc, t, q)
        vs = [np.interp(f * qc, q, v) for f in (0.1, 0.5, 0.9)]
        rows.append([cut, g(tc, 6), g(qc, 6), g(np.interp(tc, t, e), 6)] + [g(x, 5) for x in vs])
    return rows


def keep(name, tag, t, v, q, i):
    """Optional raw curves for scratch work."""
    d = os.environ.get("REF_CURVES")
    if d:
        os.makedirs(d, exist_ok=True)
        np.savez(os.path.join(d, f"{name}__{tag}.npz"), t=t, v=v, q=q, i=i)


def job_ocv(name):
    rows = []
    grid = sorted(set(np.round(np.arange(0, 100.01, 2.5), 3)) | set(np.round(np.arange(0, 10.01, 0.5), 3)) | set(np.round(np.arange(95, 100.01, 0.5), 3)))
    q = limits(name)[4]
    for s, u in zip(grid, ocv(name, np.array(grid) / 100)):
        rows.append([name, f"{s:g}", f"{u:.4f}", g(q * (1 - s / 100), 6)])
    return rows


def job_cc(name):
    rows = []
    for temp, rate in CC[SETS[name]['grp']]:
        i = rate * base(name)
        try:
            t, v, q, c = run(name, 1.35 / rate * SETS[name].get("stretch", 1.0), current=i, temp_c=temp)
        except Exception as err:  # a set outside its range
            rows.append([name, temp, rate, g(i), "", "", "", "", "", "", "failed: " + type(err).__name__])
            continue
        keep(name, f"cc_{temp}_{rate}", t, v, q, c)
        for r in discharge_rows(name, t, v, q, c):
            rows.append([name, temp, rate, g(i)] + r)
    return rows


def job_cp(name):
    rows = []
    volt = 3.2 if SETS[name]["cls"] == "IFR" else 3.7
    for temp, f in CP[SETS[name]['grp']]:
        p = f * base(name) * volt
        try:
            t, v, q, c = run(name, 1.4 / f * SETS[name].get("stretch", 1.0), power=p, temp_c=temp)
        except Exception as err:
            rows.append([name, temp, f, g(p), "", "", "", "", "", "", "failed: " + type(err).__name__])
            continue
        keep(name, f"cp_{temp}_{f}", t, v, q, c)
        for r in discharge_rows(name, t, v, q, c):
            rows.append([name, temp, f, g(p)] + r)
    return rows


def job_pulse(name):
    rows = []
    for temp, soc in PULSE[SETS[name]['grp']]:
        i = base(name)
        ti = np.array([0, 0.1, 1, 2, 10, 30, 60.0])
        # own open-circuit voltage at this temperature: a run with a negligible current
        t0, v0, _, _ = run(name, 1 / 3600, current=1e-6 * i, temp_c=temp, soc=soc / 100, t_interp=np.array([0, 1.0]))
        u = v0[0]
        t, v, _, _ = run(name, 60 / 3600, current=i, temp_c=temp, soc=soc / 100, low=0.5, t_interp=ti)
        r = {k: (u - np.interp(k, t, v)) / i * 1000 for k in (0, 1, 10, 60)}
        # two currents: 0.2C for 10 s, then 1C for 1 s
        p = load(name)
        p["Lower voltage cut-off [V]"] = 0.5
        tk = 273.15 + temp
        p.update({"Ambient temperature [K]": tk, "Initial temperature [K]": tk}, check_already_exists=False)
        p["Current function [A]"] = "[input]"
        sim = pybamm.Simulation(pybamm.lithium_ion.DFN(), parameter_values=p, solver=pybamm.IDAKLUSolver(rtol=1e-6, atol=1e-8))
        sim.build(initial_soc=soc / 100)
        sol = sim.step(10.0, inputs={"Current function [A]": 0.2 * i})
        u1 = sol["Voltage [V]"].entries[-1]
        sol = sim.step(1.0, inputs={"Current function [A]": 1.0 * i})
        u2 = sol["Voltage [V]"].entries[-1]
        r_two = (u1 - u2) / (0.8 * i) * 1000
        z = ["", "", ""]
        try:
            pe = load(name)
            pe.update({"Ambient temperature [K]": tk, "Initial temperature [K]": tk}, check_already_exists=False)
            eis = pybamm.EISSimulation(pybamm.lithium_ion.DFN({"surface form": "differential"}), parameter_values=pe)
            zz = eis.solve([1e5, 1000.0, 0.1], initial_soc=soc / 100).impedance * 1000
            z = [g(zz[0].real), g(abs(zz[1])), g(zz[2].real)]
        except Exception as err:
            z = ["", "", ""]  # a set without a double-layer value
        rows.append([name, temp, soc, g(i), f"{u:.4f}"] + [g(r[k]) for k in (0, 1, 10, 60)] + [g(r_two)] + z)
    return rows


def job_relax(name):
    rows = []
    i = base(name)
    info = SETS[name]
    plans = {
        "after 30 min 1C discharge from full": (1.0, [pybamm.step.current(i, duration=1800, period=30)]),
        "after charge 0.5C then constant voltage to 0.05C": (
            0.3,
            [
                pybamm.step.current(-0.5 * i, termination=f"{info['hi']} V", duration=4 * 3600, period=60),
                pybamm.step.voltage(info["hi"], termination=f"{0.05 * i} A", duration=4 * 3600, period=60),
            ],
        ),
        "after 1C discharge to 3.0 V": (1.0, [pybamm.step.current(i, termination="3.0 V", duration=2 * 3600, period=30)]),
    }
    for case, (soc, steps) in plans.items():
        p = load(name)
        p["Lower voltage cut-off [V]"] = 1.5
        p["Upper voltage cut-off [V]"] = info["hi"] + 0.05
        exp = pybamm.Experiment([tuple(steps + [pybamm.step.rest(duration=24 * 3600, period=10)])])
        try:
            sim = pybamm.Simulation(pybamm.lithium_ion.DFN(), parameter_values=p, experiment=exp, solver=pybamm.IDAKLUSolver(rtol=1e-6, atol=1e-8))
            sol = sim.solve(initial_soc=soc)
            rest = sol.cycles[0].steps[-1]
            t = rest.t - rest.t[0]
            v = rest["Voltage [V]"].entries
            load_v = sol.cycles[0].steps[-2]["Voltage [V]"].entries[-1]
        except Exception as err:
            rows.append([name, case, "failed: " + type(err).__name__])
            continue
        vals = [np.interp(s, t, v) for s in (1e-3, 60, 600, 1800, 3600, 4 * 3600, 24 * 3600)]
        rows.append([name, case, f"{load_v:.4f}"] + [f"{x:.4f}" for x in vals[1:]])
    return rows


def job_series(name):
    rows = []
    for rate, fractions, layouts in SERIES[SETS[name]['grp']]:
        i = rate * base(name)
        hours = 1.35 / rate * SETS[name].get("stretch", 1.0)
        t, v, q, _ = run(name, hours, current=i)
        for f in fractions:
            weak = None
            for low in (0.0, 0.5, 1.0, 1.5, 2.0):
                try:
                    weak = run(name, hours, current=i, scale=f, low=low, n=8000)
                    break
                except Exception:
                    continue
            if weak is None:
                continue
            tw, vw, qw, _ = weak
            for n, cuts in layouts:
                for cut in cuts:
                    # both on the weak cell's clock
                    vs = np.interp(tw, t, v)
                    total = (n - 1) * vs + vw
                    tc = crossing(tw, total, cut)
                    if tc is None:
                        rows.append([name, rate, g(i), n, f, cut, g(tw[-1], 6), f"{np.interp(tw[-1], t, v):.4f}", f"{vw[-1]:.4f}", "weak cell below this before the string cut-off"])
                    else:
                        rows.append([name, rate, g(i), n, f, cut, g(tc, 6), f"{np.interp(tc, t, v):.4f}", f"{np.interp(tc, tw, vw):.4f}", "at string cut-off"])
    return rows


def job_parallel(name):
    """Two SPMe cells joined at their terminals, stepped together: at each step the current is
    (e1 - e2) / (r1 + r2), e = terminal voltage + I r, r = the cell's instantaneous resistance."""
    rows = []
    for s1, s2 in PARALLEL[SETS[name]['grp']]:
        one_c = base(name)
        p = load(name)
        p["Lower voltage cut-off [V]"] = 1.5
        p["Upper voltage cut-off [V]"] = SETS[name]["hi"] + 0.4
        p["Current function [A]"] = "[input]"
        sims, u0, r0 = [], [], []
        for s in (s1, s2):
            def fresh():
                sim = pybamm.Simulation(pybamm.lithium_ion.SPMe(), parameter_values=p, solver=pybamm.IDAKLUSolver(rtol=1e-7, atol=1e-9))
                sim.build(initial_soc=s / 100)
                return sim
            a = fresh()
            so = a.step(1e-3, inputs={"Current function [A]": 0.0})
            va = so["Voltage [V]"].entries[-1]
            b = fresh()
            so = b.step(1e-3, inputs={"Current function [A]": 0.2 * one_c})
            vb = so["Voltage [V]"].entries[-1]
            sims.append(a)
            u0.append(va)
            r0.append((va - vb) / (0.2 * one_c))
        rr = sum(r0)
        cur = (u0[0] - u0[1]) / rr
        first = cur
        t, dt, moved = 0.0, 0.5, 0.0
        trace = [(0.0, cur)]
        t10 = None
        last_v = u0
        while t < 48 * 3600 and len(trace) < 1500:
            v = []
            for k, sim in enumerate(sims):
                so = sim.step(dt, inputs={"Current function [A]": cur if k == 0 else -cur}, save=False)
                v.append(so["Voltage [V]"].entries[-1])
            t += dt
            moved += cur * dt / 3600
            new = (v[0] + cur * r0[0] - (v[1] - cur * r0[1])) / rr
            cur = new
            trace.append((t, cur))
            if abs(cur) < 0.01 and t10 is None:
                t10 = t
            if abs(cur) < 0.004 * one_c and t10 is not None:
                break
            dt = min(120.0, max(0.5, 0.01 * t))
        tr = np.array(trace)
        below = np.nonzero(np.abs(tr[:, 1]) < 0.01 * one_c)[0]
        tc = tr[below[0], 0] if len(below) else None
        at = lambda s: float(np.interp(s, tr[:, 0], tr[:, 1]))
        rows.append([name, s1, s2, f"{u0[0]:.4f}", f"{u0[1]:.4f}", g(r0[0] * 1000), g(r0[1] * 1000), g(first), g(at(10)), g(at(60)), g(at(600)), g(at(3600)), g(t10), g(tc), g(moved)])
    return rows


HEAD = {
    "sets.csv": "set,class,positive,negative,citation_key,doi,nominal_capacity_ah,one_c_a,lower_limit_v,upper_limit_v,ocv_capacity_ah,x_0,x_100,y_0,y_100",
    "ocv.csv": "set,soc_percent,ocv_v,charge_removed_ah",
    "constant_current.csv": "set,temperature_c,c_rate,current_a,cutoff_v,time_s,capacity_ah,energy_wh,v_at_10pct_v,v_at_50pct_v,v_at_90pct_v",
    "constant_power.csv": "set,temperature_c,power_factor,power_w,cutoff_v,time_s,capacity_ah,energy_wh,v_at_10pct_v,v_at_50pct_v,v_at_90pct_v",
    "resistance.csv": "set,temperature_c,soc_percent,pulse_a,ocv_v,r_0s_mohm,r_1s_mohm,r_10s_mohm,r_60s_mohm,r_two_current_mohm,re_z_100khz_mohm,abs_z_1khz_mohm,re_z_0p1hz_mohm",
    "relaxation.csv": "set,case,loaded_v,v_1min_v,v_10min_v,v_30min_v,v_1h_v,v_4h_v,v_24h_v",
    "series.csv": "set,c_rate,current_a,cells_in_series,weak_fraction,string_cutoff_v,time_s,strong_cell_v,weak_cell_v,meaning",
    "parallel.csv": "set,soc_1_percent,soc_2_percent,ocv_1_v,ocv_2_v,r_1_mohm,r_2_mohm,current_0s_a,current_10s_a,current_1min_a,current_10min_a,current_1h_a,time_to_10ma_s,time_to_0p01c_s,charge_moved_ah",
}


def job_sets(name):
    i = SETS[name]
    x0, x1, y0, y1, q = limits(name)
    p = load(name)
    return [[name, i["cls"], i["pos"], i["neg"], i["key"], i["doi"], g(p["Nominal cell capacity [A.h]"]), g(i["base"]), i["lo"], i["hi"], g(q, 6)] + [f"{v:.5f}" for v in (x0, x1, y0, y1)]]


JOBS = {
    "sets.csv": job_sets,
    "ocv.csv": job_ocv,
    "constant_current.csv": job_cc,
    "constant_power.csv": job_cp,
    "resistance.csv": job_pulse,
    "relaxation.csv": job_relax,
    "series.csv": job_series,
    "parallel.csv": job_parallel,
}


def one(task):
    table, name = task
    warnings.simplefilter("ignore")
    pybamm.set_logging_level("ERROR")
    try:
        return table, name, JOBS[table](name)
    except Exception as err:
        print("FAILED", table, name, repr(err)[:300], file=sys.stderr, flush=True)
        return table, name, []


# class tables: which sets are averaged, at equal fraction of charge between the two voltages
CLASSES = {
    "INR": (["Chen2020", "NCA_Kim2011", "Ecker2015"], 2.75, 4.2),
    "ICR": (["Ai2020"], 2.75, 4.2),
    "IFR": (["BPX_LFP"], 2.0, 3.6),
}


def class_tables(path):
    """class_ocv.csv from ocv.csv's equilibrium curves: mean, lowest and highest of the sets."""
    with open(path, "w", newline="") as f:
        w = csv.writer(f, lineterminator="\n")
        w.writerow("class,soc_percent,ocv_v,lowest_v,highest_v,sets".split(","))
        for cls, (sets, lo, hi) in CLASSES.items():
            curves = []
            for n in sets:
                x0, x1 = limits(n)[:2]
                s0 = -0.95 * x0 / (x1 - x0) if SETS[n]["lo"] > lo else 0.0  # below the set's own 0 % where needed
                s = np.concatenate([np.linspace(s0, 0.1, 60)[:-1], np.linspace(0.1, 1.0, 120)])
                u = ocv(n, s)
                if u[0] > lo or np.any(np.diff(u) <= 0):
                    raise ValueError(f"{n}: open-circuit curve does not rise from {lo} V")
                curves.append((np.interp(lo, u, s), np.interp(hi, u, s), s, u))
            grid = sorted(set(np.round(np.arange(0, 100.01, 2.5), 3)) | set(np.round(np.arange(0, 10.01, 0.5), 3)) | set(np.round(np.arange(95, 100.01, 0.5), 3)))
            for g_ in grid:
                v = [np.interp(a + g_ / 100 * (b - a), s, u) for a, b, s, u in curves]
                w.writerow([cls, f"{g_:g}", f"{np.mean(v):.4f}", f"{min(v):.4f}", f"{max(v):.4f}", "+".join(sets)])


def main():
    if pybamm.__version__ != PINNED:
        print(f"warning: made with pybamm {PINNED}, this is {pybamm.__version__}", file=sys.stderr)
    here = os.path.dirname(os.path.abspath(__file__))
    want = sys.argv[1:] or list(JOBS)
    names = list(SETS)
    for n in names:
        if SETS[n].get("file") and not os.path.exists(os.path.join(BPX_DIR, SETS[n]["file"])):
            sys.exit(f"{n} needs {SETS[n]['file']} in BPX_DIR (see README.md); nothing written")
    tasks = [(t, n) for t in want for n in names if n in ONLY.get(t, names)]
    with Pool(2) as pool:
        done = pool.map(one, tasks, chunksize=1)
    for table in want:
        with open(os.path.join(here, table), "w", newline="") as f:
            w = csv.writer(f, lineterminator="\n")
            w.writerow(HEAD[table].split(","))
            for tb, _, rows in done:
                if tb == table:
                    w.writerows(rows)
    if "ocv.csv" in want:
        class_tables(os.path.join(here, "class_ocv.csv"))


if __name__ == "__main__":
    main()
