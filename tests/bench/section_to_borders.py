#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Reads one variant of a study whose pieces are rectangles and writes its lines for section.edp, by code of its own.

usage: section_to_borders.py STUDY VARIANT OUT
OUT: number of segments, then x0 y0 x1 y1 label (m); number of labels, then owner (1 = first space, 0 = second, -1 =
adiabatic or inside the body) and film coefficient W/(m²·K); number of regions, then x y (m) inside it and its
conductivity.
"""
import json
import sys


def rectangle(outline):
    xs, ys = [p[0] for p in outline], [p[1] for p in outline]
    assert len(outline) == 4 and len(set(xs)) == 2 and len(set(ys)) == 2
    return min(xs), min(ys), max(xs), max(ys)


def cells_of(study, section):
    """Grid lines over everything, beyond the cut as well, and the conductivity of every cell (None = air)."""
    value = {m["id"]: m["lambda"] for m in study["materials"]}
    left, bottom, right, top = section["cut"]
    beyond = section.get("beyond", {})
    x0, y0, x1 = left - beyond.get("left", 0), bottom - beyond.get("bottom", 0), right + beyond.get("right", 0)
    pieces = []
    for piece in section["pieces"]:  # what touches a carried side runs on to the far end
        a, b, c, d = rectangle(piece["outline"])
        pieces.append((x0 if a <= left else a, y0 if b <= bottom else b, x1 if c >= right else c, min(d, top),
                       value[piece["material"]]))
    xs = sorted({x0, x1} | {p[i] for p in pieces for i in (0, 2)})
    ys = sorted({y0, top} | {p[i] for p in pieces for i in (1, 3)})

    def at(x, y):
        return next((k for a, b, c, d, k in reversed(pieces) if a < x < c and b < y < d), None)

    cells = [[at((a + b) / 2, (c + d) / 2) for c, d in zip(ys, ys[1:])] for a, b in zip(xs, xs[1:])]
    return xs, ys, cells


def flood(xs, ys, cells, same, start):
    """All cells joined to `start` for which same(value) holds."""
    seen, todo = set(), [start]
    while todo:
        i, j = todo.pop()
        if (i, j) in seen or not (0 <= i < len(cells) and 0 <= j < len(cells[0])) or not same(cells[i][j]):
            continue
        seen.add((i, j))
        todo += [(i + 1, j), (i - 1, j), (i, j + 1), (i, j - 1)]
    return seen


def film(space, convention, vertical):
    """Film coefficient; solid below the room loses heat downwards in these sections."""
    own = space.get("surface_resistance")
    if own is None:
        rule = convention["heat_flow"]
        own = rule["outside"] if space["kind"] == "outside" else rule["inside"]
    if isinstance(own, dict):
        own = own["horizontal" if vertical else "down"]
    return 1 / own


def main():
    path, variant, out = sys.argv[1:4]
    study = json.load(open(path))
    section = next(v for v in study["variants"] if v["id"] == variant)["section"]
    convention = study["conventions"][study["convention"]]
    xs, ys, cells = cells_of(study, section)
    owner = {}
    for index, space in enumerate(section["spaces"]):
        x, y = space["at"]
        if xs[0] < x < xs[-1] and ys[0] < y < ys[-1]:
            start = sum(v < x for v in xs) - 1, sum(v < y for v in ys) - 1
            owner.update({c: index for c in flood(xs, ys, cells, lambda v: v is None, start)})
        else:  # the mark lies beside the body: its space meets the whole side
            owner[space["id"]] = index
            for i in range(len(xs) - 1):
                owner[i, -1 if y < ys[0] else len(ys) - 1] = index

    regions, done = [], set()
    for i, row in enumerate(cells):
        for j, k in enumerate(row):
            if k is not None and (i, j) not in done:
                done |= flood(xs, ys, cells, lambda v, k=k: v == k, (i, j))
                regions.append(((xs[i] + xs[i + 1]) / 2000, (ys[j] + ys[j + 1]) / 2000, k))

    labels = {None: 1}  # label 1: adiabatic or inside
    unit = {}  # the edge between two grid points → label, and whether there is no body on its left

    def between(a, b, left, right, vertical):
        ka, kb = (cells[i][j] if 0 <= i < len(cells) and 0 <= j < len(cells[0]) else None for i, j in (left, right))
        if ka == kb:
            return
        air = left if ka is None else right
        key = None
        if (ka is None or kb is None) and air in owner:
            space = owner[air]
            key = space, film(section["spaces"][space], convention, vertical)
        unit[a, b] = labels.setdefault(key, len(labels) + 1), ka is None

    for i in range(len(xs)):
        for j in range(len(ys)):
            if j + 1 < len(ys):
                between((i, j), (i, j + 1), (i - 1, j), (i, j), True)
            if i + 1 < len(xs):
                between((i, j), (i + 1, j), (i, j), (i, j - 1), False)

    at = {}
    for edge in unit:
        for end in edge:
            at.setdefault(end, []).append(edge)

    def straight(p):
        """Grid point where nothing but one straight line of one label passes."""
        if len(at[p]) != 2 or unit[at[p][0]] != unit[at[p][1]]:
            return False
        (a, b), (c, d) = at[p]
        return a[0] == b[0] == c[0] == d[0] or a[1] == b[1] == c[1] == d[1]

    segments = []
    for a, b in sorted(unit):
        if straight(a):
            continue
        end = b
        while straight(end):
            end = next(e[1] for e in at[end] if e[0] == end)
        label, turned = unit[a, b]
        (p, q) = (end, a) if turned else (a, end)  # the body must lie on the left of its rim
        segments.append((xs[p[0]] / 1000, ys[p[1]] / 1000, xs[q[0]] / 1000, ys[q[1]] / 1000, label))

    with open(out, "w") as f:
        print(len(segments), file=f)
        for s in segments:
            print(*map(repr, s), file=f)
        print(len(labels) + 1, file=f)
        print(-1, 0.0, file=f)  # label 0 is not used
        for key in labels:
            print(*((1 - key[0], repr(key[1])) if key else (-1, 0.0)), file=f)
        print(len(regions), file=f)
        for r in regions:
            print(*map(repr, r), file=f)


main()
