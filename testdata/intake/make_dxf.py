"""Writes the DXF drawings of this folder with ezdxf, and dxf.json with what
ezdxf and shapely (GEOS) measure on them, for the tests of draft/intake.

Run:  /usr/bin/python3 make_dxf.py      (Debian: python3-ezdxf, python3-shapely)

The shapes are made up. Areas, lengths and boxes come from ezdxf's own
flattening of each entity to FLAT units, joined by shapely's polygonize.
"""
import json
import math
import os
import random

import ezdxf
from ezdxf import disassemble
from ezdxf.math import BSpline, ConstructionArc
from shapely.geometry import LineString
from shapely.ops import polygonize

HERE = os.path.dirname(os.path.abspath(__file__))
FLAT = 1e-5
MM = {1: 25.4, 4: 1.0, 5: 10.0, 0: 1.0}
RESULT = {}


def new(version, units):
    doc = ezdxf.new(version)
    doc.units = units
    return doc, doc.modelspace()


def flat(e):
    """The entity as point lists. ezdxf's paths turn arcs into cubics of a quarter
    turn, which is too coarse here; its entities flatten themselves exactly."""
    kind = e.dxftype()
    if kind in ("POLYLINE", "LWPOLYLINE"):
        return [pts for part in e.virtual_entities() for pts in flat(part)]
    if kind == "LINE":
        pts = [e.dxf.start, e.dxf.end]
    elif kind in ("ARC", "CIRCLE"):
        pts = list(e.flattening(FLAT))
    elif kind == "SPLINE" and e.dxf.layer == "Wrapped3":
        # Only where the basis is complete does the curve exist: knots 3 to 8.
        pts = list(e.construction_tool().points([3 + 5 * i / 20000 for i in range(20001)]))
    else:
        pts = list(e.flattening(FLAT, 64))
    return [[(round(v.x, 9), round(v.y, 9)) for v in pts]]


def measure(name, doc, units):
    """Every closed face of the flattened lines, layer by layer."""
    mm = MM[units]
    by_layer = {}
    for e in disassemble.recursive_decompose(doc.modelspace()):
        if e.dxftype() in ("TEXT", "MTEXT", "POINT"):
            continue
        by_layer.setdefault(e.dxf.layer, []).extend(flat(e))
    faces = []
    for layer, lines in by_layer.items():
        # Ends that meet within a hundredth of a millimetre become the same point.
        ends = {}
        for pts in lines:
            for i in (0, -1):
                key = (round(pts[i][0] * mm, 2), round(pts[i][1] * mm, 2))
                pts[i] = ends.setdefault(key, pts[i])
        for poly in polygonize([LineString(p) for p in lines]):
            faces.append({
                "layer": layer,
                "area_mm2": poly.area * mm * mm,
                "length_mm": poly.exterior.length * mm,
                "box_mm": [v * mm for v in poly.bounds],
            })
    faces.sort(key=lambda f: (round(f["area_mm2"], 3), f["box_mm"][0]))
    RESULT[name] = faces


def save(name, doc, units):
    doc.saveas(os.path.join(HERE, name))
    measure(name, doc, units)


def light():
    doc, msp = new("R2000", 4)
    msp.add_lwpolyline([(0, 0, 0), (80, 0, 0.3), (80, 60, -0.2), (40, 90, 1), (0, 60, 0)],
                       format="xyb", close=True, dxfattribs={"layer": "Sleeve"})
    msp.add_lwpolyline([(100, 0), (150, 0), (150, 20), (100, 20), (100, 0)], dxfattribs={"layer": "Cuff"})
    msp.add_lwpolyline([(200, 0), (250, 0), (250, 20)], dxfattribs={"layer": "Open"})
    msp.add_lwpolyline([(-10, 0, 0), (-60, 0, 0.3), (-60, 40, 0)], format="xyb", close=True,
                       dxfattribs={"layer": "Turned", "extrusion": (0, 0, -1)})
    save("light.dxf", doc, 4)


def heavy():
    doc, msp = new("R12", 0)
    msp.add_polyline2d([(0, 0, 0), (12, 0, 0.5), (12, 8, 0), (0, 8, -0.25)], format="xyb", close=True)
    msp.add_text("Hood side").set_pos((3, 3))
    msp.add_polyline2d([(20, 0), (30, 0), (30, 8), (20, 8)], close=True)
    msp.add_polyline3d([(40, 0, 1), (50, 0, 1), (50, 8, 1)], close=True)
    save("heavy_r12.dxf", doc, 0)


def chain():
    doc, msp = new("R2010", 1)
    body = {"layer": "Body"}
    parts = [
        lambda: msp.add_line((2, 0), (10, 0), dxfattribs=body),
        lambda: msp.add_arc((10, 2), 2, 270, 90, dxfattribs=body),
        lambda: msp.add_line((8, 6), (10, 4), dxfattribs=body),
        lambda: msp.add_spline(dxfattribs=body).apply_construction_tool(
            BSpline([(8, 6), (6, 5), (5, 8), (4, 6.5), (2, 7)], order=4)),
        lambda: msp.add_ellipse((2, 3.5), (0, 3.5), 0.6, 0, math.pi, dxfattribs=body),
    ]
    random.Random(7).shuffle(parts)
    for make in parts:
        make()
    for a, b in [((20, 0), (25, 0)), ((25, 4), (25, 0)), ((25, 4), (20, 4)), ((20, 0), (20, 4))]:
        msp.add_line(a, b, dxfattribs={"layer": "Pocket"})
    save("chain_inch.dxf", doc, 1)


def splines():
    doc, msp = new("R2000", 4)

    def add(layer, tool):
        msp.add_spline(dxfattribs={"layer": layer}).apply_construction_tool(tool)

    ring = [(0, 0), (60, -10), (70, 50), (30, 80), (-10, 40), (0, 0)]
    for i, order in enumerate((2, 3, 4, 6)):
        add("Degree%d" % (order - 1), BSpline([(x + 120 * i, y) for x, y in ring], order=order))
    # A whole circle of radius 30 as a rational spline of degree 2.
    w = math.sqrt(0.5)
    circle = [(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1), (1, 0)]
    add("Rational2", BSpline([(30 * x, 200 + 30 * y) for x, y in circle], order=3,
                             knots=[0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4], weights=[1, w, 1, w, 1, w, 1, w, 1]))
    # An unclamped knot vector, its control points wrapped round.
    loop = [(150, 200), (200, 190), (220, 240), (180, 260), (140, 240)]
    add("Wrapped3", BSpline(loop + loop[:3], order=4, knots=list(range(12))))
    add("Weighted3", BSpline([(300 + x, 200 + y) for x, y in ring], order=4, weights=[1, 3, 0.5, 2, 1, 1]))
    save("splines.dxf", doc, 4)


def blocks():
    doc, msp = new("R2000", 5)
    leaf = doc.blocks.new("LEAF", base_point=(1, 1))
    leaf.add_lwpolyline([(1, 1, 0), (5, 1, 0.4), (5, 4, 0), (1, 3, 0)], format="xyb", close=True)
    two = doc.blocks.new("TWO")
    two.add_blockref("LEAF", (0, 0))
    two.add_blockref("LEAF", (10, 0), dxfattribs={"xscale": -1, "rotation": 30})
    msp.add_blockref("LEAF", (20, 0), dxfattribs={"xscale": 2, "yscale": 2, "layer": "Front"})
    msp.add_blockref("TWO", (0, 20), dxfattribs={"rotation": 90, "xscale": 1.5, "yscale": 1.5, "layer": "Back"})
    save("blocks_cm.dxf", doc, 5)


def rounds():
    doc, msp = new("R2000", 4)
    msp.add_circle((0, 0), 25, dxfattribs={"layer": "Circle"})
    msp.add_ellipse((100, 0), (40, 10), 0.5, dxfattribs={"layer": "Ellipse"})
    msp.add_ellipse((200, 0), (40, 10), 0.5, 0, math.pi, dxfattribs={"layer": "Half"})
    msp.add_line((240, 10), (160, -10), dxfattribs={"layer": "Half"})
    msp.add_circle((-300, 0), 10, dxfattribs={"layer": "Turned", "extrusion": (0, 0, -1)})
    arc = ConstructionArc((0, 100), 500, 80, 100)
    msp.add_arc(arc.center, arc.radius, arc.start_angle, arc.end_angle, dxfattribs={"layer": "Wide"})
    msp.add_line(arc.start_point, arc.end_point, dxfattribs={"layer": "Wide"})
    save("rounds.dxf", doc, 4)


def main():
    for make in (light, heavy, chain, splines, blocks, rounds):
        make()
    with open(os.path.join(HERE, "dxf.json"), "w") as f:
        json.dump({"source": "make_dxf.py, ezdxf %s, shapely on GEOS" % ezdxf.__version__, "faces": RESULT}, f, indent=1)
        f.write("\n")


main()
