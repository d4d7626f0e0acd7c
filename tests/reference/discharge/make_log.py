"""The log of a discharge as a charger would write it: see the README of this folder.

    python make_log.py > log.csv
"""
import csv, sys, warnings
import numpy as np, pybamm
warnings.simplefilter("ignore")
pybamm.set_logging_level("ERROR")

def log(name="Chen2020", amps=5.0, low=2.5, every=60.0):
    p = pybamm.ParameterValues(name)
    p.update({"Ambient temperature [K]": 298.15, "Initial temperature [K]": 298.15, "Current function [A]": amps, "Lower voltage cut-off [V]": low - 0.02})
    sim = pybamm.Simulation(pybamm.lithium_ion.DFN(), parameter_values=p, solver=pybamm.IDAKLUSolver(rtol=1e-6, atol=1e-8))
    times = np.arange(0, 5000, 1.0)
    sol = sim.solve([0, times[-1]], t_interp=times, initial_soc=1.0)
    return sol.t, sol["Voltage [V]"].entries, sol["Battery open-circuit voltage [V]"].entries[0]

if __name__ == "__main__":
    t, v, rest = log()
    rows = csv.writer(sys.stdout, delimiter=";", lineterminator="\n")
    rows.writerow(["time [s]", "voltage [V]", "current [A]"])
    rows.writerow([0, f"{rest:.3f}", "0.000"])
    wanted = [5, 10, 15, 20, 30, *range(60, 5000, 60)]
    for at in wanted:
        # The load comes on after 2 s at rest.
        if at - 2 <= t[-1]:
            rows.writerow([at, f"{np.interp(at - 2, t, v):.3f}", "5.000"])
