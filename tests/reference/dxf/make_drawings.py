#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Drawings written and measured by a second package, for the reader of drawings to be held against.

usage: make_drawings.py FOLDER      (needs Debian's python3-ezdxf, 0.18.1 when the files were made)

Each kind of thing lies on a layer of its own. expected.json says, by layer: the length of all its lines, their area
where they are closed (by the trapezoid rule on finely broken-up curves), and the box around them.
"""
import json
import math
import pathlib
import sys

import ezdxf
from ezdxf import disassemble, path

folder = pathlib.Path(sys.argv[1])


def draw(version, units):
    doc = ezdxf.new(version, setup=True)
    doc.header["$INSUNITS"] = units
    space = doc.modelspace()
    layer = lambda name: {"layer": name}
    space.add_line((10, 20), (110, 95), dxfattribs=layer("line"))
    space.add_lwpolyline([(0, 0, 0, 0, 0.5), (100, 0, 0, 0, 0), (100, 80, 0, 0, -1), (0, 80, 0, 0, 0)], close=True, dxfattribs=layer("bulged"))
    space.add_lwpolyline([(0, 200), (40, 230), (90, 210)], dxfattribs=layer("open"))
    space.add_polyline2d([(300, 0), (400, 0), (400, 100)], close=True, dxfattribs=layer("old polyline"))
    space.add_arc((500, 100), 60, 300, 45, dxfattribs=layer("arc"))
    space.add_circle((700, 100), 75, dxfattribs=layer("circle"))
    space.add_ellipse((900, 100), (60, 30), 0.4, 0.5, 4, dxfattribs=layer("ellipse part"))
    space.add_ellipse((1100, 100), (-80, 20), 0.5, dxfattribs=layer("ellipse"))
    space.add_open_spline([(0, 400), (50, 500), (120, 300), (200, 420), (260, 400)], dxfattribs=layer("spline"))
    space.add_rational_spline([(300, 400), (350, 500), (420, 300), (500, 420)], [1, 3, 0.5, 1], dxfattribs=layer("rational spline"))
    # Seen from behind: x goes the other way.
    space.add_arc((-500, 700), 50, 10, 120, dxfattribs={"layer": "from behind", "extrusion": (0, 0, -1)})
    space.add_lwpolyline([(-600, 700, 0, 0, 0.3), (-700, 720, 0, 0, 0), (-650, 800, 0, 0, 0)], close=True, dxfattribs={"layer": "from behind", "extrusion": (0, 0, -1)})

    inner = doc.blocks.new("inner", base_point=(5, 5))
    inner.add_line((0, 0), (20, 0))
    inner.add_arc((20, 10), 10, -90, 90)
    outer = doc.blocks.new("outer")
    outer.add_blockref("inner", (30, 10), dxfattribs={"xscale": 2, "yscale": 2, "rotation": 30})
    outer.add_lwpolyline([(0, 0), (50, 0), (50, 25), (0, 25)], close=True)
    space.add_blockref("outer", (100, 900), dxfattribs={"layer": "nested", "xscale": -1.5, "yscale": 1.5, "rotation": 70})
    space.add_blockref("inner", (300, 900), dxfattribs={"layer": "grid", "column_count": 3, "row_count": 2, "column_spacing": 60, "row_spacing": 40, "rotation": 15})
    space.add_blockref("inner", (600, 900), dxfattribs={"layer": "squeezed", "xscale": 3, "yscale": 0.5, "rotation": -20})

    hatch = space.add_hatch(dxfattribs=layer("hatch polyline"))
    hatch.paths.add_polyline_path([(0, 1200), (100, 1200, 0.4), (100, 1300), (0, 1300)], is_closed=True)
    hatch.paths.add_polyline_path([(20, 1220), (60, 1220), (40, 1260)], is_closed=True, flags=16)
    hatch = space.add_hatch(dxfattribs=layer("hatch edges"))
    edges = hatch.paths.add_edge_path()
    edges.add_line((300, 1200), (400, 1200))
    edges.add_arc((400, 1250), 50, -90, 90, ccw=True)
    edges.add_line((400, 1300), (300, 1300))
    edges.add_arc((300, 1250), 50, 90, 270, ccw=True)
    hatch = space.add_hatch(dxfattribs=layer("hatch clockwise"))
    edges = hatch.paths.add_edge_path()
    edges.add_line((500, 1200), (600, 1200))
    edges.add_arc((600, 1250), 50, 90, 270, ccw=False)  # bitten out: from below to above, clockwise
    edges.add_line((600, 1300), (500, 1300))
    edges.add_line((500, 1300), (500, 1200))
    hatch = space.add_hatch(dxfattribs=layer("hatch ellipse"))
    edges = hatch.paths.add_edge_path()
    edges.add_ellipse((800, 1250), (70, 0), 0.5, 0, 180, ccw=True)
    edges.add_line((730, 1250), (870, 1250))
    hatch = space.add_hatch(dxfattribs=layer("hatch spline"))
    edges = hatch.paths.add_edge_path()
    edges.add_line((1100, 1200), (1000, 1200))
    edges.add_spline(control_points=[(1000, 1200), (1000, 1280), (1100, 1280), (1100, 1200)], knot_values=[0, 0, 0, 0, 1, 1, 1, 1], degree=3)

    doc.layers.add("frozen").freeze()
    doc.layers.add("off").off()
    space.add_line((0, 0), (0, 50), dxfattribs=layer("frozen"))
    space.add_line((0, 0), (50, 0), dxfattribs=layer("off"))
    # Not understood, each to be counted.
    space.add_text("225", dxfattribs={"height": 5}).set_pos((0, 0))
    space.add_text("100", dxfattribs={"height": 5}).set_pos((9, 9))
    space.add_mtext("not to scale")
    space.add_point((1, 1))
    space.add_solid([(0, 0), (1, 0), (0, 1)])
    space.add_circle((0, 0), 5, dxfattribs={"extrusion": (1, 0, 0)})
    doc.layout("Layout1").add_line((0, 0), (1, 1))
    return doc


def measured(doc):
    sums = {}
    for layer, entity in [(top.dxf.layer, part) for top in doc.modelspace() for part in disassemble.recursive_decompose([top])]:
        kind = entity.dxftype()
        if kind in ("TEXT", "MTEXT", "POINT", "SOLID") or (kind == "CIRCLE" and abs(entity.dxf.extrusion.x) > 0.5):
            continue
        for line in path.from_hatch(entity) if kind == "HATCH" else [path.make_path(entity)]:
            points = [(p.x, p.y) for p in line.flattening(0.0005)]
            found = sums.setdefault(layer, {"length": 0, "area": 0, "box": [math.inf, math.inf, -math.inf, -math.inf]})
            found["length"] += sum(math.dist(a, b) for a, b in zip(points, points[1:]))
            if math.dist(points[0], points[-1]) < 1e-6:
                found["area"] += abs(sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(points, points[1:]))) / 2
            box = found["box"]
            box[:] = [min(box[0], *(p[0] for p in points)), min(box[1], *(p[1] for p in points)), max(box[2], *(p[0] for p in points)), max(box[3], *(p[1] for p in points))]
    return sums


for version, units in (("R2000", 4), ("R2018", 5)):
    doc = draw(version, units)
    doc.saveas(folder / f"{version.lower()}.dxf")
    if version == "R2000":
        (folder / "expected.json").write_text(json.dumps(measured(doc), indent=1, sort_keys=True) + "\n")
