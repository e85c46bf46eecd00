#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The JSON Schema of the dwelling file against the samples, and against what the program refuses and accepts.

usage: dwelling_schema.py ROOT WALLFOOT-EXECUTABLE      (needs Debian's python3-jsonschema)
"""
import copy
import json
import pathlib
import re
import subprocess
import sys
import tempfile

from jsonschema import Draft202012Validator

root, program = pathlib.Path(sys.argv[1]), sys.argv[2]
failures = []
GONE = object()
LAST = "/junctions/0/study/last"

# One change of the full dwelling of the other tests: neither the schema nor the program may take it.
BROKEN = [
    ("/format", GONE), ("/format", "wallfoot"), ("/version", GONE), ("/version", 2), ("/version", "1"), ("/name", 7), ("/notes", []), ("/lengths", GONE), ("/lengths", "inside"),
    ("/junctions", GONE), ("/junctions", {}), ("/junctions/0/id", ""), ("/junctions/0/id", GONE), ("/junctions/0/kind", GONE), ("/junctions/0/kind", 3), ("/junctions/0/name", 1),
    ("/junctions/0/length", -0.1), ("/junctions/0/length", "10"), ("/junctions/0/length", 100001), ("/junctions/0/study", []), ("/junctions/0/study/file", GONE), ("/junctions/0/study/file", ""),
    ("/junctions/0/study/variant", ""), (LAST, 1), (LAST + "/psi", GONE), (LAST + "/psi", 101), (LAST + "/lower", "0"), (LAST + "/upper", GONE), (LAST + "/input_hash", ""), (LAST + "/date", "26.11.2026"),
    (LAST + "/date", "2026-00-01"), (LAST + "/date", "2026-01-32"), (LAST + "/lengths", GONE), (LAST + "/flanking", {}), (LAST + "/flanking/0/U", -1), (LAST + "/flanking/0/element", ""), (LAST + "/flanking/0/length", GONE),
    (LAST + "/other_pairs/0/warm", ""), (LAST + "/other_pairs/0/psi", None), ("/junctions/0/calculation_U", 1), ("/junctions/0/calculation_U/1/U", 101), ("/junctions/0/calculation_U/0/element", ""),
    ("/junctions/1/elsewhere/psi", GONE), ("/junctions/1/elsewhere/psi", True), ("/junctions/1/elsewhere/basis", GONE), ("/junctions/1/elsewhere/basis", "guess"), ("/junctions/1/elsewhere/source", ""), ("/junctions/1/elsewhere/source", GONE),
    ("/junctions/1/elsewhere/lengths", "all"), ("/junctions/2/point/chi", GONE), ("/junctions/2/point/count", -1), ("/junctions/2/point/basis", "x"), ("/junctions/2/point/source", ""),
    ("/absent", "gable"), ("/absent/0", 1), ("/envelope", {}), ("/envelope/0/id", ""), ("/envelope/0/area", GONE), ("/envelope/0/area", -1), ("/envelope/0/U", "0.2"), ("/envelope/0/name", 1),
    ("/degree_days", 2200), ("/degree_days/value", -1), ("/degree_days/source", GONE), ("/degree_days/source", ""), ("/degree_days/base", 15), ("/currency", 1), ("/energy_price", 0.5), ("/energy_price/value", -1),
    ("/energy_price/date", GONE), ("/energy_price/source", ""), ("/carbon_factor/value", 101), ("/efficiency", 0), ("/efficiency", 21), ("/measures", {}), ("/measures/0/id", ""), ("/measures/0/junction", GONE),
    ("/measures/0/junction", ""), ("/measures/0/cost", 100), ("/measures/0/cost/date", "soon"),
]

# Other ways to say a thing: both must take them.
SOUND = [
    ("/later", {"x": 1}), ("/junctions/0/later", 1), ("/name", GONE), ("/junctions/0/length", GONE), ("/junctions/0/length", 0), (LAST, GONE), ("/junctions/1/elsewhere/lower", GONE), ("/junctions/1/elsewhere/lengths", "external"),
    ("/junctions/2/point/count", 2.5), ("/absent", GONE), ("/degree_days", GONE), ("/degree_days/base", GONE), ("/energy_price", GONE), ("/efficiency", 3.2), ("/measures", []), ("/measures/0/cost", GONE), ("/measures/0/elsewhere", GONE),
    ("/lengths", "overall-internal"), ("/junctions/0/calculation_U", []),
]


def steps(pointer):
    return [int(step) if step.isdigit() else step for step in pointer.split("/")[1:]]


def changed(file, pointer, value):
    file = copy.deepcopy(file)
    *way, last = steps(pointer)
    place = file
    for step in way:
        place = place[step]
    if value is GONE:
        del place[last]
    else:
        place[last] = value
    return file


def related(a, b):
    """Whether one place holds the other."""
    return all(x == y for x, y in zip(a, b))


def look_at(dwelling):
    with tempfile.NamedTemporaryFile("w", suffix=".dwelling") as file:
        json.dump(dwelling, file)
        file.flush()
        ran = subprocess.run([program, "dwelling", file.name], capture_output=True, text=True)
        return ran.returncode, [line.removeprefix(file.name + ": ") for line in ran.stderr.splitlines()]


schema = json.loads((root / "resources/schema/dwelling.schema.json").read_text())
Draft202012Validator.check_schema(schema)
validator = Draft202012Validator(schema)
samples = sorted((root / "samples").glob("*.dwelling"))
if not samples:
    failures.append("the sample is missing")
for path in samples:
    for error in validator.iter_errors(json.loads(path.read_text())):
        failures.append(f"{path.name}: {error.json_path}: {error.message}")

full = json.loads(re.search(r'R"json\((.*?)\)json"', (root / "tests/unit/dwelling/dwelling_drafts.hpp").read_text(), re.S).group(1))
for error in validator.iter_errors(full):
    failures.append(f"full dwelling: {error.json_path}: {error.message}")
if look_at(full)[0] != 0:
    failures.append("the full dwelling itself is not taken")
for pointer, value in BROKEN:
    said = f"{pointer} = {'nothing' if value is GONE else json.dumps(value)}"
    dwelling = changed(full, pointer, value)
    errors = list(validator.iter_errors(dwelling))
    if not errors:
        failures.append(f"the schema takes {said}")
    for error in errors:
        if not related(list(error.absolute_path), steps(pointer)):
            failures.append(f"the schema refuses {said} elsewhere: {error.json_path}: {error.message}")
    status, lines = look_at(dwelling)
    if status != 2:
        failures.append(f"the program ends with {status} for {said}: {lines}")
    elif not related(steps(lines[0].split(": ")[0]), steps(pointer)):
        failures.append(f"the program refuses {said} elsewhere: {lines[0]}")
for pointer, value in SOUND:
    said = f"{pointer} = {'nothing' if value is GONE else json.dumps(value)}"
    dwelling = changed(full, pointer, value)
    for error in validator.iter_errors(dwelling):
        failures.append(f"the schema refuses {said}: {error.json_path}: {error.message}")
    status, lines = look_at(dwelling)
    if status != 0:
        failures.append(f"the program ends with {status} for {said}: {lines}")

print("\n".join(failures))
sys.exit(bool(failures))
