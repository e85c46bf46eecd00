#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Reads one variant of a study whose pieces are rectangles and writes a graded mesh for solve.edp.

A second, independent reading of the study file: pieces are looked up point-wise at the middle of each cell of a
rectangular grid (the topmost wins); nothing is shared with the program. Only what the samples use is understood.

usage: section_to_mesh.py STUDY VARIANT SMALLEST RATIO heat-flow|surface-check OUT   (writes OUT.msh and OUT.dat)
Between two outline coordinates cells grow from SMALLEST (mm) at both ends by RATIO from one to the next.
"""
import json
import sys

# Resistance by thickness in mm, horizontal heat flow, ISO 6946:2017 (from memory): the only airspace the samples have.
AIRSPACE = {50.0: 0.18}


def graded(a, b, smallest, ratio):
    """Points from a to b (both kept): sizes grow from about `smallest` at both ends by `ratio` to the middle."""
    sizes = [smallest]
    while sum(sizes) < (b - a) / 2:
        sizes.append(sizes[-1] * ratio)
    left, x = [a], a
    for size in sizes[:-1]:
        x += size * (b - a) / 2 / sum(sizes)
        left.append(x)
    return left + [(a + b) / 2] + [a + b - p for p in reversed(left)]


def inside(piece, x, y):
    xs, ys = [p[0] for p in piece["outline"]], [p[1] for p in piece["outline"]]
    assert len(piece["outline"]) == 4 and not piece.get("holes")  # rectangles
    return min(xs) < x < max(xs) and min(ys) < y < max(ys)


def conductivity(piece, material, condition):
    if material["kind"] == "airspace":
        wide = max(q[0] for q in piece["outline"]) - min(q[0] for q in piece["outline"])
        return wide / 1000 / AIRSPACE[wide]
    declared = material["lambda"]
    return declared[condition]["value"] if isinstance(declared, dict) else declared  # soil: one value for all


def condition_at(piece, y, levels):
    if piece.get("moisture", "auto") != "auto":
        return piece["moisture"]
    if y < levels["ground"]:
        return "below-ground"
    if y < levels["dpc"]:
        return "below-dpc"
    return "exposed" if piece["id"] == "outer-leaf" else "protected"  # no other piece above the dpc meets the outside


def read(study_path, variant_id, smallest, ratio):
    """Grid lines, conductivity of every cell (None = air), study and section."""
    study = json.load(open(study_path))
    section = next(v for v in study["variants"] if v["id"] == variant_id)["section"]
    materials = {m["id"]: m for m in study["materials"]}
    pieces, levels = section["pieces"], section["levels"]
    left, bottom, right, top = section["cut"]
    b = study["building"]["floor"]["width"]
    assert section["beyond"] == {"left": "auto", "right": "auto", "bottom": "auto"}
    inner_face = min(q[0] for p in pieces if p["id"] == "plaster" for q in p["outline"])
    outer_face = max(q[0] for p in pieces if p["id"] == "outer-leaf" for q in p["outline"])
    x0, x1, y0 = inner_face - 0.5 * b, outer_face + 2.5 * b, levels["ground"] - 2.5 * b

    lines_x = sorted({q[0] for p in pieces for q in p["outline"] if left < q[0] < right} | {x0, x1})
    lines_y = sorted({q[1] for p in pieces for q in p["outline"] if bottom < q[1] < top}
                     | {y0, top, levels["ground"], levels["dpc"]})
    xs = sorted({p for a, c in zip(lines_x, lines_x[1:]) for p in graded(a, c, smallest, ratio)})
    ys = sorted({p for a, c in zip(lines_y, lines_y[1:]) for p in graded(a, c, smallest, ratio)})

    def cell(x, y):
        px, py = min(max(x, left + 1e-6), right - 1e-6), min(max(y, bottom + 1e-6), top - 1e-6)  # beyond the cut
        piece = next((p for p in reversed(pieces) if inside(p, px, py)), None)
        return piece and conductivity(piece, materials[piece["material"]], condition_at(piece, y, levels))

    cells = [[cell((a + c) / 2, (d + e) / 2) for d, e in zip(ys, ys[1:])] for a, c in zip(xs, xs[1:])]
    return study, section, xs, ys, cells


def flood(spaces, xs, ys, cells):
    """Which space every cell of air belongs to."""
    owner = {}
    for index, space in enumerate(spaces):
        x, y = space["at"]
        todo = [(sum(v < x for v in xs) - 1, sum(v < y for v in ys) - 1)]
        while todo:
            i, j = todo.pop()
            if not (0 <= i < len(cells) and 0 <= j < len(cells[0])) or cells[i][j] is not None or (i, j) in owner:
                continue
            owner[i, j] = index
            todo += [(i + 1, j), (i - 1, j), (i, j + 1), (i, j - 1)]
    assert all(c is not None or (i, j) in owner for i, row in enumerate(cells) for j, c in enumerate(row))
    return owner


def main():
    study_path, variant_id, smallest, ratio, purpose, out = sys.argv[1:7]
    study, section, xs, ys, cells = read(study_path, variant_id, float(smallest), float(ratio))
    spaces, convention = section["spaces"], study["conventions"][study["convention"]]
    owner = flood(spaces, xs, ys, cells)
    rule = convention[purpose.replace("-", "_")]

    def film(space, vertical):
        """Floors, the deck above the void and the ground in it all lose heat downwards in these samples."""
        if spaces[space]["kind"] == "outside":
            return 1 / rule["outside"]
        return 1 / rule["inside"]["horizontal" if vertical else "down"]

    labels, lambdas, number, edges, triangles = {}, {}, {}, [], []

    def vertex(i, j):
        return number.setdefault((i, j), len(number) + 1)

    for i, row in enumerate(cells):
        for j, value in enumerate(row):
            if value is None:
                continue
            region = lambdas.setdefault(value, len(lambdas))
            a, c, d, e = vertex(i, j), vertex(i + 1, j), vertex(i + 1, j + 1), vertex(i, j + 1)
            triangles += [(a, c, d, region), (a, d, e, region)] if (i + j) % 2 else [(a, c, e, region), (c, d, e, region)]
            for (di, dj), ends in {(0, -1): (a, c), (1, 0): (c, d), (0, 1): (d, e), (-1, 0): (e, a)}.items():
                k, l = i + di, j + dj
                within = 0 <= k < len(cells) and 0 <= l < len(row)
                if within and cells[k][l] is not None:
                    continue
                key = (owner[k, l], film(owner[k, l], dj == 0)) if within else None
                edges.append((*ends, labels.setdefault(key, len(labels) + 1) if key else 0))

    with open(out + ".msh", "w") as f:
        print(len(number), len(triangles), len(edges), file=f)
        for i, j in number:
            print(repr(xs[i] / 1000), repr(ys[j] / 1000), 0, file=f)
        for item in triangles + edges:
            print(*item, file=f)
    own = {"inside": convention["inside_temperature"], "outside": convention["outside_temperature"]}
    with open(out + ".dat", "w") as f:
        print(len(spaces), *(s.get("temperature", own.get(s["kind"])) for s in spaces), file=f)
        print(len(lambdas), *lambdas, file=f)
        print(len(labels) + 1, -1, 0.0, file=f)
        for space, value in labels:
            print(space, value, file=f)
    print(" ".join(s["id"] for s in spaces))


main()
