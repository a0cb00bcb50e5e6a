#!/usr/bin/python3
"""Buffers polygons with GEOS, through python3-shapely, as an outside check.

Reads one case a line from standard input: a width in mm and then x y x y ... of
a closed polygon. Writes one line for each: the type of the result with mitre
joins of limit 4 (Polygon, MultiPolygon or Empty), its area in mm2, that of the
largest part, and the area with mitre limit 100. Where the two limits give the
same area no mitre was cut off, so that the rule for cutting off is of no matter.

With --time N each case is buffered N times, and the only line written is the
mean time of one call in microseconds.
"""
import sys
import time

from shapely.geometry import Polygon

MITRE = 2


def cases():
    for line in sys.stdin:
        v = [float(x) for x in line.split()]
        if v:
            yield v[0], Polygon(list(zip(v[1::2], v[2::2])))


def outer(shape):
    """The parts without holes, as a cut line drops them."""
    parts = getattr(shape, "geoms", [shape])
    return [Polygon(p.exterior) for p in parts if not p.is_empty]


def main():
    if len(sys.argv) == 3 and sys.argv[1] == "--time":
        n, spent, calls = int(sys.argv[2]), 0.0, 0
        for width, shape in list(cases()):
            start = time.perf_counter()
            for _ in range(n):
                shape.buffer(width, join_style=MITRE, mitre_limit=4)
            spent += time.perf_counter() - start
            calls += n
        print("%.3f" % (spent / calls * 1e6))
        return
    for width, shape in cases():
        areas = []
        for limit in (4, 100):
            parts = outer(shape.buffer(width, join_style=MITRE, mitre_limit=limit))
            areas.append([p.area for p in parts])
        kind = ("Empty", "Polygon", "MultiPolygon")[min(len(areas[0]), 2)]
        print(kind, "%.6f" % sum(areas[0]), "%.6f" % max(areas[0], default=0), "%.6f" % sum(areas[1]))


main()
