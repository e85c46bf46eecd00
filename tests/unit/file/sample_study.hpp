// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

namespace wallfoot::test {

/// A plain, sound study: a wall foot on a slab, soil below.
inline const std::string& small_study() {
    static const std::string text = R"json({
  "wallfoot": 1, "title": "Foot of a wall", "convention": "iso",
  "building": { "floor": { "width": 8000 } },
  "materials": [
    { "id": "block", "name": "Light block", "kind": "masonry", "lambda": { "dry": 0.145, "below-ground": 0.24 } },
    { "id": "slab", "kind": "concrete", "lambda": 2.0 },
    { "id": "clay", "kind": "soil", "lambda": 1.5 } ],
  "variants": [ { "id": "v1", "name": "Base", "section": {
    "cut": [-1500, -1200, 900, 1500],
    "beyond": { "left": 4000, "right": "auto", "bottom": "auto" },
    "levels": { "floor": 0, "ground": -150, "dpc": 0 },
    "spaces": [
      { "id": "in", "kind": "inside", "at": [-700, 600], "temperature": 20, "side": "own" },
      { "id": "out", "kind": "outside", "at": [[700, 600]], "temperature": 0 } ],
    "pieces": [
      { "id": "ground", "material": "clay", "outline": [[-1500,-1200],[900,-1200],[900,-150],[-1500,-150]] },
      { "id": "floor", "material": "slab", "outline": [[-1500,-150],[0,-150],[0,0],[-1500,0]] },
      { "id": "leaf", "name": "Wall", "material": "block", "moisture": "auto",
        "outline": [[0,-600],[100.5,-600],[100.5,1500],[0,1500]], "courses": { "from": 0, "height": 225 } } ],
    "membranes": [ { "id": "dpc1", "kind": "dpc", "path": [[0,0],[100.5,0]], "sealed_laps": true } ]
  } } ]
})json";
    return text;
}

/// Every field of the format at least once.
inline const std::string& full_study() {
    static const std::string text = R"json({
  "wallfoot": 1, "title": "Every field", "notes": "two\nlines, \"quoted\", \u00e4\u0007",
  "project": { "name": "Mill Row", "plot": "7", "drawing": "D-1", "revision": "B", "junction": "foot", "author": "A", "checker": "C", "date": "2031-01-02", "enquiry": "E-12", "contact": "desk" },
  "convention": "own",
  "conventions": { "own": { "id": "own", "name": "Own rules", "version": 3,
    "heat_flow": { "inside": { "up": 0.1, "horizontal": 0.13, "down": 0.17 }, "outside": 0.04, "source": "s" },
    "surface_check": { "inside": { "up": 0.25, "horizontal": 0.25, "down": 0.25 }, "outside": 0.04 },
    "inside_temperature": 20.5, "outside_temperature": -5, "floor_width": 8000.125, "inside_distance": 0.5,
    "outside_distance": 2.5, "depth": 2.5, "least_distance": 1000, "thickness_factor": 3, "lengths": "external",
    "floor_reading": "to-ground", "least_fRsi": 0.7, "least_fRsi_by_use": { "office": 0.5 }, "least_fRsi_by_zone": { "cold": 0.7 }, "most_psi": 0.01, "sources": ["one", "two"] } },
  "rule_sets": { "own": { "limits": [1, 2.50, 1e2], "nested": [{ "b": 1, "a": [] }] } },
  "climate": { "name": "Invented valley", "source": "made up", "zone": "cold", "months": [
      { "outside": -1.5, "humidity": 0.9, "inside": 19 }, { "outside": 0, "humidity": 0.88 }, { "outside": 3.5, "humidity": 0.8 },
      { "outside": 8, "humidity": 0.75 }, { "outside": 12, "humidity": 0.72 }, { "outside": 15, "humidity": 0.7 }, { "outside": 17, "humidity": 0.7 },
      { "outside": 16.5, "humidity": 0.72 }, { "outside": 13, "humidity": 0.78 }, { "outside": 8.5, "humidity": 0.84 }, { "outside": 3, "humidity": 0.9 },
      { "outside": 0, "humidity": 1 } ], "indoor": { "humidity": 0.5, "margin": 0 } },
  "site": { "soil": { "value": "clay", "source": "trial pit" }, "drained": { "value": true, "source": "" }, "ground_water": { "value": 1200 } },
  "building": { "floor": { "width": 7500.5, "kind": "slab", "edge_insulation": { "direction": "vertical", "width": 600, "thickness": 50, "lambda": 0.034 } }, "area": 60, "perimeter": 32, "use": "dwelling", "storeys": 2, "quantities": { "junction": 28.5, "areas": { "top": 40, "left": 0 }, "by": "own" } },
  "materials": [
    { "id": "ab", "name": "Aerated block", "kind": "masonry",
      "lambda": { "dry": { "value": 0.145, "basis": "oven-dry", "fractile": 50, "source": "sheet", "low": 0.135, "high": 0.155 },
                  "protected": { "value": 0.15, "basis": "at-moisture", "moisture": { "by": "mass", "value": 0.03 } },
                  "exposed": 0.17, "below-dpc": { "value": 0.18, "basis": "measured" }, "below-ground": 0.24, "saturated": 0.4 },
      "lambda_up": { "dry": 0.15 }, "conversion": { "by": "mass", "coefficient": 4, "valid_to": 0.25 },
      "temperature": { "coefficient": 0.004, "from": 10, "to": 20 }, "ageing": 1.05, "density": 450, "heat_capacity": 1000, "strength": 3.5, "frost": "F1", "aggregate": "ash", "assessed": false,
      "capillary": true, "sorptivity": 0.5, "evidence": [ { "document": "d", "date": "2030-05", "page": "3", "seen_by": "B" } ] },
    { "id": "mortar", "kind": "mortar", "lambda": 0.88, "lambda_up": 0.9 },
    { "id": "mixed", "kind": "other", "mix": [ { "material": "mortar", "fraction": 0.15 }, { "material": "ab", "fraction": 0.85 } ] },
    { "id": "c", "kind": "concrete", "lambda": 2 }, { "id": "r", "kind": "render", "lambda": 1 },
    { "id": "i", "kind": "insulation", "lambda": 0.03 }, { "id": "t", "kind": "timber", "lambda": 0.13 },
    { "id": "m", "kind": "metal", "lambda": 50 }, { "id": "s", "kind": "soil", "lambda": 1.5 },
    { "id": "g", "kind": "granular", "lambda": 2 }, { "id": "a", "kind": "airspace" }, { "id": "f", "kind": "membrane", "lambda": 0.2 } ],
  "variants": [ { "id": "v1", "name": "Base", "note": "first", "section": {
      "cut": [-1500, -1200, 900, 1500], "beyond": { "left": 4000, "bottom": "auto", "right": 0.001, "top": 12.5 },
      "levels": { "floor": 0, "ground": [ { "side": "left", "at": -150 }, { "side": "right", "at": -150.25 } ], "dpc": [ { "side": "right", "at": 5 } ] },
      "spaces": [
        { "id": "in", "kind": "inside", "name": "Room", "at": [-700, 600], "temperature": 20, "side": "own" },
        { "id": "out", "kind": "outside", "at": [[700, 600]] },
        { "id": "void", "kind": "unheated", "at": [[1, 2], [3, 4]], "balance": { "air_changes": 0.5 }, "surface_resistance": { "up": 0.1, "horizontal": 0.13, "down": 0.17 } },
        { "id": "cellar", "kind": "unheated", "temperature": 8, "side": "common" },
        { "id": "duct", "kind": "other", "temperature": 40, "surface_resistance": 0, "side": "neighbour" } ],
      "pieces": [
        { "id": "leaf", "name": "Leaf", "material": "ab", "moisture": "below-dpc", "outline": [[0,0],[100.125,0],[100.125,1500],[0,1500]],
          "holes": [[[10,10],[20,10],[20,20.5]]], "courses": { "from": 0, "height": 225 } },
        { "id": "p2", "space": "duct", "outline": [[-10,-10],[-20,-10],[-20,-20]] },
        { "id": "p3", "cutout": true, "outline": [[-110,-10],[-120,-10],[-120,-20]] } ],
      "membranes": [ { "id": "m1", "kind": "dpc", "path": [[0,0],[100,0]], "sealed_laps": true }, { "id": "m2", "kind": "dpm", "path": [[0,0],[100,0]] },
        { "id": "m3", "kind": "tanking", "path": [[0,0],[100,0]] }, { "id": "m4", "kind": "gas", "path": [[0,0],[100,0]] }, { "id": "m5", "kind": "tray", "path": [[0,0],[100,0]], "sealed_laps": false } ],
      "water": { "soil": true, "standing": false, "rain": true, "cavity_foot": true, "water_level": -900 },
      "elements": [ { "id": "wall", "cut": "top", "reference": { "internal": [0,0], "external": [100, -150] },
        "corrections": { "fixings": [ { "layer": "leaf", "conductivity": 17, "area": 12.5, "per_m2": 2.5, "length": 90.5, "empty_cavity": true } ], "air_gap_level": 1, "air_gap_layer": "leaf" } } ],
      "hidden": [ { "id": "skirting", "path": [[0,0],[0,90]], "reason": "behind the skirting" } ],
      "stretch": [ { "id": "ins", "name": "Insulation", "line": [[0,0],[0,10]], "moves": "left", "measure": [[0,0],[5,0]], "min": 0, "max": 400 } ],
      "dimensions": [ { "id": "d1", "from": [0, 0], "to": [1, 0] }, { "id": "d2", "from": [0, 0], "to": [100.125, 7], "along": "x", "offset": -40, "text": "clear" } ],
      "texts": [ { "id": "t1", "at": [0, 0], "text": "x" } ], "groups": [ { "id": "g1", "name": "Foot", "members": ["leaf", "p2"] } ],
      "underlays": [
        { "id": "u1", "attachment": "709e80c88487a2411e1ee4dfb9f22a861492d20c4765150c0c794abd70f8147c", "kind": "picture", "origin": [-200.5, 10], "scale": 0.75,
          "rotation": 90.5, "mirrored": true, "opacity": 0.25, "locked": false, "visible": false, "not_to_scale": true },
        { "id": "u2", "attachment": "709e80c88487a2411e1ee4dfb9f22a861492d20c4765150c0c794abd70f8147c", "kind": "pdf", "page": 3, "origin": [0, 0], "scale": 3.5277,
          "opacity": 1, "locked": true, "visible": true } ] } },
    { "id": "v2", "section": { "cut": [0, 0, 1, 1], "pieces": [], "spaces": [] } } ],
  "attachments": { "709e80c88487a2411e1ee4dfb9f22a861492d20c4765150c0c794abd70f8147c": { "type": "image/png", "name": "scan", "data": "AAAA" } },
  "lessons": [ { "title": "t" } ], "dwelling": { "units": 1 }, "sweeps": [ { "rows": [1, 2] } ], "issued": [ { "date": "2031-01-03" } ]
})json";
    return text;
}

}  // namespace wallfoot::test
