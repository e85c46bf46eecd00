// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/report/pack.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "core/arrangement/region.hpp"
#include "core/exchange/dxf.hpp"
#include "core/exchange/zip.hpp"
#include "core/file/study_file.hpp"
#include "core/study/names.hpp"
#include "core/text/refuse_faults.hpp"
#include "solver/findings/findings.hpp"
#include "solver/findings/floor_alone.hpp"
#include "solver/report/parts.hpp"

namespace wallfoot {

namespace {

using PackJson = nlohmann::ordered_json;
using report_part::say;

/// The shortest text that reads back as the same number.
std::string exact(double value) {
    char text[32];
    const auto [end, error] = std::to_chars(text, text + sizeof text, value + 0.0);
    return error == std::errc{} ? std::string(text, end) : std::string("nan");
}

/// A length as it is written, to 0.1 µm: m from µm.
std::string metres_of(double um) { return exact(std::round(um * 10) / 1e7); }

std::string quoted(const std::string& text) {
    std::string result = "\"";
    for (const char c : text) {
        if (c == '"') result += '"';
        result += c == '\n' || c == '\r' ? ' ' : c;
    }
    return result + '"';
}

std::string pack_row(const std::vector<std::string>& cells) {
    std::string row;
    for (const auto& cell : cells) row += (row.empty() ? "" : ",") + cell;
    return row + "\r\n";
}

/// A section as another program takes it in.
struct Packed {
    const Study& study;
    const Section& section;
    const Arrangement& arrangement;
    const std::vector<FaceConductivity>& conductivity;
    const std::vector<double>& temperatures;
    std::vector<SurfaceEdge> flow, check;  ///< surfaces; parallel
    bool wall_taken_out = false;           ///< the second section: its pieces bear the names of layers
};

PackJson ring_json(const Outline& ring) {
    PackJson points = PackJson::array();
    for (const Point p : ring) points.push_back({to_m(p.x), to_m(p.y)});
    return points;
}

PackJson face_json(const Packed& packed, std::size_t f) {
    const Face& face = packed.arrangement.faces[f];
    const Piece& piece = packed.section.pieces[static_cast<std::size_t>(face.piece)];
    const Material* material = packed.study.find_material(piece.filled_with);
    const FaceConductivity& here = packed.conductivity[f];
    const FaceBorder border = border_of(packed.arrangement, static_cast<int>(f));
    PackJson json{{"face", f}, {"piece", shown_name(piece)}, {"material", material ? shown_name(*material) : piece.filled_with}};
    json["lambda_x"] = here.across;
    json["lambda_y"] = here.up;
    if (!packed.wall_taken_out) json["condition"] = to_string(here.used);
    json["area"] = double(face.area2) / 2 * 1e-12;
    json["outline"] = ring_json(border.outline);
    json["holes"] = PackJson::array();
    for (const Outline& hole : border.holes) json["holes"].push_back(ring_json(hole));
    return json;
}

PackJson packed_json(const Packed& packed) {
    PackJson json{{"unit_of_length", "m"}, {"faces", PackJson::array()}, {"surfaces", PackJson::array()}, {"spaces", PackJson::array()}};
    for (std::size_t i = 0; i < packed.section.spaces.size(); ++i) {
        const Space& space = packed.section.spaces[i];
        json["spaces"].push_back({{"id", space.id}, {"kind", to_string(space.kind)}, {"temperature", packed.temperatures[i]}});
    }
    for (std::size_t f = 0; f < packed.arrangement.faces.size(); ++f) {
        const Face& face = packed.arrangement.faces[f];
        if (face.kind == FaceKind::solid && face.piece >= 0) json["faces"].push_back(face_json(packed, f));
    }
    for (std::size_t i = 0; i < packed.flow.size(); ++i) {
        const SurfaceEdge& surface = packed.flow[i];
        const ArrangedEdge& edge = packed.arrangement.edges[static_cast<std::size_t>(surface.edge)];
        const Point from = packed.arrangement.vertices[static_cast<std::size_t>(edge.from)], to = packed.arrangement.vertices[static_cast<std::size_t>(edge.to)];
        PackJson entry{{"from", {to_m(from.x), to_m(from.y)}}, {"to", {to_m(to.x), to_m(to.y)}}, {"space", packed.section.spaces[static_cast<std::size_t>(surface.space)].id},
                       {"temperature", packed.temperatures[static_cast<std::size_t>(surface.space)]}, {"face", surface.solid_face}, {"resistance", surface.resistance}};
        if (i < packed.check.size()) entry["resistance_surface_check"] = packed.check[i].resistance;
        json["surfaces"].push_back(std::move(entry));
    }
    return json;
}

std::string figure_of(const PackJson& value) { return exact(value.get<double>()); }

/// The same three lists as tables.
void add_tables(std::vector<ZipEntry>& entries, const std::string& folder, const PackJson& json) {
    std::string faces = pack_row({"face", "piece", "material", "lambda_x W/(m·K)", "lambda_y W/(m·K)", "condition", "area m²"});
    std::string corners = pack_row({"face", "ring (0 = outline, else a hole)", "corner", "x m", "y m"});
    for (const PackJson& face : json["faces"]) {
        const std::string id = std::to_string(face["face"].get<std::size_t>());
        faces += pack_row({id, quoted(face["piece"]), quoted(face["material"]), figure_of(face["lambda_x"]), figure_of(face["lambda_y"]), quoted(face.value("condition", "")), figure_of(face["area"])});
        std::size_t ring = 0;
        const auto put = [&](const PackJson& points) {
            for (std::size_t i = 0; i < points.size(); ++i)
                corners += pack_row({id, std::to_string(ring), std::to_string(i), figure_of(points[i][0]), figure_of(points[i][1])});
            ++ring;
        };
        put(face["outline"]);
        for (const PackJson& hole : face["holes"]) put(hole);
    }
    std::string surfaces = pack_row({"x1 m", "y1 m", "x2 m", "y2 m", "space", "temperature °C", "resistance m²K/W", "resistance of the surface check m²K/W"});
    for (const PackJson& s : json["surfaces"])
        surfaces += pack_row({figure_of(s["from"][0]), figure_of(s["from"][1]), figure_of(s["to"][0]), figure_of(s["to"][1]), quoted(s["space"]), figure_of(s["temperature"]),
                             figure_of(s["resistance"]), s.contains("resistance_surface_check") ? figure_of(s["resistance_surface_check"]) : ""});
    entries.push_back({folder + "faces.csv", std::move(faces)});
    entries.push_back({folder + "corners.csv", std::move(corners)});
    entries.push_back({folder + "surfaces.csv", std::move(surfaces)});
    entries.push_back({folder + "section.json", json.dump(1) + "\n"});
}

/// Points at which another program's temperatures are to be held against ours.
struct ControlPoint {
    std::array<double, 2> at{};  ///< µm
    double temperature = 0;
};

/// The coldest inside surface first, then always the middle of the edge that is furthest from all those taken.
std::vector<ControlPoint> control_points(const Findings& findings) {
    constexpr std::size_t wanted = 12;
    const Arrangement& arrangement = findings.arrangement;
    const Rect& cut = arrangement.cut;
    const auto solid = [&](int face) { return face >= 0 && arrangement.faces[static_cast<std::size_t>(face)].kind == FaceKind::solid; };
    std::vector<std::array<double, 2>> candidates;
    for (const ArrangedEdge& edge : arrangement.edges) {
        const Point a = arrangement.vertices[static_cast<std::size_t>(edge.from)], b = arrangement.vertices[static_cast<std::size_t>(edge.to)];
        if ((!solid(edge.left) && !solid(edge.right)) || !cut.contains(a) || !cut.contains(b)) continue;
        for (const double share : {0.5, 0.25, 0.75}) candidates.push_back({double(a.x) + share * double(b.x - a.x), double(a.y) + share * double(b.y - a.y)});
    }
    std::sort(candidates.begin(), candidates.end());
    candidates.erase(std::unique(candidates.begin(), candidates.end()), candidates.end());
    std::vector<ControlPoint> taken;
    const auto take = [&](const std::array<double, 2>& at) {
        if (const auto t = findings.solution->temperature_at(at[0], at[1], findings.temperatures)) taken.push_back({at, *t});
    };
    const SurfaceFinding* coldest = findings.headline_surface();
    // To the nearest 0.1 µm, as it is written: the temperature is that of the point another program is given.
    if (coldest) take({std::round(coldest->at[0] * 10) / 10, std::round(coldest->at[1] * 10) / 10});
    if (taken.empty() && !candidates.empty()) take(candidates.front());
    std::vector<double> distance(candidates.size(), 1e300);
    while (taken.size() < wanted && !taken.empty()) {
        std::size_t furthest = candidates.size();
        for (std::size_t i = 0; i < candidates.size(); ++i) {
            distance[i] = std::min(distance[i], std::hypot(candidates[i][0] - taken.back().at[0], candidates[i][1] - taken.back().at[1]));
            if (distance[i] > 0 && (furthest == candidates.size() || distance[i] > distance[furthest])) furthest = i;
        }
        if (furthest == candidates.size()) break;
        const std::size_t before = taken.size();
        take(candidates[furthest]);
        if (taken.size() == before) distance[furthest] = 0;
    }
    return taken;
}

std::string points_table(const std::vector<ControlPoint>& points) {
    std::string table = pack_row({"point", "x m", "y m", "temperature °C"});
    for (std::size_t i = 0; i < points.size(); ++i)
        table += pack_row({std::to_string(i + 1), metres_of(points[i].at[0]), metres_of(points[i].at[1]), exact(std::round(points[i].temperature * 1e4) / 1e4)});
    return table;
}

std::string results_table(const Findings& findings) {
    const auto& spaces = findings.section->spaces;
    const auto id = [&](int space) { return spaces[static_cast<std::size_t>(space)].id; };
    std::string table = pack_row({"result", "of", "value", "lower bound", "upper bound", "unit", "remark"});
    const auto put = [&](const char* what, const std::string& of, const Bracketed& value, const char* unit, const std::string& remark = "") {
        table += pack_row({what, quoted(of), exact(value.value), exact(value.lower), exact(value.upper), unit, quoted(remark)});
    };
    for (std::size_t i = 0; i < findings.heat_flow.size(); ++i) put("heat flow into the construction", id(int(i)), findings.heat_flow[i], "W/m");
    for (const Coupling& coupling : findings.couplings)
        if (coupling.value) put("L2D", id(coupling.a) + "–" + id(coupling.b), *coupling.value, "W/(m·K)");
    for (const Psi& psi : findings.psi) {
        const std::string of = id(psi.a) + "–" + id(psi.b) + (psi.lengths == LengthSystem::internal ? ", internal lengths" : ", external lengths");
        if (!psi.value) continue;
        put("psi", of, *psi.value, "W/(m·K)", psi.headline ? "the one that is told first" : "");
        for (const TakenOff& off : psi.taken_off) {
            if (off.floor_alone) put("L2D of the floor alone", of + ", " + off.element, *off.floor_alone, "W/(m·K)", "second section");
            if (off.U) table += pack_row({"U", quoted(of + ", " + off.element), exact(*off.U), "", "", "W/(m²·K)", quoted(off.method)});
            if (off.length_m) table += pack_row({"length", quoted(of + ", " + off.element), metres_of(*off.length_m * 1e6), "", "", "m", "\"\""});
        }
    }
    for (const SurfaceFinding& found : findings.surface) {
        const std::string of = id(found.space) + (found.purpose == Purpose::surface_check ? ", surface check" : ", heat flow");
        const std::string place = "at " + metres_of(found.at[0]) + " " + metres_of(found.at[1]) + " m";
        table += pack_row({"lowest surface temperature", quoted(of), exact(found.lowest), "", "", "°C", quoted(place)});
        if (found.fRsi) put("fRsi", of, {*found.fRsi, *found.fRsi - found.estimate, *found.fRsi + found.estimate}, "", "value and an estimate of its error, not a proven bound");
        if (found.mean) put("fRsi of the mean beside it", of, *found.mean, "", "over " + metres_of(found.mean_length_mm * 1000) + " m");
    }
    return table;
}

/// The JSON of the command `solve`, without what differs from run to run.
std::string findings_text(const Study& study, const std::shared_ptr<const Findings>& findings) {
    PackJson json = PackJson::parse(to_json(study, "study.wallfoot", {findings}));
    for (auto& variant : json["variants"]) variant.erase("seconds");
    return json.dump(2) + "\n";
}

void add_floor_alone(std::vector<ZipEntry>& entries, const std::string& folder, const Packed& junction, const Context& context) {
    const SectionView view{junction.study, junction.section, junction.arrangement, junction.conductivity, junction.flow, junction.temperatures};
    const auto alone = floor_alone(view, find_elements(view), FormulaVersions().of("iso10211-floor-alone"), context);
    if (!alone || !alone->refusal.empty()) return;
    const FloorAloneSection& second = *alone->used(junction.study.used_convention().floor_reading);
    const Arrangement arrangement = arrange(second.study, second.section, context);
    std::vector<Message> told;
    const auto conductivity = conductivities(second.study, second.section, arrangement, told);
    std::vector<double> temperatures;
    for (const Space& space : second.section.spaces) temperatures.push_back(space_temperature(second.study, space));
    const Packed packed{second.study, second.section, arrangement, conductivity, temperatures, surfaces(second.study, second.section, arrangement, Purpose::heat_flow), {}, true};
    add_tables(entries, folder, packed_json(packed));
}

void add_variant(std::vector<ZipEntry>& entries, const std::string& folder, const Study& study, const std::shared_ptr<const Findings>& findings, const Context& context) {
    // A temperature that a balance found stands in its place: the order of the temperatures says which resistance holds.
    Section stated = *findings->section;
    for (std::size_t i = 0; i < stated.spaces.size(); ++i) {
        stated.spaces[i].balance.reset();
        stated.spaces[i].temperature = findings->temperatures[i];
    }
    Packed packed{study, stated, findings->arrangement, findings->conductivity, findings->temperatures, surfaces(study, stated, findings->arrangement, Purpose::heat_flow), {}, false};
    if (study.used_convention().surface_check) packed.check = surfaces(study, stated, findings->arrangement, Purpose::surface_check);
    add_tables(entries, folder + "junction/", packed_json(packed));
    add_floor_alone(entries, folder + "floor alone/", packed, context);
    const auto points = control_points(*findings);
    entries.push_back({folder + "points.csv", points_table(points)});
    entries.push_back({folder + "results.csv", results_table(*findings)});
    entries.push_back({folder + "findings.json", findings_text(study, findings)});
    const Drawing drawing = plain_drawing(*findings->section);
    entries.push_back({folder + "drawing.dxf", dxf_text(drawing)});
    entries.push_back({folder + "drawing.svg", svg_text(drawing)});
}

std::string readme(const Study& study, const std::vector<std::shared_ptr<const Findings>>& all) {
    std::string variants;
    for (std::size_t i = 0; i < all.size(); ++i)
        variants += "  variant-" + std::to_string(i + 1) + "/  " + all[i]->variant_name + " (" + all[i]->variant_id + "), " + all[i]->input_hash + "\n";
    return say("pack-readme", {{"title", study.title.empty() ? "–" : study.title}, {"variants", variants}});
}

}  // namespace

Pack make_pack(const Study& study, const std::vector<const Variant*>& variants, const Context& context) {
    Pack pack;
    std::vector<ZipEntry> entries;
    for (std::size_t i = 0; i < variants.size(); ++i) {
        context.report(double(i) / double(variants.size()));
        FindingsOptions options;
        options.floor_widths = true;
        const auto findings = find(study, *variants[i], options, context);
        refuse_faults(findings->messages);
        context.check();
        pack.converged = pack.converged && findings->converged;
        add_variant(entries, "variant-" + std::to_string(i + 1) + "/", study, findings, context);
        pack.findings.push_back(findings);
    }
    entries.insert(entries.begin(), {{"README.txt", readme(study, pack.findings)}, {"study.wallfoot", write_study(study)}});
    pack.bytes = zip_bytes(entries);
    context.report(1);
    return pack;
}

}  // namespace wallfoot
