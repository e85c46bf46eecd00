#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Looks for the quickest settings of section.edp that reach an error, knowing the reference: it favours the package.

usage: scan_settings.py SEGMENTS REFERENCE TRIALS [SEED]
Draws settings at random, then changes the quickest so far of each accuracy by one step, as often as TRIALS says. The
script's own clock (processor time of mesh and solution) decides; the best few of each accuracy are run five times more.
"""
import random
import statistics
import subprocess
import sys

TARGETS = (1e-2, 1e-3, 1e-4, 1e-5)
CHOICES = {
    "parts": [1, 2, 3, 4, 6, 8, 12, 20, 30],
    "rounds": [0, 0, 1, 2, 3],
    "error": [0.2 / 2 ** (i / 2) for i in range(24)],
    "smallest": [10 ** (-i / 2) for i in range(2, 13)],
    "power": [0.8, 1.0, 1.1, 1.2, 1.35, 1.5],
    "anisotropic": [0, 1],
    "halvings": [0, 1, 2],
    "most": [1000, 2000, 5000, 10000, 20000, 50000],
    "steps": [0, 1, 2, 3, 4, 5, 6],
    "share": [0.18, 0.25, 0.35, 0.5, 0.7, 1],
}


def run(segments, setting):
    try:
        words = subprocess.run(["FreeFem++", "-nw", "-ns", "-v", "0", sys.path[0] + "/section.edp", segments,
                                *(f"{v:g}" for v in setting)], capture_output=True, text=True, timeout=5).stdout.split()
        return float(words[0]), float(words[1])
    except (ValueError, IndexError, subprocess.TimeoutExpired):
        return None


def main():
    segments, reference, trials = sys.argv[1], float(sys.argv[2]), int(sys.argv[3])
    draw = random.Random(int(sys.argv[4]) if len(sys.argv) > 4 else 1)
    seen = {}  # setting → error, seconds

    def best(target, count=1):
        good = sorted((s for s in seen if seen[s] and abs(seen[s][0]) <= target), key=lambda s: seen[s][1])
        return good[:count]

    for trial in range(trials):
        target = TARGETS[trial % len(TARGETS)]
        found = best(target, 4)
        if trial < trials // 4 or not found:
            setting = tuple(draw.choice(c) for c in CHOICES.values())
        else:
            changed = list(draw.choice(found))
            for _ in range(draw.choice((1, 1, 2, 3))):
                k = draw.randrange(len(changed))
                options = list(CHOICES.values())[k]
                at = options.index(changed[k]) + draw.choice((-2, -1, 1, 2))
                changed[k] = options[max(0, min(len(options) - 1, at))]
            setting = tuple(changed)
        if setting in seen:
            continue
        result = run(segments, setting)
        seen[setting] = result and (result[0] / reference - 1, result[1])
        if best(target) == [setting]:
            print(f"trial {trial}, {target:g}: {setting} {seen[setting]}", file=sys.stderr, flush=True)
    for target in TARGETS:
        finalists = []
        for setting in best(target, 6):
            again = [run(segments, setting)[1] for _ in range(5)]
            finalists.append((statistics.median(again), setting, seen[setting][0]))
        for seconds, setting, error in sorted(finalists)[:2]:
            print(f"{target:g}: {' '.join(f'{v:g}' for v in setting)}  # {error:.1e}, {seconds:.3f} s", flush=True)


main()
