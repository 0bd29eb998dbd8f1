"""Makes a drawing with ezdxf and prints points on its curves in world coordinates: python3 ezdxf_make.py RELEASE FILE

Every curve lies on its own layer, so that a reader's curves can be told apart. Points come from ezdxf's own geometry:
its flattening, and its explosion of block references.
"""
import json
import math
import sys

import ezdxf
from ezdxf.math import Vec3, closed_uniform_bspline

release, name = sys.argv[1], sys.argv[2]
doc = ezdxf.new(release)
if release != "R12":
    doc.header["$INSUNITS"] = 4
msp = doc.modelspace()
expected = {}


def layer(tag):
    doc.layers.new(tag)
    return {"layer": tag}


def points(e):
    """Points on the curve itself, no chord farther from it than 5e-4."""
    kind = e.dxftype()
    if kind == "LINE":
        return [e.dxf.start, e.dxf.end]
    if kind in ("LWPOLYLINE", "POLYLINE"):
        chain = []
        for piece in e.virtual_entities():
            row = list(points(piece))
            # An arc is always counter-clockwise, whichever way the polyline runs.
            if chain and row[0].distance(chain[-1]) > row[-1].distance(chain[-1]):
                row.reverse()
            elif not chain:
                first = next(e.vertices_in_wcs()) if kind == "LWPOLYLINE" else e.ocs().to_wcs(e.vertices[0].dxf.location)
                if row[0].distance(first) > row[-1].distance(first):
                    row.reverse()
            chain += row
        return chain
    return list(e.flattening(5e-4))


def record(e):
    expected.setdefault(e.dxf.layer, []).append([[p.x, p.y] for p in points(e)])


def add(e):
    record(e)
    return e


DOWN = {"extrusion": (0, 0, -1)}
add(msp.add_line((1, 2), (30, -4), layer("LINE")))
add(msp.add_arc((10, 5), 7, 30, 280, dxfattribs=layer("ARC")))
add(msp.add_arc((10, 5), 7, 300, 20, dxfattribs={**layer("ARC_DOWN"), **DOWN}))
add(msp.add_circle((-20, 8), 6, {**layer("CIRCLE_DOWN"), **DOWN}))
if release == "R12":
    poly = lambda pts, attribs, close: msp.add_polyline2d(pts, format="xyb", dxfattribs=attribs, close=close)
else:
    poly = lambda pts, attribs, close: msp.add_lwpolyline(pts, format="xyb", dxfattribs=attribs, close=close)
OUTLINE = [(0, 0, 0), (40, 0, 0.5), (40, 20, 0), (20, 30, -0.4), (0, 20, 1.3)]
add(poly(OUTLINE, layer("POLYLINE"), True))
add(poly(OUTLINE, {**layer("POLYLINE_DOWN"), **DOWN}, False))

lug = doc.blocks.new("LUG", base_point=(2, 1))
lug.add_line((2, 1), (9, 1), {"layer": "0"})
lug.add_arc((2, 1), 5, 10, 200, dxfattribs={"layer": "0"})
lug.add_circle((6, 4), 2, {"layer": "0", **DOWN})
if release != "R12":
    lug.add_lwpolyline(OUTLINE, format="xyb", dxfattribs={"layer": "0"}, close=True)
    lug.add_ellipse((3, 3), (4, 1), 0.4, 0.3, 4.0, {"layer": "0"})
pair = doc.blocks.new("PAIR", base_point=(1, 1))
pair.add_blockref("LUG", (10, 0), {"layer": "0", "rotation": 30})
pair.add_blockref("LUG", (0, 10), {"layer": "0", "xscale": -1, "rotation": 15})

for tag, block, attribs in [
    ("INSERT", "LUG", {"rotation": 25}),
    ("INSERT_MIRROR_X", "LUG", {"xscale": -1, "rotation": 40}),
    ("INSERT_MIRROR_Y", "LUG", {"yscale": -2, "xscale": 2, "zscale": 2, "rotation": 70}),
    ("INSERT_UNEQUAL", "LUG", {"xscale": 2, "yscale": 0.7, "rotation": 20}),
    ("INSERT_UNEQUAL_MIRRORED", "LUG", {"xscale": -2, "yscale": 0.7, "rotation": 200}),
    ("INSERT_DOWN", "LUG", {"rotation": 33, **DOWN}),
    ("INSERT_NESTED", "PAIR", {"xscale": 1.5, "yscale": 1.5, "zscale": 1.5, "rotation": 60}),
    ("INSERT_NESTED_MIRROR", "PAIR", {"xscale": -1, "rotation": 110}),
]:
    ref = msp.add_blockref(block, (50, -30), {**layer(tag), **attribs})

    def explode(r):
        for e in r.virtual_entities():
            if e.dxftype() == "INSERT":
                explode(e)
            else:
                expected.setdefault(tag, []).append([[p.x, p.y] for p in points(e)])

    explode(ref)

if release != "R12":
    add(msp.add_ellipse((5, 5), (20, 10), 0.3, 0, math.tau, layer("ELLIPSE")))
    add(msp.add_ellipse((5, 5), (20, 10), 0.3, 1, 5, layer("ELLIPSE_PART")))
    add(msp.add_ellipse((5, 5), (20, 10), 0.3, 1, 5, {**layer("ELLIPSE_DOWN"), **DOWN}))
    control = [(0, 0), (10, 30), (20, -30), (40, 10), (60, 0), (70, 25)]
    add(msp.add_open_spline(control, 3, dxfattribs=layer("SPLINE")))
    add(msp.add_open_spline(control, 5, dxfattribs=layer("SPLINE_5")))
    add(msp.add_rational_spline(control, [1, 2, 0.5, 3, 1, 1], 3, dxfattribs=layer("SPLINE_RATIONAL")))
    ring = closed_uniform_bspline(control, order=4)
    add(msp.add_spline(dxfattribs=layer("SPLINE_CLOSED")).apply_construction_tool(ring))
    fit = msp.add_spline([(0, 0), (12, 9), (30, -4), (50, 3)], dxfattribs=layer("SPLINE_FIT"))
    fit.dxf.start_tangent, fit.dxf.end_tangent = Vec3(1, 2, 0).normalize(), Vec3(1, -1, 0).normalize()
    record(fit)

doc.layers.new("Führung_Žebro")
msp.add_line((0, 0), (1, 1), {"layer": "Führung_Žebro"})
expected["Führung_Žebro"] = [[[0, 0], [1, 1]]]
doc.saveas(name)
print(json.dumps(expected))
