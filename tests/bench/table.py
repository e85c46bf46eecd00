#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Measures and prints the table of tests/bench/run. usage: table.py BUILD-FOLDER ROUNDS"""
import json
import math
import os
import pathlib
import shutil
import statistics
import subprocess
import sys
import tempfile
import time

HERE = pathlib.Path(__file__).resolve().parent
TARGETS = (1e-2, 1e-3, 1e-4, 1e-5)

# Settings of section.edp by true error of L2D (None: only for the check of the references), with the reference known:
# the quickest of 640 trials of scan_settings.py without the residual indicator (STEPS 0; kept for 1 %) and of a grid of
# 84 with it (PARTS 3 to 8, ROUNDS 0 and 1, STEPS 1 to 6, SHARE 0.25 to 0.7), by processor time; 2026-11-25, busy machine.
SETTINGS = {
    "ground-junction": {
        1e-2: (3, 0, 0.05, 1e-6, 1.1, 1, 0, 2000, 0, 0.5),
        1e-3: (3, 0, 0.05, 1e-6, 1.1, 1, 0, 2000, 1, 0.5),
        1e-4: (3, 0, 0.05, 1e-6, 1.1, 1, 0, 2000, 3, 0.5),
        1e-5: (8, 0, 0.05, 1e-6, 1.1, 1, 0, 5000, 5, 0.7),
        None: (8, 0, 0.05, 1e-6, 1.1, 1, 0, 20000, 6, 0.5),
    },
    "thin-sheet": {
        1e-2: (6, 0, 0.05, 1e-6, 1.1, 1, 1, 1000, 0, 0.5),
        1e-3: (3, 0, 0.05, 1e-6, 1.1, 1, 0, 2000, 2, 0.5),
        1e-4: (3, 0, 0.05, 1e-6, 1.1, 1, 0, 2000, 3, 0.25),
        1e-5: (3, 0, 0.05, 1e-6, 1.1, 1, 0, 2000, 5, 0.5),
        None: (4, 0, 0.05, 1e-6, 1.1, 1, 0, 20000, 6, 0.35),
    },
}

PROBLEMS = {"ground-junction": "slab junction", "thin-sheet": "ISO 10211 case 2"}


def timed(words):
    """Output, wall seconds and processor seconds (user and system) of a whole process."""
    words = [str(word) for word in words]
    with tempfile.TemporaryFile("w+") as out:
        to = [(os.POSIX_SPAWN_DUP2, out.fileno(), 1)]
        begin = time.perf_counter()
        process = os.posix_spawn(words[0], words, os.environ, file_actions=to)  # adds least of its own
        _, status, used = os.wait4(process, 0)
        wall = time.perf_counter() - begin
        if os.waitstatus_to_exitcode(status):
            sys.exit(f"exit status {os.waitstatus_to_exitcode(status)} of: {' '.join(map(str, words))}")
        out.seek(0)
        return out.read(), wall, used.ru_utime + used.ru_stime


class Series:
    """Wall and processor seconds of one thing, measured several times."""

    def __init__(self):
        self.wall, self.cpu = [], []

    def add(self, wall, cpu):
        if wall is not None:
            self.wall.append(wall)
        self.cpu.append(cpu)

    def cells(self):
        def ms(seconds):
            value = 1e3 * seconds
            return f"{value:.2g}" if value < 0.1 else f"{value:.{0 if value >= 100 else 1 if value >= 10 else 2}f}"
        return [f"{ms(statistics.median(v))} ({ms(min(v))}–{ms(max(v))})" if v else "–" for v in (self.wall, self.cpu)]

    def over(self, other):
        """How many times this one's medians the other's are."""
        return [f"{statistics.median(b) / statistics.median(a):.2f}" if a and b else "–"
                for a, b in ((self.wall, other.wall), (self.cpu, other.cpu))]


def in_turn(measures, rounds):
    """Runs all once without counting, then all in turn `rounds` times; each returns (wall, cpu) by series."""
    found = {name: (Series(), Series()) for name in measures}
    for turn in range(rounds + 1):
        for name, measure in measures.items():
            whole, inner = measure()
            if turn:
                found[name][0].add(*whole)
                if inner:
                    found[name][1].add(*inner)
    return found


class Bench:
    def __init__(self, folder, rounds, scratch):
        self.wallfoot, self.bench = folder / "app/wallfoot", folder / "tests/bench/bench"
        self.rounds, self.scratch = rounds, scratch
        self.freefem = shutil.which("FreeFem++")

    def row(self, what, ours, other, compared):
        """One line of the table; the ratio says how many times as long the compared one takes."""
        line(what, *ours.cells(), compared, *other.cells(), *ours.over(other))

    def solve(self, problem, tolerance, variant="coupling"):
        text, wall, cpu = timed([self.wallfoot, "solve", HERE / f"{problem}.wallfoot", "--variant", variant, "--json",
                                 "--tolerance", repr(tolerance)])
        return json.loads(text)["variants"][0]["L2D"][0], wall, cpu

    def package(self, problem, setting):
        text, wall, cpu = timed([self.freefem, "-nw", "-ns", "-v", "0", HERE / "section.edp", self.scratch / problem,
                                 *map(str, setting)])
        value, clock, _ = text.split()
        return float(value), float(clock), wall, cpu

    def tolerances(self, problem, reference):
        """By error: the largest tolerance whose value has it, and all smaller ones too."""
        errors, tolerance = [], 0.1 * reference
        while tolerance > 1e-7 * reference:
            found = self.solve(problem, tolerance)[0]
            middle = 0.5 * (found["lower"] + found["upper"])
            errors.append((tolerance, max(abs(v / reference - 1) for v in (found["value"], middle))))
            tolerance /= 2
        chosen = {}
        for target in TARGETS:
            for tolerance, error in reversed(errors):
                if error > target:
                    break
                chosen[target] = tolerance
        return chosen

    def against_package(self, problem):
        title = PROBLEMS[problem]
        found = timed([self.bench, "once", HERE / f"{problem}.wallfoot", "coupling", "1e-7"])[0].split()
        reference, lower, upper = map(float, found[2:5])
        if self.freefem:
            subprocess.run([sys.executable, HERE / "section_to_borders.py", HERE / f"{problem}.wallfoot", "coupling",
                            self.scratch / problem], check=True)
            finest = self.package(problem, SETTINGS[problem][None])[0]
            # Its value is an upper bound up to round-off, and close at its finest.
            if not lower * (1 - 1e-8) <= finest <= upper * (1 + 1e-5):
                sys.exit(f"{title}: L2D {lower}…{upper} by us, {finest} by FreeFEM: they disagree")
            print(f"{title}: L2D {lower:.8f}…{upper:.8f} W/(m·K), FreeFEM's finest {finest:.8f}", file=sys.stderr)
        tolerances = self.tolerances(problem, reference)
        proven = 1e-3 * reference
        measures = {}

        def ours(tolerance):
            def measure():
                whole = self.solve(problem, tolerance)[1:]
                inner = timed([self.bench, "once", HERE / f"{problem}.wallfoot", "coupling", repr(tolerance)])[0].split()
                return whole, (float(inner[0]), float(inner[1]))
            return measure

        def package(target):
            def measure():
                value, clock, wall, cpu = self.package(problem, SETTINGS[problem][target])
                if abs(value / reference - 1) > target:
                    sys.exit(f"{title}: the settings for {target} do not reach it: {value} instead of {reference}")
                return (wall, cpu), (None, clock)  # its own clock counts processor time
            return measure

        for target in TARGETS:
            measures["ours", target] = ours(tolerances[target])
            if self.freefem:
                measures["package", target] = package(target)
        measures["ours", "proven"] = ours(proven)
        series = in_turn(measures, self.rounds)
        nothing = Series(), Series()
        for part, how in enumerate(("whole process", "mesh and solution only")):
            for target in TARGETS:
                self.row(f"{title}, true error ≤ {100 * target:g} %, {how}", series["ours", target][part],
                         series.get(("package", target), nothing)[part], "FreeFEM P2, adapted")
            self.row(f"{title}, bracket proven ≤ 0.1 %, {how}", series["ours", "proven"][part],
                     series.get(("package", 1e-3), nothing)[part], "FreeFEM, true error ≤ 0.1 %, unproven")

    def packages(self):
        for problem in PROBLEMS:
            self.against_package(problem)

    def whole_processes(self):
        measures = {
            "floor": lambda: (timed(["/bin/true"])[1:], None),
            "start": lambda: (timed([self.wallfoot, "--version"])[1:], None),
            "everything": lambda: (self.solve("ground-junction", 1e-4, "junction")[1:], None),
            "L2D": lambda: (self.solve("ground-junction", 1e-4)[1:], None),
        }
        if self.freefem:
            nothing = self.scratch / "nothing.edp"
            nothing.write_text("real nothing = 0;\n")
            measures["package"] = lambda: (timed([self.freefem, "-nw", "-ns", "-v", "0", nothing])[1:], None)
        series = in_turn(measures, max(self.rounds, 11))
        self.row("wallfoot --version", series["start"][0], series.get("package", [Series()])[0],
                 "FreeFEM, an empty script")
        self.row("/bin/true, what this machine takes to start anything", series["floor"][0], series["start"][0],
                 "wallfoot --version")
        self.row("slab junction, L2D alone to 1e-4 W/(m·K)", series["L2D"][0], series["everything"][0],
                 "the same with psi of both floor readings and fRsi")

    def cases(self):
        found = {}
        for text in timed([self.bench, "cases", str(max(self.rounds, 5))])[0].splitlines():
            name, threads, wall, cpu, unknowns = text.split()
            found.setdefault((name, threads), Series()).add(float(wall), float(cpu))
            found[name, "unknowns"] = int(unknowns)
        titles = {
            "30-first": "30 pieces, first bracket", "30-1e-4": "30 pieces, 1e-4 W/(m·K)",
            "30-1e-5-relative": "30 pieces, 1e-5 of L2D", "30-surface-mean": "30 pieces, surface mean ± 0.01 K",
            "60-1e-4": "60 pieces, 1e-4 W/(m·K)", "60-1e-5-relative": "60 pieces, 1e-5 of L2D",
        }
        for name, title in titles.items():
            self.row(f"{title} ({found[name, 'unknowns']} unknowns), two threads", found[name, "2"], found[name, "1"],
                     "one thread")
        for name, title in (("1e-4", "1e-4 W/(m·K)"), ("1e-5-relative", "1e-5 of L2D")):
            for threads in "12":
                self.row(f"60 pieces, {title}, {threads} thread{'s' * (threads == '2')}", found[f"60-{name}", threads],
                         found[f"60-layers-{name}", threads], "with three layers of 0.3–1 mm")

    def again(self):
        found, widths = {}, {}
        for text in timed([self.bench, "again", str(max(self.rounds, 5))])[0].splitlines():
            name, wall, cpu, width = text.split()
            found.setdefault(name, Series()).add(float(wall), float(cpu))
            widths[name] = float(width)
        for name, title in (("again", "30 pieces, one conductivity changed, on the kept mesh"),
                            ("slider", "30 pieces, one value of a slider")):
            self.row(f"{title} (bracket {widths[name]:.1e})", found[name], found["scratch"],
                     f"solved from scratch to 1e-4 W/(m·K) (bracket {widths['scratch']:.1e})")

    def variants(self):
        found, widths = {}, {}
        for text in timed([self.bench, "variant", str(max(self.rounds, 5))])[0].splitlines():
            name, wall, cpu, width = text.split()
            found.setdefault(name, Series()).add(float(wall), float(cpu))
            widths[name] = float(width)
        for name, title in (("rest", "psi and fRsi of 30 pieces, one conductivity changed, at rest, the floor alone known"),
                            ("quick", "the same as a first look on kept meshes")):
            self.row(f"{title} (bracket {widths[name]:.1e})", found[name], found["scratch"],
                     f"from scratch (bracket {widths['scratch']:.1e})")

    def sweeps(self):
        """A sweep of 100 points in one process, and each point by a process of its own."""
        study = HERE.parent.parent / "samples/slab-insulation-below.wallfoot"
        for title, change in (("conductivity of the foot", {"what": "conductivity", "piece": "foot-below"}),
                              ("temperature outside", {"what": "temperature", "space": "out"})):
            values = [round(0.1 + 0.01 * n, 4) if change["what"] == "conductivity" else round(-20 + 0.25 * n, 4) for n in range(100)]

            def plan(name, some):
                path = self.scratch / name
                path.write_text(json.dumps({"variants": ["foam"], "change": [dict(change, values=some)]}))
                return path
            whole, each = plan("whole.json", values), [plan(f"{n}.json", [value]) for n, value in enumerate(values)]

            def separate():
                wall = cpu = 0
                for path in each:
                    _, one, used = timed([self.wallfoot, "sweep", study, path])
                    wall, cpu = wall + one, cpu + used
                return (wall, cpu), None
            series = in_turn({"one": lambda: (timed([self.wallfoot, "sweep", study, whole])[1:], None), "separate": separate}, min(self.rounds, 3))
            self.row(f"sweep of 100 points in one process, {title}", series["one"][0], series["separate"][0], "100 processes of one point each")

    def growth(self):
        for threads in "12":
            exponents, ends = [], []
            for _ in range(5):
                points = [list(map(float, text.split())) for text in
                          timed([self.bench, "growth", threads, "1000000"])[0].splitlines()]
                points = [p for p in points if p[0] >= 1e4]
                ends.append((points[0], points[-1]))
                exponents.append([slope([math.log(p[0]) for p in points], [math.log(p[k]) for p in points]) for k in (1, 2)])
            small, large = Series(), Series()
            for first, last in ends:
                small.add(*first[1:])
                large.add(*last[1:])
            wall, cpu = (statistics.median(e[k] for e in exponents) for k in (0, 1))
            self.row(f"whole run to {ends[0][0][0]:.0f} unknowns, {threads} thread{'s' * (threads == '2')}", small, large,
                     f"to {ends[0][1][0]:.0f} unknowns; time grows with the power {wall:.2f} (processor {cpu:.2f})")

    def memory(self):
        peak, empty = (int(timed([self.bench, word])[0]) for word in ("peak", "empty"))
        line(f"peak memory, 60 pieces, everything to 1e-5 of L2D: {peak / 1024:.1f} MiB", "–", "–",
             f"the empty program: {empty / 1024:.1f} MiB; {(peak - empty) / 1024:.1f} MiB above it", *["–"] * 4)


def line(*cells):
    print("| " + " | ".join(cells) + " |", flush=True)


def head(rounds):
    model = next((row.split(":", 1)[1].strip() for row in open("/proc/cpuinfo") if row.startswith("model name")), "?")
    load = "/".join(f"{v:.1f}" for v in os.getloadavg())
    print(f"{time.strftime('%Y-%m-%d')}, {model}, {os.cpu_count()} cores, load {load} before; medians of {rounds} runs in "
          "turn (least–most), of 5 for the longest, ms; processor time is user and system, of all threads; a ratio says "
          "how many times as long the compared one takes.\n")
    line("measured", "wall", "processor", "compared with", "its wall", "its processor", "ratio, wall", "ratio, processor")
    line(*["---"] * 8)


def slope(x, y):
    mx, my = statistics.fmean(x), statistics.fmean(y)
    return sum((a - mx) * (b - my) for a, b in zip(x, y)) / sum((a - mx) ** 2 for a in x)


def main():
    folder, rounds = pathlib.Path(sys.argv[1]), int(sys.argv[2])
    with tempfile.TemporaryDirectory() as scratch:
        bench = Bench(folder, rounds, pathlib.Path(scratch))
        head(rounds)
        parts = sys.argv[3:] or ["packages", "whole_processes", "cases", "again", "variants", "sweeps", "growth", "memory"]
        for part in parts:
            getattr(bench, part)()


if __name__ == "__main__":
    main()
