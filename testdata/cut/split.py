#!/usr/bin/python3
"""Splits polygons with GEOS (python3-shapely).

Each line of the input is one case: the number of points of a polygon and its
coordinates, then the number of points of a line across it and its coordinates. Each
line of the output is the areas and the lengths round of the parts, by area.
"""
import sys

from shapely.geometry import LineString, Polygon
from shapely.ops import split


def points(words):
    n = int(words.pop(0))
    flat = [float(words.pop(0)) for _ in range(2 * n)]
    return list(zip(flat[::2], flat[1::2]))


for text in sys.stdin:
    words = text.split()
    polygon = Polygon(points(words))
    line = points(words)
    # The ends lie on the outline; run on by a hair, the line crosses it.
    parts = split(polygon, LineString(line)).geoms
    print(" ".join("%.9f %.9f" % (p.area, p.length) for p in sorted(parts, key=lambda p: p.area)))
