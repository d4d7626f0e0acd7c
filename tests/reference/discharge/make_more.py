"""Makes the further tables of this folder, `more_*.csv` (see ../README.md).

    python make_more.py table.csv[,table.csv ...] all

needs pybamm 26.10.1.1 and bpx 1.1.1; BPX_DIR names the folder of the BPX example files. Writes more_<table>__<set>.csv beside
itself; the files of this folder are those of all sets joined."""
import csv
import os
import sys

import make_discharge as first

SETS = {
    "OKane2022": dict(cls="INR", pos="NMC811", neg="graphite-SiOx", key="OKane2022", doi="", base=5.0, lo=2.5, hi=4.2, grp="new"),
    "ORegan2022": dict(cls="INR", pos="NMC811", neg="graphite-SiOx", key="ORegan2022", doi="", base=5.0, lo=2.5, hi=4.2, grp="new"),
    "Mohtat2020": dict(cls="INR", pos="NMC532", neg="graphite", key="Mohtat2020", doi="", base=5.0, lo=2.5, hi=4.2, grp="new"),
    "BPX_NMC": dict(cls="INR", pos="NMC111", neg="graphite", key="BPX nmc_pouch_cell", doi="", base=12.5, lo=2.7, hi=4.2, grp="new", file="nmc_pouch_cell_BPX.json"),
    "Marquis2019": dict(cls="ICR", pos="LCO", neg="graphite", key="Marquis2019", doi="", base=0.9, lo=3.0, hi=4.2, grp="new"),
    "Ramadass2004": dict(cls="ICR", pos="LCO", neg="graphite", key="Ramadass2004", doi="", base=1.8, lo=2.8, hi=4.2, grp="new"),
    "Prada2013": dict(cls="IFR", pos="LFP", neg="graphite", key="Prada2013", doi="", base=2.3, lo=2.0, hi=3.6, grp="new"),
    "Chen2020": dict(cls="INR", pos="NMC811", neg="graphite-SiOx", key="Chen2020", doi="", base=5.0, lo=2.5, hi=4.2, grp="old"),
    "Ecker2015": dict(cls="INR", pos="", neg="graphite", key="Ecker2015i", doi="", base=0.15625, lo=2.5, hi=4.2, grp="old"),
    "NCA_Kim2011": dict(cls="INR", pos="NCA", neg="graphite", key="Kim2011", doi="", base=0.43, lo=2.7, hi=4.2, grp="old"),
    "Ai2020": dict(cls="ICR", pos="LCO", neg="graphite", key="Ai2019", doi="", base=2.28, lo=3.0, hi=4.2, grp="old"),
    "BPX_LFP": dict(cls="IFR", pos="LFP", neg="graphite", key="BPX example", doi="", base=2.0, lo=2.0, hi=3.65, grp="old", file="lfp_18650_cell_BPX.json"),
}
CASES = {
    "new": {
        "CC": [(25, 0.1), (25, 0.2), (25, 0.5), (25, 0.75), (25, 1.0), (25, 1.5), (25, 2.0), (25, 3.0), (0, 0.2), (0, 0.5), (0, 1.0), (10, 0.5), (10, 1.0), (15, 1.0), (40, 0.5), (40, 1.0), (40, 2.0), (-10, 0.5)],
        "CP": [(25, 1.0), (25, 0.5), (10, 0.5), (25, 2.0)],
        "PULSE": [(25, 20), (25, 50), (25, 80), (0, 50), (40, 50), (10, 50)],
        "SERIES": [(1.0, (0.8, 0.9, 0.95), ((3, (9.0, 8.4)), (2, (6.0, 5.6)))), (0.5, (0.8, 0.9), ((3, (9.0, 8.4)), (2, (6.0, 5.6)), (4, (12.0,))))],
        "PARALLEL": [(100, 50), (60, 55), (90, 70)],
    },
    "old": {
        "CC": [(25, 0.1), (25, 0.3), (25, 0.75), (25, 1.25), (25, 3.0), (0, 0.2), (10, 0.5), (10, 1.0), (15, 1.0), (35, 1.5), (-10, 0.5)],
        "CP": [(10, 0.5), (25, 0.75), (25, 2.0)],
        "PULSE": [(10, 50), (25, 35), (25, 65)],
        "SERIES": [(0.5, (0.8, 0.9), ((3, (9.0, 8.4)), (2, (6.0, 5.6)), (4, (12.0,))))],
        "PARALLEL": [(90, 70)],
    },
}
first.SETS, first.CASES = SETS, CASES
first.CC, first.CP, first.PULSE, first.SERIES, first.PARALLEL = (
    {k: c[n] for k, c in CASES.items()} for n in ("CC", "CP", "PULSE", "SERIES", "PARALLEL")
)


def main():
    tables, names = sys.argv[1].split(","), sys.argv[2].split(",")
    if names == ["all"]:
        names = list(SETS)
    here = os.path.dirname(os.path.abspath(__file__))
    for table in tables:
        for name in names:
            out = os.path.join(here, f"more_{table[:-4]}__{name}.csv")
            if os.path.exists(out):
                continue
            rows = first.one((table, name))[2]
            if rows:
                with open(out, "w", newline="") as f:
                    w = csv.writer(f, lineterminator="\n")
                    w.writerow(first.HEAD[table].split(","))
                    w.writerows(rows)
            print(table, name, len(rows), flush=True)


if __name__ == "__main__":
    main()
