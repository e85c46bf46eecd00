#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The JSON Schema of the study file against the samples, and against what the program refuses and accepts.

usage: study_schema.py ROOT WALLFOOT-EXECUTABLE      (needs Debian's python3-jsonschema)
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
ISO = json.loads((root / "resources/conventions/iso.json").read_text())
LEAF = "/variants/0/section/pieces/2"
IN = "/variants/0/section/spaces/0"

# One change of the small study of the other tests, at a pointer: neither the schema nor the program may take it.
BROKEN = [
    ("/wallfoot", GONE), ("/wallfoot", 2), ("/wallfoot", "1"), ("/title", 7), ("/project", []), ("/project", {"name": 1}),
    ("/convention", GONE), ("/convention", None), ("/conventions", {"own": {"id": "own"}}), ("/site", {"soil": {"source": "x"}}),
    ("/site", {"soil": {"value": "marsh"}}), ("/site", {"gas": {"value": True}}), ("/site", {"storeys": {"value": 0}}), ("/site", {"ground_water": {"value": "deep"}}),
    ("/building", "house"), ("/building/floor/width", 0), ("/building/floor/width", True), ("/building/quantities", 28), ("/building/quantities", {"junction": -1}),
    ("/building/quantities", {"junction": "28 m"}), ("/building/quantities", {"areas": [40]}), ("/building/quantities", {"areas": {"top": -40}}), ("/materials", {}),
    ("/materials/0/id", GONE), ("/materials/0/id", ""), ("/materials/0/kind", GONE), ("/materials/0/kind", "cheese"),
    ("/materials/0/lambda/dry", 0), ("/materials/0/lambda/dry", -0.1), ("/materials/0/lambda/dry", "0.1"),
    ("/materials/0/lambda/dry", 1e6), ("/materials/0/lambda/damp", 0.2), ("/materials/0/lambda/dry", {"basis": "oven-dry"}),
    ("/materials/0/lambda/dry", {"value": 0.1, "basis": "guessed"}), ("/materials/0/lambda/dry", {"value": 0.1, "basis": "at-moisture"}),
    ("/materials/0/lambda/dry", {"value": 0.1, "moisture": {"by": "volume", "value": 1.5}}),
    ("/materials/0/lambda/dry", {"value": 0.1, "moisture": {"by": "weight", "value": 0.1}}),
    ("/materials/0/lambda/dry", {"value": 0.1, "fractile": 100}), ("/materials/1/lambda", 0), ("/materials/1/lambda", [2]),
    ("/materials/1/lambda_up", None),
    ("/materials/1", {"id": "slab", "kind": "other", "lambda": 2, "mix": [{"material": "block", "fraction": 0.5}]}),
    ("/materials/1/density", -1), ("/materials/1/assessed", "yes"), ("/materials/1/frost", 1), ("/materials/1/evidence", [{"page": 3}]),
    ("/materials/1/conversion", {"by": "mass", "coefficient": 4}),
    ("/variants", GONE), ("/variants", []), ("/variants/0/id", ""), ("/variants/0/section", GONE), ("/variants/0/section", []),
    ("/variants/0/section/cut", GONE), ("/variants/0/section/cut", [0, 0, 1]), ("/variants/0/section/cut/0", -500000.001),
    ("/variants/0/section/beyond/left", "far"), ("/variants/0/section/beyond/left", -1), ("/variants/0/section/levels/ground", "0"),
    ("/variants/0/section/levels/ground", [{"side": "left", "at": 0}, {"side": "left", "at": 1}]),
    ("/variants/0/section/levels/ground", [{"side": "top", "at": 0}]), ("/variants/0/section/levels/ground", [{"side": "left"}]),
    (IN + "/kind", "heated"), (IN + "/kind", GONE), (IN + "/kind", "other"), (IN + "/temperature", -300), (IN + "/at", [1]),
    (IN + "/at", [[1, 2, 3]]), (IN + "/at", [[0, 0], 1]), (IN + "/balance", {}), (IN + "/side", "mine"), (IN + "/surface_resistance", -1),
    (IN + "/surface_resistance", 1e-320),
    (IN + "/surface_resistance", {"up": 0.1, "down": 0.1}), (IN + "/temperature", "20"),
    (IN, {"id": "in", "kind": "unheated", "at": [-700, 600]}),
    (LEAF + "/outline", GONE), (LEAF + "/outline", [[0, 0], [1, 1]]), (LEAF + "/outline/0/0", 500000.001), (LEAF + "/outline/0/0", "0"),
    (LEAF + "/outline/0", [0]), (LEAF + "/holes", [[[0, 0]]]), (LEAF + "/holes", {}), (LEAF + "/material", GONE), (LEAF + "/cutout", True),
    (LEAF + "/space", "in"), (LEAF + "/moisture", "wet"), (LEAF + "/courses/height", 0), (LEAF + "/courses/from", GONE),
    ("/variants/0/section/pieces/0", {"id": "ground", "cutout": False, "outline": [[0, 0], [1, 0], [1, 1]]}),
    ("/variants/0/section/membranes/0/kind", "foil"), ("/variants/0/section/membranes/0/path", [[0, 0]]),
    ("/variants/0/section/membranes/0/sealed_laps", 1), ("/variants/0/section/water", {"soil": "yes"}),
    ("/variants/0/section/water", {"water_level": "high"}), ("/variants/0/section/elements", [{"id": "wall", "cut": "middle"}]),
    ("/variants/0/section/elements", [{"id": "wall", "cut": "top", "reference": {"internal": 0}}]),
    ("/variants/0/section/hidden", [{"id": "h", "path": [[0, 0], [1, 0]]}]), ("/variants/0/section/hidden", [{"id": "h", "path": [[0, 0], [1, 0]], "reason": ""}]),
    ("/variants/0/section/hidden", [{"id": "h", "path": [[0, 0]], "reason": "x"}]),
    ("/conventions", {"own": {**ISO, "id": "own", "dwelling_share": "third"}}),
    ("/variants/0/section/stretch", [{"id": "s", "line": [[0, 0], [1, 0]], "moves": "away"}]),
    ("/variants/0/section/stretch", [{"id": "s", "moves": "left"}]), ("/variants/0/section/dimensions", {}),
    ("/variants/0/section/dimensions", [{"id": "d", "from": [0, 0]}]), ("/variants/0/section/dimensions", [{"id": "d", "from": [0, 0], "to": [1, 0], "along": "z"}]),
    ("/variants/0/section/dimensions", [{"id": "", "from": [0, 0], "to": [1, 0]}]), ("/variants/0/section/texts", [{"id": "t", "text": "x"}]),
    ("/variants/0/section/texts", [{"id": "t", "at": [0, 0], "text": 1}]), ("/variants/0/section/groups", [["leaf"]]),
    ("/variants/0/section/groups", [{"id": "g", "members": [1]}]),
    ("/attachments", {"00": {"type": "image/png"}}), ("/attachments", {"00": {"data": "AAA"}}), ("/attachments", {"00": {"data": "AAAA", "name": 1}}),
    ("/variants/0/section/underlays", {}), ("/variants/0/section/underlays", [{"id": "u1", "kind": "picture"}]),
    ("/variants/0/section/underlays", [{"id": "u1", "kind": "film", "attachment": "00"}]),
    ("/variants/0/section/underlays", [{"id": "u1", "kind": "pdf", "attachment": "00", "scale": 0}]),
    ("/variants/0/section/underlays", [{"id": "u1", "kind": "pdf", "attachment": "00", "opacity": 1.5, "page": 2}]),
    ("/variants/0/section/underlays", [{"id": "u1", "kind": "dxf", "attachment": "00", "origin": [0], "locked": True}]),
    ("/conventions", {"own": {**ISO, "id": "own", "most_psi": "low"}}), ("/conventions", {"own": {**ISO, "id": "own", "least_fRsi_by_use": 0.75}}),
    ("/conventions", {"own": {**ISO, "id": "own", "least_fRsi_by_use": {"office": 2}}}),
    ("/climate", []), ("/climate", {"months": [{"outside": 1, "humidity": 0.8}] * 11}), ("/climate", {"months": [{"outside": 1, "humidity": 80}] * 12}),
    ("/climate", {"months": [{"outside": 1}] * 12}), ("/climate", {"indoor": {}}), ("/climate", {"indoor": {"class": 5}}),
    ("/climate", {"indoor": {"class": 2, "humidity": 0.5}}), ("/climate", {"indoor": {"humidity": 1.5}}), ("/climate", {"indoor": {"class": 2.5}}),
    ("/climate", {"year": {"outside_mean": 9}}), ("/climate", {"year": {"outside_mean": 9, "outside_amplitude": -1}}), ("/climate", {"year": {"outside_mean": 9, "outside_amplitude": 7, "coldest_month": 13}}),
    ("/climate", {"zone": 3}), ("/climate", {"months": [{"outside": 1, "humidity": 0.8}] * 12, "year": {"outside_mean": 9, "outside_amplitude": 7}}),
    ("/conventions", {"own": {**ISO, "id": "own", "least_fRsi_by_zone": {"cold": 2}}}),
    ("/materials/0/temperature", {"coefficient": 0.004, "from": 10}), ("/materials/0/ageing", 0.5),
    ("/variants/0/section/elements", [{"id": "wall", "cut": "top", "corrections": {"fixings": [{"layer": "leaf"}]}}]),
    ("/variants/0/section/elements", [{"id": "wall", "cut": "top", "corrections": {"air_gap_level": 1.5, "air_gap_layer": "leaf"}}]),
    ("/variants/0/section/elements", [{"id": "wall", "cut": "top", "corrections": {"air_gap_level": 1}}]),
    ("/rule_sets", []), ("/lessons", {}), ("/dwelling", 1), ("/sweeps", None), ("/issued", ""),
]

# Other ways to say a thing: both must take them.
SOUND = [
    ("/materials/0/temperature", {"coefficient": 0.004, "from": 10, "to": 20}), ("/materials/0/ageing", 1.1),
    ("/variants/0/section/elements", [{"id": "wall", "cut": "top", "corrections": {"fixings": [{"layer": "leaf", "conductivity": 17, "area": 12.5, "per_m2": 2.5, "length": 90}], "air_gap_level": 1, "air_gap_layer": "leaf"}}]),
    ("/climate", {"zone": "cold", "year": {"outside_mean": 9, "outside_amplitude": 7, "coldest_month": 1.5, "inside_amplitude": 1}}), ("/conventions", {"own": {**ISO, "id": "own", "least_fRsi_by_zone": {"cold": 0.7}}, "iso": ISO}),
    ("/climate", {}), ("/climate", {"months": [{"outside": -1, "humidity": 1, "inside": 18}] * 12, "indoor": {"class": 3}}), ("/climate", {"indoor": {"humidity": 0.5}}),
    ("/later", {"x": [None]}), ("/materials/0/later", 1), (LEAF + "/later", "x"), ("/variants/0/section/water", {"water_level": None}),
    ("/variants/0/section/water", {"water_level": -900, "soil": True}), ("/variants/0/section/levels/ground", [{"side": "right", "at": -150}]),
    ("/variants/0/section/levels/ground", []), ("/variants/0/section/levels/ground", [{"side": "right", "at": -150}, {"side": "left", "at": -150.5}]),
    (IN + "/at", [[-700, 600], [-600, 600]]), (IN + "/surface_resistance", 0), (IN + "/surface_resistance", {"up": 0.1, "horizontal": 0.1, "down": 0.2}),
    (IN + "/temperature", GONE), (IN, {"id": "in", "kind": "unheated", "at": [-700, 600], "temperature": 8}),
    (IN, {"id": "in", "kind": "other", "at": [-700, 600], "temperature": 30, "surface_resistance": 0.1}), ("/wallfoot", 1.0),
    ("/materials/1/lambda", {"dry": {"value": 2, "low": 1.9, "high": 2.1, "basis": "not-stated"}}), ("/materials/1/mix", []),
    ("/materials/3", {"id": "mixed", "kind": "other", "lambda": {}, "mix": [{"material": "block", "fraction": 1}]}),
    ("/variants/0/section/beyond/left", 0), ("/variants/0/section/beyond", GONE), (LEAF + "/moisture", "saturated"), (LEAF + "/holes", []),
    ("/site", {"drained": {"value": True}}), ("/site", {"gas": {"value": "not-needed", "source": "map"}, "wind": {"value": 3}}), ("/building", {}), ("/building/area", 0), ("/building/perimeter", "9 m"), ("/building/floor", {"edge_insulation": "50 mm all round"}), ("/building/floor", {"edge_insulation": {"direction": "vertical", "width": 600, "thickness": 50, "lambda": 0}}), ("/building/quantities", {"junction": 0, "areas": {}}), ("/building/quantities", {"areas": {"left": 35.5}, "own": 1}), ("/title", GONE), ("/variants/0/section/membranes", GONE),
    ("/variants/0/section/dimensions", [{"id": "d", "from": [0, 0], "to": [1, 0], "along": "x", "offset": -20}]), ("/variants/0/section/texts", [{"id": "t", "at": [0, 0]}]),
    ("/variants/0/section/groups", [{"id": "g", "members": ["leaf", "gone"]}]),
    ("/attachments", {"00": {"data": "AAAA"}}), ("/variants/0/section/underlays", [{"id": "u1", "kind": "dxf", "attachment": "00"}]),
]


def fail(what):
    failures.append(what)


def refuse_constant(name):
    raise ValueError(f"{name} is not JSON")


def read(text):
    return json.loads(text, parse_constant=refuse_constant)


def steps(pointer):
    return [int(step) if step.isdigit() else step for step in pointer.split("/")[1:]]


def changed(study, pointer, value):
    study = copy.deepcopy(study)
    *way, last = steps(pointer)
    place = study
    for step in way:
        place = place[step]
    if value is GONE:
        del place[last]
    elif place is study.get("materials") and last == len(place):
        place.append(value)
    else:
        place[last] = value
    return study


def related(a, b):
    """Whether one place holds the other."""
    return all(x == y for x, y in zip(a, b))


def solve(study):
    with tempfile.NamedTemporaryFile("w", suffix=".wallfoot") as file:
        json.dump(study, file)
        file.flush()
        ran = subprocess.run([program, "solve", "--tolerance", "0.1", file.name], capture_output=True, text=True)
        return ran.returncode, [line.removeprefix(file.name + ": ") for line in ran.stderr.splitlines()]


schema = read((root / "resources/schema/study.schema.json").read_text())
Draft202012Validator.check_schema(schema)
validator = Draft202012Validator(schema)

samples = sorted((root / "samples").glob("*.wallfoot"))
if len(samples) < 4:
    fail("the samples are missing")
for path in samples:
    for error in validator.iter_errors(read(path.read_text())):
        fail(f"{path.name}: {error.json_path}: {error.message}")

# What the starter details make, with every site fault.
details = json.loads(subprocess.run([program, "details", "--json"], capture_output=True, text=True).stdout)["details"]
if len(details) < 2:
    fail("the starter details are missing")
for detail in details:
    with tempfile.TemporaryDirectory() as folder:
        out = pathlib.Path(folder) / "made.wallfoot"
        faults = [word for fault in detail["switches"] for word in ("--with", fault["id"])]
        subprocess.run([program, "begin", detail["id"], *faults, "--out", str(out)])
        for error in validator.iter_errors(read(out.read_text())):
            fail(f"{detail['id']}: {error.json_path}: {error.message}")

# The studies the tests of the reader are made from; the full one has every field.
texts = dict(re.findall(r'(\w+)\(\) \{\s*static const std::string text = R"json\((.*?)\)json"', (root / "tests/unit/file/sample_study.hpp").read_text(), re.S))
small, full = read(texts["small_study"]), read(texts["full_study"])
for name, study in (("small study", small), ("full study", full)):
    for error in validator.iter_errors(study):
        fail(f"{name}: {error.json_path}: {error.message}")
if solve(small)[0] != 0:
    fail("the small study itself is not solved")

for pointer, value in BROKEN:
    said = f"{pointer} = {'nothing' if value is GONE else json.dumps(value)}"
    study = changed(small, pointer, value)
    errors = list(validator.iter_errors(study))
    if not errors:
        fail(f"the schema takes {said}")
    for error in errors:
        if not related(list(error.absolute_path), steps(pointer)):
            fail(f"the schema refuses {said} elsewhere: {error.json_path}: {error.message}")
    status, lines = solve(study)
    if status != 2:
        fail(f"the program ends with {status} for {said}: {lines}")
    elif not related(steps(lines[0].split(": ")[0]), steps(pointer)):
        fail(f"the program refuses {said} elsewhere: {lines[0]}")

for pointer, value in SOUND:
    said = f"{pointer} = {'nothing' if value is GONE else json.dumps(value)}"
    study = changed(small, pointer, value)
    for error in validator.iter_errors(study):
        fail(f"the schema refuses {said}: {error.json_path}: {error.message}")
    status, lines = solve(study)
    if status != 0:
        fail(f"the program ends with {status} for {said}: {lines}")

for failure in failures:
    print(failure)
print(f"{len(samples)} samples, {len(details)} starter details, {len(BROKEN)} broken and {len(SOUND)} sound variations, {len(failures)} failures")
sys.exit(1 if failures else 0)
