#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Builds a section again from its pack alone, with a mesh and finite elements of its own, and holds what comes out against
the pack: L2D to 0.1 %, temperatures at the control points to 0.05 K. usage: check_pack.py WALLFOOT STUDY [STUDY…]

Quadratic elements of nine nodes on a grid of lines through every corner, finer towards them; direct solution (scipy).
A temperature field that keeps to the body gives a coupling from above: it must not fall below the pack's lower bound.
Only for sections whose edges all lie or stand."""
import csv
import io
import json
import pathlib
import subprocess
import sys
import tempfile
import zipfile

import numpy
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import splu

FIRST, GROWTH = 0.006, 1.5          # m: of the cells at a line through a corner, and how they grow away from it
GAUSS = numpy.array([-numpy.sqrt(0.6), 0.0, numpy.sqrt(0.6)])
WEIGHTS = numpy.array([5.0, 8.0, 5.0]) / 9.0


def shape(t):
    """Quadratic on -1, 0, 1, and its derivative."""
    return (numpy.array([t * (t - 1) / 2, 1 - t * t, t * (t + 1) / 2]), numpy.array([t - 0.5, -2 * t, t + 0.5]))


VALUES = [shape(t)[0] for t in GAUSS]
SLOPES = [shape(t)[1] for t in GAUSS]
MASS = sum(w * numpy.outer(v, v) for w, v in zip(WEIGHTS, VALUES))       # on a line of length 2
STIFF = sum(w * numpy.outer(d, d) for w, d in zip(WEIGHTS, SLOPES))


def lines_through(marks):
    """Grid lines: every mark, and between two marks cells that grow from both ends to the middle."""
    marks = sorted(marks)
    lines = [marks[0]]
    for a, b in zip(marks, marks[1:]):
        sizes, size, left = [], min(FIRST, (b - a) / 4), (b - a) / 2
        while sum(sizes) < left:
            sizes.append(size)
            size *= GROWTH
        sizes = numpy.array(sizes) * left / sum(sizes)
        steps = numpy.concatenate([sizes, sizes[::-1]])
        lines.extend(a + numpy.cumsum(steps)[:-1])
        lines.append(b)
    return numpy.array(lines)


def inside(rings, x, y):
    odd = False
    for ring in rings:
        for (xa, ya), (xb, yb) in zip(ring, ring[1:] + ring[:1]):
            if (ya > y) != (yb > y) and x < xa + (y - ya) * (xb - xa) / (yb - ya):
                odd = not odd
    return odd


class Section:
    def __init__(self, told, factor=1.0):
        rings = [[face["outline"], *face["holes"]] for face in told["faces"]]
        for ring in (ring for face in rings for ring in face):
            for (xa, ya), (xb, yb) in zip(ring, ring[1:] + ring[:1]):
                if xa != xb and ya != yb:
                    raise SystemExit("an edge neither lies nor stands")
        corners = [corner for face in rings for ring in face for corner in ring]
        marks_x, marks_y = sorted({c[0] for c in corners}), sorted({c[1] for c in corners})
        self.x, self.y = lines_through(marks_x), lines_through(marks_y)
        columns = numpy.searchsorted(marks_x, (self.x[:-1] + self.x[1:]) / 2) - 1
        rows = numpy.searchsorted(marks_y, (self.y[:-1] + self.y[1:]) / 2) - 1
        block = numpy.zeros((len(marks_x) - 1, len(marks_y) - 1, 2))
        for i in range(block.shape[0]):
            for j in range(block.shape[1]):
                x, y = (marks_x[i] + marks_x[i + 1]) / 2, (marks_y[j] + marks_y[j + 1]) / 2
                for face, outline in zip(told["faces"], rings):
                    if inside(outline, x, y):
                        block[i, j] = face["lambda_x"] * factor, face["lambda_y"] * factor
        self.conductivity = block[columns][:, rows]
        self.spaces = [space["id"] for space in told["spaces"]]
        self.assemble(told["surfaces"])

    def node(self, i, j):
        return i * (2 * len(self.y) - 1) + j

    def assemble(self, surfaces):
        row, column, value = [], [], []
        local = numpy.arange(3)

        def put(nodes, matrix):
            row.append(numpy.repeat(nodes, len(nodes)))
            column.append(numpy.tile(nodes, len(nodes)))
            value.append(matrix.ravel())

        for i, width in enumerate(numpy.diff(self.x)):
            for j, height in enumerate(numpy.diff(self.y)):
                kx, ky = self.conductivity[i, j]
                if kx == 0:
                    continue
                nodes = self.node(2 * i + local[:, None], 2 * j + local[None, :]).ravel()
                put(nodes, kx * height / width * numpy.kron(STIFF, MASS) + ky * width / height * numpy.kron(MASS, STIFF))
        size = (2 * len(self.x) - 1) * (2 * len(self.y) - 1)
        self.load = numpy.zeros((size, len(self.spaces)))
        for surface in surfaces:
            (xa, xb), (ya, yb) = (sorted(pair) for pair in zip(surface["from"], surface["to"]))
            if surface["resistance"] == 0:
                raise SystemExit("a surface without resistance")
            space = self.spaces.index(surface["space"])
            lying = ya == yb
            along, across = (self.x, self.y) if lying else (self.y, self.x)
            at = int(numpy.argmin(abs(across - (ya if lying else xa))))
            low, high = (xa, xb) if lying else (ya, yb)
            for k, (a, b) in enumerate(zip(along, along[1:])):
                if not low < (a + b) / 2 < high:
                    continue
                nodes = self.node(2 * k + local, 2 * at) if lying else self.node(2 * at, 2 * k + local)
                matrix = (b - a) / 2 * MASS / surface["resistance"]
                put(nodes, matrix)
                self.load[nodes, space] += matrix.sum(axis=1)
        full = coo_matrix((numpy.concatenate(value), (numpy.concatenate(row), numpy.concatenate(column))), (size, size)).tocsr()
        used = numpy.flatnonzero(full.diagonal())
        answer = splu(full[used][:, used].tocsc(), permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True}).solve(self.load[used])
        self.field = numpy.full((size, len(self.spaces)), numpy.nan)
        self.field[used] = answer
        # Heat into b with space a alone at 1: what its surface takes up, at the temperature 0 of b
        self.coupling = self.load[used].T @ answer

    def temperature(self, x, y, temperatures):
        for i in numpy.flatnonzero((self.x[:-1] <= x + 1e-9) & (self.x[1:] >= x - 1e-9)):
            for j in numpy.flatnonzero((self.y[:-1] <= y + 1e-9) & (self.y[1:] >= y - 1e-9)):
                if self.conductivity[i, j, 0] == 0:
                    continue
                s = 2 * (x - self.x[i]) / (self.x[i + 1] - self.x[i]) - 1
                t = 2 * (y - self.y[j]) / (self.y[j + 1] - self.y[j]) - 1
                nodes = self.node(2 * i + numpy.arange(3)[:, None], 2 * j + numpy.arange(3)[None, :])
                weights = numpy.outer(shape(s)[0], shape(t)[0])
                return sum(temperatures[k] * (weights * self.field[nodes, k]).sum() for k in range(len(temperatures)))
        raise SystemExit(f"a control point at {x}, {y} lies in no solid")


def table(pack, name):
    return list(csv.reader(io.StringIO(pack.read(name).decode())))[1:]


def misses(pack, folder, factor=1.0):
    """What does not meet the pack, in words."""
    missed = []
    results = table(pack, folder + "results.csv")

    def hold(what, ours, row):
        value, lower = float(row[2]), float(row[3])
        if abs(ours - value) > 0.001 * abs(value) or ours < lower * (1 - 1e-9):
            missed.append(f"{what}: {ours:.6f}, the pack says {value:.6f}, at least {lower:.6f}")
        elif factor == 1:
            print(f"  {what}: {ours:.6f}, the pack says {value:.6f} ({100 * (ours / value - 1):+.4f} %)")

    told = json.loads(pack.read(folder + "junction/section.json"))
    section = Section(told, factor)
    for row in results:
        if row[0] == "L2D":
            a, b = (section.spaces.index(space) for space in row[1].split("–"))
            hold("L2D " + row[1], section.coupling[b, a], row)
    temperatures = [space["temperature"] for space in told["spaces"]]
    points = table(pack, folder + "points.csv")
    if len(points) < 8:
        missed.append(f"{len(points)} control points, not 8")
    worst = max(abs(section.temperature(float(x), float(y), temperatures) - float(t)) for _, x, y, t in points)
    if not worst <= 0.05:
        missed.append(f"a control point is off by {worst:.3f} K")
    elif factor == 1:
        print(f"  {len(points)} control points: within {worst:.4f} K")
    second = folder + "floor alone/section.json"
    rows = [row for row in results if row[0] == "L2D of the floor alone"]
    if rows and second not in pack.namelist():
        missed.append("no second section")
    if second in pack.namelist():
        alone = Section(json.loads(pack.read(second)), factor)
        hold("L2D of the floor alone", alone.coupling[1, 0], rows[0])
        # psi of the pair whose floor that is: what is left of its L2D
        of = rows[0][1].rsplit(", ", 1)[0]
        pair = of.split(",")[0]
        a, b = (section.spaces.index(space) for space in pair.split("–"))
        given = [row for row in results if row[1].startswith(of)]
        products = {}
        for row in given:
            if row[0] in ("U", "length"):
                products.setdefault(row[1], []).append(float(row[2]))
        ours = section.coupling[b, a] - alone.coupling[1, 0] - sum(u * length for u, length in products.values())
        psi = next(float(row[2]) for row in given if row[0] == "psi")
        if abs(ours - psi) > 0.001 * section.coupling[b, a]:
            missed.append(f"psi {of}: {ours:.5f}, the pack says {psi:.5f}")
        elif factor == 1:
            print(f"  psi {of}: {ours:.5f}, the pack says {psi:.5f}")
    return missed


def main():
    wallfoot, studies = sys.argv[1], sys.argv[2:]
    failed = []
    for study in studies:
        with tempfile.TemporaryDirectory() as folder:
            name = pathlib.Path(folder) / "pack.zip"
            subprocess.run([wallfoot, "pack", study, "--out", str(name)], check=True)
            with zipfile.ZipFile(name) as pack:
                if pack.testzip() is not None:
                    failed.append(f"{study}: the archive is damaged")
                variants = sorted({n.split("/")[0] + "/" for n in pack.namelist() if n.startswith("variant-")})
                print(pathlib.Path(study).name, variants[0])
                failed += [f"{study}: {missed}" for missed in misses(pack, variants[0])]
                # The check itself must see one per cent.
                if not misses(pack, variants[0], 1.01):
                    failed.append(f"{study}: conductivities off by 1 % are not noticed")
    for line in failed:
        print(line)
    return 1 if failed or not studies else 0


if __name__ == "__main__":
    sys.exit(main())
