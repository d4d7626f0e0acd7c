"""Makes interval.json: interval arithmetic as a library outside this project works it out.

Run with Python 3.11 and mpmath 1.4.1:  python make_interval.py > interval.json

Every bound is made twice: by mpmath's interval context at 2200 bits, where sums, differences and products of doubles are
exact, and by exact rational numbers. The two must agree, and so must mpmath at 53 bits wherever doubles are normal numbers.
"""

import json
import math
import platform
import random
import sys
from fractions import Fraction

import mpmath
from mpmath import iv
from mpmath.libmp import to_rational

SEED = 61960
LARGEST = sys.float_info.max
SMALLEST_NORMAL = sys.float_info.min
INF = math.inf

# ---------------------------------------------------------------- doubles


def text(x):
    """The shortest decimal that a correctly rounding reader turns back into exactly this double."""
    return repr(x)


def pair(interval):
    return [text(interval[0]), text(interval[1])]


def below(x):
    """The largest double that is not above the rational x."""
    if x > Fraction(LARGEST):
        return LARGEST
    if x < -Fraction(LARGEST):
        return -INF
    near = float(x)
    return near if Fraction(near) <= x else math.nextafter(near, -INF)


def above(x):
    return -below(-x) + 0.0


def nearest(x):
    """The double nearest to x (ties to even), or None where that would overflow."""
    try:
        return float(x) + 0.0
    except OverflowError:
        return None


# ---------------------------------------------------------------- the two workings

BINARY = {
    "add": lambda a, b: a + b,
    "div": lambda a, b: a / b,
    "mul": lambda a, b: a * b,
    "sub": lambda a, b: a - b,
}


def by_library(op, a, b, bits):
    """Bounds of the result as rationals, from mpmath's interval context."""
    iv.prec = bits
    x = iv.mpf(list(a))
    if op == "neg":
        result = -x
    elif op == "abs":
        result = abs(x)
    else:
        result = BINARY[op](x, iv.mpf(list(b)))
    low, high = result._mpi_
    return Fraction(*to_rational(low)), Fraction(*to_rational(high))


def by_rationals(op, a, b):
    """The same bounds from exact rational numbers at the corners."""
    low, high = Fraction(a[0]), Fraction(a[1])
    if op == "neg":
        return -high, -low
    if op == "abs":
        inner = Fraction(0) if low <= 0 <= high else min(abs(low), abs(high))
        return inner, max(abs(low), abs(high))
    corners = [BINARY[op](x, y) for x in (low, high) for y in map(Fraction, b)]
    return min(corners), max(corners)


def normal(x):
    return x == 0 or SMALLEST_NORMAL <= abs(x) <= LARGEST


def checked_bounds(op, a, b):
    """Outer doubles from the library, after it has agreed with the rationals."""
    exact = by_rationals(op, a, b)
    fine = by_library(op, a, b, 2200)
    outer = below(fine[0]), above(fine[1])
    assert outer == (below(exact[0]), above(exact[1])), (op, a, b)
    if normal(exact[0]) and normal(exact[1]):
        coarse = by_library(op, a, b, 53)
        assert outer == (float(coarse[0]), float(coarse[1])), (op, a, b)
    return exact, outer


def row(group, op, a, b=None):
    if op in ("min", "max"):
        # The library has no interval minimum; this is the definition, and exact.
        pick = min if op == "min" else max
        outer = pick(a[0], b[0]), pick(a[1], b[1])
        exact = Fraction(outer[0]), Fraction(outer[1])
    else:
        exact, outer = checked_bounds(op, a, b)
    near = [nearest(exact[0]), nearest(exact[1])]
    made = {"a": pair(a), "group": group, "high": text(outer[1]), "low": text(outer[0]), "op": op}
    if b is not None:
        made["b"] = pair(b)
    if None not in near:
        made["near"] = pair(near)
    return made


# ---------------------------------------------------------------- which intervals

SIGNS = {
    "negative": (-4.2, -2.5),
    "negative to zero": (-1.3, 0.0),
    "point": (0.1, 0.1),
    "positive": (0.7, 3.3),
    "straddling": (-0.3, 0.9),
    "straddling, mostly negative": (-5.1, 0.2),
    "zero": (0.0, 0.0),
    "zero to positive": (0.0, 1.7),
}


def has_zero(interval):
    return interval[0] <= 0.0 <= interval[1]


def sign_rows():
    """Every pairing of signs, for the operations where signs matter."""
    for a_name, a in SIGNS.items():
        for b_name, b in SIGNS.items():
            group = f"signs: {a_name} by {b_name}"
            yield row(group, "mul", a, b)
            if not has_zero(b):
                yield row(group, "div", a, b)


def one_sided_rows():
    for name, a in SIGNS.items():
        yield row(f"signs: {name}", "neg", a)
        yield row(f"signs: {name}", "abs", a)
    for a_name, b_name in (("negative", "positive"), ("positive", "straddling"), ("straddling", "negative to zero"),
                           ("point", "zero to positive"), ("zero", "straddling, mostly negative"), ("positive", "point")):
        for op in ("min", "max", "add", "sub"):
            yield row(f"signs: {a_name} by {b_name}", op, SIGNS[a_name], SIGNS[b_name])


TINY = 5e-324
EXTREMES = [
    ("add", (1e308, 1.7e308), (1e308, 1e308), "overflow"),
    ("add", (-1.7e308, 1.0), (-1.7e308, 1.0), "overflow"),
    ("sub", (-1.7e308, 1.7e308), (-1e308, 1e308), "overflow"),
    ("mul", (1e200, 1e200), (1e200, 1e200), "overflow"),
    ("mul", (-1e200, 1e200), (1e150, 1e160), "overflow"),
    ("div", (1e200, 2e200), (1e-200, 1e-150), "overflow"),
    ("div", (1.0, 1.0), (TINY, 1.0), "overflow"),
    ("mul", (1e-200, 2e-200), (1e-200, 3e-200), "underflow"),
    ("mul", (-1e-200, 1e-200), (1e-200, 1e-190), "underflow"),
    ("div", (1e-200, 1e-199), (1e200, 1e210), "underflow"),
    ("mul", (TINY, TINY), (0.5, 0.5), "underflow"),
    ("div", (-TINY, TINY), (3.0, 7.0), "underflow"),
    ("mul", (SMALLEST_NORMAL, SMALLEST_NORMAL), (0.1, 0.3), "subnormal"),
    ("sub", (2.3e-308, 2.4e-308), (2.25e-308, 2.3e-308), "subnormal"),
    ("add", (TINY, TINY), (-TINY, TINY), "subnormal"),
    ("add", (1.0, 1.0), (TINY, TINY), "mixed size"),
    ("sub", (1.0, 1.0), (1e-300, 1e-20), "mixed size"),
    ("add", (1e16, 1e16), (1.0, 3.0), "mixed size"),
    ("sub", (1e300, 1e300), (-1e-300, 1e-300), "mixed size"),
    ("mul", (1e300, 1e300), (1e-300, 1e-299), "mixed size"),
    ("div", (1e-300, 1e300), (1e-5, 1e5), "mixed size"),
    ("add", (0.1, 0.1), (0.2, 0.2), "points"),
    ("sub", (0.3, 0.3), (0.1, 0.1), "points"),
    ("sub", (0.3, 0.3), (0.3, 0.3), "points"),
    ("mul", (0.1, 0.1), (3.0, 3.0), "points"),
    ("div", (1.0, 1.0), (3.0, 3.0), "points"),
    ("div", (1.0, 1.0), (10.0, 10.0), "points"),
    ("div", (6.0, 6.0), (3.0, 3.0), "points"),
    ("div", (-1.0, -1.0), (49.0, 49.0), "points"),
    ("add", (16777216.0, 16777216.0), (1.0, 1.0), "points"),
    ("neg", (-LARGEST, TINY), None, "extremes"),
    ("abs", (-LARGEST, TINY), None, "extremes"),
    ("min", (-LARGEST, LARGEST), (TINY, 1e-300), "extremes"),
    ("max", (-LARGEST, LARGEST), (TINY, 1e-300), "extremes"),
]


def spread_around(rng, centre, width, digits):
    low, high = sorted((round(centre - width, digits), round(centre + width, digits)))
    return low, high


def trade_rows(rng):
    """Numbers of the size the checker meets: volts, amperes, ampere-hours, ohms, with the tolerance of a hand meter."""
    for _ in range(14):
        volts = spread_around(rng, rng.uniform(2.0, 4.3), rng.uniform(0.0005, 0.03), 4)
        more_volts = spread_around(rng, rng.uniform(2.0, 4.3), rng.uniform(0.0005, 0.03), 4)
        amperes = spread_around(rng, rng.uniform(0.2, 6.0), rng.uniform(0.0, 0.05), 3)
        ohms = spread_around(rng, rng.uniform(0.02, 0.2), rng.uniform(0.0005, 0.01), 4)
        amp_hours = spread_around(rng, rng.uniform(0.8, 3.5), rng.uniform(0.0, 0.05), 3)
        yield row("trade: volts and volts", "sub", volts, more_volts)
        yield row("trade: volts and volts", "add", volts, more_volts)
        yield row("trade: volts and volts", rng.choice(("min", "max")), volts, more_volts)
        yield row("trade: amperes and ohms", "mul", amperes, ohms)
        yield row("trade: volts and ohms", "div", volts, ohms)
        yield row("trade: amperes and ampere-hours", "div", amperes, amp_hours)
        yield row("trade: volts and ampere-hours", "mul", volts, amp_hours)


def any_double(rng):
    return rng.choice((-1.0, 1.0)) * rng.uniform(1.0, 10.0) * 10.0 ** rng.randint(-12, 12)


def any_interval(rng):
    if rng.random() < 0.15:
        point = any_double(rng)
        return point, point
    first, second = any_double(rng), any_double(rng)
    return min(first, second), max(first, second)


def random_rows(rng):
    for op in ("add", "sub", "mul", "div", "abs", "neg", "min", "max"):
        made = 0
        while made < (18 if op in BINARY else 5):
            a, b = any_interval(rng), any_interval(rng)
            if op == "div" and has_zero(b):
                continue
            made += 1
            yield row("random", op, a, None if op in ("abs", "neg") else b)


def bounded_rows():
    rng = random.Random(SEED)
    rows = [*sign_rows(), *one_sided_rows(), *(row(group, op, a, b) for op, a, b, group in EXTREMES),
            *trade_rows(rng), *random_rows(rng)]
    return numbered(rows)


def numbered(rows):
    """Rows in order of operation, each with an id that stays the same while the script does."""
    rows.sort(key=lambda r: r["op"])
    counts = {}
    for made in rows:
        counts[made["op"]] = counts.get(made["op"], 0) + 1
        made["id"] = f"{made['op']}-{counts[made['op']]:03d}"
    return rows


# ---------------------------------------------------------------- divisors that hold zero

NUMERATORS = [(3.0, 4.5), (-4.5, -3.0), (-3.0, 4.5), (0.0, 4.5), (-4.5, 0.0), (0.0, 0.0)]
DIVISORS = [(0.0, 1.5), (-0.0, 1.5), (-1.5, 0.0), (-1.5, 1.5), (0.0, 0.0)]


def quotient_hull(a, b):
    """Smallest interval around every x / y with x in a, y in b, y not 0; None if there is no such y."""
    if b == (0.0, 0.0):
        return None
    if a == (0.0, 0.0):
        return 0.0, 0.0
    if b[0] < 0.0 < b[1] or a[0] < 0.0 < a[1]:
        return -INF, INF
    # From here neither numerator nor divisor changes sign, so the quotient does not either.
    end = b[1] if b[1] > 0.0 else b[0]
    positive = (a[1] > 0.0) == (end > 0.0)
    least = min(abs(a[0]), abs(a[1])) / abs(end)
    return (least, INF) if positive else (-INF, -least + 0.0)


# What this project's language page gives for any divisor that holds zero, inside or at an end.
LANGUAGE_RESULT = (-INF, INF)


def zero_divisor_rows():
    rows = []
    for a in NUMERATORS:
        for b in DIVISORS:
            hull = quotient_hull(a, b)
            rows.append({
                "a": pair(a), "b": pair(b), "id": f"zero-divisor-{len(rows) + 1:02d}", "op": "div",
                "language": pair(LANGUAGE_RESULT),
                "low": text(hull[0]) if hull else None, "high": text(hull[1]) if hull else None,
            })
    return rows


# ---------------------------------------------------------------- unbounded operands

UNBOUNDED = [
    ("add", (1.0, 2.0), (3.0, INF), (4.0, INF)),
    ("add", (-INF, 1.0), (2.0, INF), (-INF, INF)),
    ("add", (-INF, 1.0), (-INF, 2.0), (-INF, 3.0)),
    ("add", (-INF, INF), (0.5, 0.5), (-INF, INF)),
    ("sub", (1.0, 2.0), (3.0, INF), (-INF, -1.0)),
    ("sub", (-INF, INF), (-INF, INF), (-INF, INF)),
    ("sub", (5.0, INF), (1.0, INF), (-INF, INF)),
    ("sub", (5.0, INF), (-INF, 1.0), (4.0, INF)),
    ("mul", (0.0, 0.0), (-INF, INF), (0.0, 0.0)),
    ("mul", (0.0, 1.0), (2.0, INF), (0.0, INF)),
    ("mul", (-1.0, 1.0), (0.0, INF), (-INF, INF)),
    ("mul", (2.0, 3.0), (-INF, INF), (-INF, INF)),
    ("mul", (-2.0, -1.0), (3.0, INF), (-INF, -3.0)),
    ("mul", (-INF, -2.0), (-INF, -3.0), (6.0, INF)),
    ("mul", (0.0, INF), (0.0, INF), (0.0, INF)),
    ("div", (1.0, 2.0), (4.0, INF), (0.0, 0.5)),
    ("div", (-1.0, 2.0), (4.0, INF), (-0.25, 0.5)),
    ("div", (1.0, INF), (2.0, INF), (0.0, INF)),
    ("div", (-INF, -6.0), (2.0, 3.0), (-INF, -2.0)),
    ("div", (-INF, INF), (2.0, 4.0), (-INF, INF)),
    ("div", (0.0, 0.0), (2.0, INF), (0.0, 0.0)),
    ("div", (-INF, -1.0), (-INF, -2.0), (0.0, INF)),
    ("neg", (-INF, 3.0), None, (-3.0, INF)),
    ("abs", (-INF, 3.0), None, (0.0, INF)),
    ("abs", (-INF, -2.0), None, (2.0, INF)),
    ("min", (-INF, INF), (1.0, 2.0), (-INF, 2.0)),
    ("max", (-INF, INF), (1.0, 2.0), (1.0, INF)),
]


def unbounded_rows():
    rows = []
    for op, a, b, (low, high) in UNBOUNDED:
        made = {"a": pair(a), "high": text(high), "id": f"unbounded-{len(rows) + 1:02d}", "low": text(low), "op": op}
        if b is not None:
            made["b"] = pair(b)
        rows.append(made)
    return rows


# ---------------------------------------------------------------- the file


def document():
    return {
        "about": "Interval arithmetic worked out outside this project. Numbers are texts, to be read by a correctly rounding reader.",
        "made_by": {"library": f"mpmath {mpmath.__version__}, interval context", "python": platform.python_version(),
                    "script": "make_interval.py", "seed": SEED},
        "rows": bounded_rows(),
        "rows_meaning": {
            "a, b": "operands [low, high]; finite doubles; no divisor here holds 0",
            "known": "computed here, with the library named above; min and max from their definition",
            "low, high": "low is the largest double not above the true lower bound, high the smallest double not below the true upper "
                         "bound. An enclosure has its low <= low and its high >= high, and no enclosure in doubles is tighter",
            "near": "the true bounds, each rounded to the nearest double: what one IEEE operation at the right corners gives. "
                    "Missing where that overflows",
        },
        "unbounded": unbounded_rows(),
        "unbounded_meaning": {
            "known": "computed here by hand from the definition: the smallest closed interval around all results of real operands. "
                     "0 times an unbounded interval is 0, since every real number times 0 is",
            "source": "IEEE Std 1788-2015, set-based intervals (from memory)",
        },
        "zero_divisors": zero_divisor_rows(),
        "zero_divisors_meaning": {
            "known": "computed here from the definition, not by the library; the sign cases were compared by eye with the division "
                     "vectors of the public test set of IEEE Std 1788 (ITF1788, libieeep1788_elem) and agree",
            "language": "what this project's language page gives for every divisor that holds 0, inside or at an end: everything, so that a wider "
                        "divisor never gives less. It must enclose low..high; another language may be tighter",
            "low, high": "smallest interval around all x / y with y not 0; null if there is none",
            "source": "IEEE Std 1788-2015, set-based intervals: division (second-hand, through the test set)",
        },
    }


def laid_out(value, indent=0):
    """JSON with sorted keys, short values on one line."""
    flat = json.dumps(value, ensure_ascii=False, sort_keys=True)
    if not isinstance(value, (dict, list)) or (indent and len(flat) <= 300):
        return flat
    pad = "  " * (indent + 1)
    if isinstance(value, dict):
        parts = [f"{pad}{json.dumps(key)}: {laid_out(value[key], indent + 1)}" for key in sorted(value)]
        return "{\n" + ",\n".join(parts) + "\n" + "  " * indent + "}"
    return "[\n" + ",\n".join(pad + laid_out(item, indent + 1) for item in value) + "\n" + "  " * indent + "]"


if __name__ == "__main__":
    print(laid_out(document()))
