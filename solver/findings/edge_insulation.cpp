// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/edge_insulation.hpp"

#include <algorithm>
#include <cmath>

#include "core/file/quantities.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/seen_box.hpp"

namespace wallfoot {

namespace {

constexpr double nearly_a_rectangle = 0.9;
constexpr Micrometres least_width = 100'000;        // less is a detail of the wall or the floor itself
constexpr Micrometres before_the_wall = 300'000;    // a board in the ground lies no further out
constexpr Micrometres touching = 1000;
constexpr Micrometres from_the_edge = 50'000;       // a level strip that begins further in insulates no edge (common practice, no source)
constexpr double about = 0.1;                       // share by which D and R of one strip may differ as stated and as drawn

/// The planes of a floor, with x counted from the internal face plane outwards, whichever side the room lies on.
struct EdgeFrame {
    Micrometres internal = 0, wall = 0, ground = 0, floor = 0;
    double outwards = 1;
    Micrometres from_plane(Micrometres x) const { return outwards > 0 ? x - internal : internal - x; }
};

std::optional<iso13370::EdgeInsulation> as_edge(const EdgeFrame& frame, const SeenBox& seen, Micrometres inner_side, const FaceConductivity& lambda) {
    const Micrometres one = frame.from_plane(seen.box.left), other = frame.from_plane(seen.box.right);
    const Micrometres near = std::min(one, other), far = std::max(one, other);
    iso13370::EdgeInsulation edge{.thickness_m = to_m(seen.thickness()), .conductivity = seen.upright() ? lambda.across : lambda.up, .vertical = seen.upright()};
    Micrometres width = 0;
    if (seen.upright()) {
        if (near < -touching || far > frame.wall + before_the_wall) return std::nullopt;
        width = frame.ground - seen.box.bottom;
    } else {
        const bool across = frame.from_plane(inner_side) >= near;
        if (across || far < -from_the_edge || far > frame.wall + touching || seen.box.top > frame.floor) return std::nullopt;
        width = -near;
    }
    if (width < least_width) return std::nullopt;
    edge.width_m = to_m(width);
    return edge;
}

/// Whether a strip as stated and one as drawn are the same thing.
bool much_alike(const iso13370::EdgeInsulation& stated, const iso13370::EdgeInsulation& drawn) {
    const auto near = [](double a, double b) { return std::abs(a - b) <= about * std::max(a, b); };
    return stated.vertical == drawn.vertical && near(stated.width_m, drawn.width_m) && near(stated.thickness_m / stated.conductivity, drawn.thickness_m / drawn.conductivity);
}

/// Of strips that are drawn the one that saves most; where all lie outside the formulas the first, which is told where it is used.
std::optional<FloorEdge> saves_most(const FloorByStandard& by, const std::vector<FloorEdge>& drawn) {
    std::optional<FloorEdge> best;
    double least = 0;
    for (const FloorEdge& strip : drawn) {
        try {
            const double psi = edge_effect(by, strip.edge).psi;
            if (!best || psi < least) best = strip, least = psi;
        } catch (const OutsideStandard&) {
        }
    }
    return best || drawn.empty() ? best : std::optional(drawn.front());
}

}  // namespace

EdgeEffect edge_effect(const FloorByStandard& floor, const iso13370::EdgeInsulation& edge) {
    EdgeEffect effect;
    effect.added_thickness = iso13370::additional_equivalent_thickness(edge, floor.soil);
    effect.psi = iso13370::edge_psi(edge, floor.equivalent_thickness, floor.soil);
    effect.U = iso13370::slab_transmittance_with_edge(floor.U, effect.psi, floor.B);
    return effect;
}

std::optional<FloorEdge> floor_edge(const SectionView& view, const FoundElement& floor, const FloorAlone& alone, const FloorByStandard& by) {
    const bool inside_left = floor.element.side == CutSide::left;
    const Rect& outline = view.arrangement.frame;
    const EdgeFrame frame{.internal = alone.internal_face, .wall = std::abs(alone.outer_face - alone.internal_face), .ground = alone.ground_level, .floor = alone.floor_level, .outwards = inside_left ? 1.0 : -1.0};
    std::vector<FloorEdge> drawn;
    const auto boxes = seen_boxes(view.section, view.arrangement);
    for (std::size_t f = 0; f < view.arrangement.faces.size(); ++f) {
        const Face& face = view.arrangement.faces[f];
        if (face.kind != FaceKind::solid || face.piece < 0) continue;
        const auto piece = static_cast<std::size_t>(face.piece);
        const Material* material = view.study.find_material(view.section.pieces[piece].filled_with);
        if (!material || material->kind != MaterialKind::insulation || !boxes[piece] || boxes[piece]->filled < nearly_a_rectangle) continue;
        const bool layer = std::any_of(floor.met.begin(), floor.met.end(), [&](const MetFace& met) { return view.arrangement.faces[static_cast<std::size_t>(met.face)].piece == face.piece; });
        if (layer) continue;
        if (const auto edge = as_edge(frame, *boxes[piece], inside_left ? outline.left : outline.right, view.conductivity[f])) drawn.push_back({*edge, view.section.pieces[piece].id, true});
    }
    const auto stated = stated_floor_edge(view.study);
    if (!stated) return saves_most(by, drawn);
    FloorEdge edge{.edge = {stated->thickness_m, stated->conductivity, stated->width_m, stated->vertical}};
    edge.drawn = std::any_of(drawn.begin(), drawn.end(), [&](const FloorEdge& strip) { return much_alike(edge.edge, strip.edge); });
    if (!edge.drawn && !drawn.empty()) edge.other = saves_most(by, drawn)->piece;
    return edge;
}

std::optional<Derivation> derive_floor_edge(const SectionView& view, const Psi& psi, const FloorByStandard& floor, const FloorEdge& edge, std::vector<Message>& messages) {
    EdgeEffect effect;
    try {
        effect = edge_effect(floor, edge.edge);
    } catch (const OutsideStandard& outside) {
        messages.push_back({Severity::caution, "floor-edge-outside", {{"why", english(Message{Severity::caution, outside.code(), outside.args(), {}, {}})}}, {}, {}});
        return std::nullopt;
    }
    const std::string pair = view.section.spaces[static_cast<std::size_t>(psi.a)].id + "–" + view.section.spaces[static_cast<std::size_t>(psi.b)].id;
    const std::string from = edge.piece.empty() ? "the study" : "the drawing, piece " + edge.piece;
    Derivation derivation{.of = "floor of psi " + pair + " by ISO 13370, with insulation along its edge",
                          .formula = "d′ = (R_n − d_n/λ)·λ, R_n = d_n/λ_n; ψ_ge = −(λ/π)·[ln(D/d_f + 1) − ln(D/(d_f + d′) + 1)]" + std::string(edge.edge.vertical ? " with 2·D for D, as it is upright" : "") +
                                     "; U = U_floor + 2·ψ_ge/B; for λ_n < λ and −ψ_ge ≤ 0.5·U_floor·B (ISO 13370:2017, annex B; from memory, to be confirmed in the standard)",
                          .inputs = {}, .notes = {}, .id = "iso13370-edge"};
    const auto put = [&](const std::string& name, double value, const char* unit, const std::string& source) { derivation.inputs.push_back({name, value, unit, source}); };
    put(edge.edge.vertical ? "D, depth below ground" : "D, width under the floor", edge.edge.width_m, "m", from);
    put("d_n", edge.edge.thickness_m, "m", from);
    put("λ_n", edge.edge.conductivity, "W/(m·K)", from);
    put("R_n", edge.edge.thickness_m / edge.edge.conductivity, "m²K/W", "computed");
    put("λ, soil", floor.soil, "W/(m·K)", "the drawing");
    put("B, of a strip as wide as the floor", floor.B, "m", "the study");
    put("d_f", floor.equivalent_thickness, "m", "derivation of psi with the floor by ISO 13370");
    put("d′", effect.added_thickness, "m", "computed");
    put("ψ_ge", effect.psi, "W/(m·K)", "computed");
    put("U_floor, without the strip", floor.U, "W/(m²·K)", "derivation of psi with the floor by ISO 13370");
    put("U, with the strip", effect.U, "W/(m²·K)", "computed");
    if (psi.by_iso13370 && edge.other.empty()) {
        put("psi with U_floor", psi.by_iso13370->value, "W/(m·K)", "derivation of psi with the floor by ISO 13370");
        if (edge.drawn) {
            put("l_floor, internal", floor.length, "m", "the drawing");
            put("psi with U = psi with U_floor − (U − U_floor)·l_floor", psi.by_iso13370->value - (effect.U - floor.U) * floor.length, "W/(m·K)", "computed");
        }
    }
    derivation.notes.push_back(!edge.other.empty() ? "The drawing has another strip than the study states: psi has what that one saves, and goes with no U here. Draw the stated one, or state the drawn one."
                               : edge.drawn ? "The section contains the strip: psi with U_floor already has what it saves. Enter that pair, or U with psi with U; U with psi with U_floor counts it twice."
                                          : "The section does not contain the strip, so psi does not know it: enter U with psi with U_floor.");
    const std::string& seen = edge.other.empty() ? edge.piece : edge.other;
    std::optional<Point> at;
    for (const Piece& piece : view.section.pieces)
        if (!seen.empty() && piece.id == seen) at = piece.outline.front();
    const Severity severity = edge.other.empty() ? Severity::note : Severity::caution;
    const char* code = !edge.other.empty() ? "floor-edge-other" : edge.piece.empty() ? "floor-edge-stated" : "floor-edge-drawn";
    messages.push_back({severity, code, {{"piece", seen}, {"U", fixed(effect.U, 3)}, {"without", fixed(floor.U, 3)}, {"psi", fixed(effect.psi, 3)}}, at, {}});
    return derivation;
}

}  // namespace wallfoot
