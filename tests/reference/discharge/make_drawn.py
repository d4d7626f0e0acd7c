"""Cells of which no constant of the figures knows: the sets of make_aged.py with wear, thickness of the
electrodes and warmth drawn at random. See the README of this folder.

    python make_drawn.py FIRST LAST [SET,SET ...] > drawn.csv

The numbers of the cells name their draws: 1 to 4 are in `drawn.csv`.
"""
import csv, random, sys
import make_aged as aged

HEADS = "set,age,r10_mohm,temperature_c,c_rate,current_a,cutoff_v,time_s,capacity_ah,v_at_50pct_v,v_at_90pct_v,v_at_0p1s_v,v_at_1s_v,v_at_10s_v,v_at_60s_v"

# Sets that do not say how a cell of theirs warms.
ONE_TEMPERATURE = {"Prada2013"}

def draw(name, number):
    """Registers the cell of a number, and names it."""
    dice = random.Random(f"{name} {number}")
    of = lambda low, high: round(dice.uniform(low, high), 2)
    cell = f"drawn-{number}"
    # lithium lost, active material lost (negative, positive), electrolyte, particles, resistance added
    aged.AGES[cell] = (of(0, 0.4), of(0, 0.2), of(0, 0.2), of(0.5, 1.2), of(0.4, 1.5), of(0, 1.5))
    aged.THICKNESS[cell] = of(0.8, 1.25)
    (aged.WARMS.add if dice.random() < 0.5 else aged.WARMS.discard)(cell)
    return cell

if __name__ == "__main__":
    first, last = int(sys.argv[1]), int(sys.argv[2])
    names = sys.argv[3].split(",") if len(sys.argv) > 3 else list(aged.BASE)
    rows = csv.writer(sys.stdout, lineterminator="\n")
    rows.writerow(HEADS.split(","))
    for name in names:
        for number in range(first, last + 1):
            cell = draw(name, number)
            if name in ONE_TEMPERATURE:
                aged.WARMS.discard(cell)
            try:
                rows.writerows(aged.rows(name, cell))
            except Exception as e:
                print(name, cell, "failed", repr(e)[:200], file=sys.stderr, flush=True)
            sys.stdout.flush()
