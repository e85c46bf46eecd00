// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <numeric>
#include <set>

#include "core/arrangement/conductivities.hpp"
#include "core/foot/judge.hpp"

namespace wallfoot {

namespace {

/// The membranes against gas as one net: which of its parts reach where.
struct GasNet {
    bool inside_end = false, outside_face = false;
    std::set<int> membranes;
    std::vector<Point> ends;  ///< where it ends in between, the one nearest to the outside first
};

std::vector<GasNet> gas_nets(const FootView& view, const FootSide& side) {
    const auto& edges = view.arrangement.edges;
    std::vector<int> root(view.arrangement.vertices.size());
    std::iota(root.begin(), root.end(), 0);
    const auto find = [&](int v) {
        while (root[static_cast<std::size_t>(v)] != v) v = root[static_cast<std::size_t>(v)] = root[static_cast<std::size_t>(root[static_cast<std::size_t>(v)])];
        return v;
    };
    const auto is_gas = [&](int m) { return view.section.membranes[static_cast<std::size_t>(m)].kind == MembraneKind::gas; };
    const auto within = [&](const ArrangedEdge& edge) { return view.arrangement.cut.contains(view.vertex(edge.from)) && view.arrangement.cut.contains(view.vertex(edge.to)); };
    std::map<int, int> met;  // edges of the net at a vertex
    for (const ArrangedEdge& edge : edges)
        if (within(edge) && std::any_of(edge.membranes.begin(), edge.membranes.end(), is_gas)) {
            root[static_cast<std::size_t>(find(edge.from))] = find(edge.to);
            ++met[edge.from], ++met[edge.to];
        }
    std::set<int> at_outside;
    for (const ArrangedEdge& edge : edges)
        if (view.is_air_of(edge.left, SpaceKind::outside) || view.is_air_of(edge.right, SpaceKind::outside)) at_outside.insert({edge.from, edge.to});
    const Micrometres inner_cut = side.toward > 0 ? view.arrangement.cut.left : view.arrangement.cut.right;
    std::map<int, GasNet> nets;
    for (const auto& [v, count] : met) {
        GasNet& net = nets[find(v)];
        const Point p = view.vertex(v);
        net.inside_end |= p.x == inner_cut;
        net.outside_face |= at_outside.contains(v);
        if (count == 1 && p.x != inner_cut && !at_outside.contains(v)) net.ends.push_back(p);
    }
    for (const ArrangedEdge& edge : edges)
        for (const int m : edge.membranes)
            if (is_gas(m) && met.contains(edge.from)) nets[find(edge.from)].membranes.insert(m);
    std::vector<GasNet> all;
    const auto nearer = [&](Point a, Point b) { return std::pair(std::abs(a.x - side.face), a.y) < std::pair(std::abs(b.x - side.face), b.y); };
    for (auto& [v, net] : nets) {
        std::sort(net.ends.begin(), net.ends.end(), nearer);
        all.push_back(std::move(net));
    }
    const auto first_end = [](const GasNet& net) { return net.ends.empty() ? Point{} : net.ends.front(); };
    std::sort(all.begin(), all.end(), [&](const GasNet& a, const GasNet& b) { return nearer(first_end(a), first_end(b)); });
    return all;
}

Judged gas_drawn(const FootView& view, const FootSide& side) {
    const auto nets = gas_nets(view, side);
    const Point at{side.face, side.ground};
    if (nets.empty()) return judged(Verdict::does_not_meet, "foot-gas-none", {}, at);
    for (const GasNet& net : nets) {
        if (!net.inside_end || !net.outside_face) continue;
        const bool proven = net.membranes.size() == 1 || std::all_of(net.membranes.begin(), net.membranes.end(), [&](int m) { return view.section.membranes[static_cast<std::size_t>(m)].sealed_laps.value_or(false); });
        // Never more than this: a drawing keeps no gas out.
        if (proven) return judged(Verdict::not_assessed, "foot-gas-drawn", {}, at);
        Judged one = judged(Verdict::undecided, "foot-gas-laps", {}, at);
        one.deciders.push_back({"gas/laps", {Severity::note, "foot-ask-gas-laps", {}, {}, ""}});
        return one;
    }
    const auto best = std::find_if(nets.begin(), nets.end(), [](const GasNet& net) { return net.outside_face; });
    const GasNet& net = best == nets.end() ? nets.front() : *best;
    Judged one = judged(Verdict::does_not_meet, net.outside_face ? "foot-gas-floor" : "foot-gas-outside", {}, net.ends.empty() ? at : net.ends.front());
    for (const GasNet& each : nets) one.places.insert(one.places.end(), each.ends.begin(), each.ends.end());
    return one;
}

/// Masonry and concrete that stands in the ground outside or touches soil.
std::vector<int> in_the_ground(const FootView& view) {
    std::set<int> pieces;
    for (const ArrangedEdge& edge : view.arrangement.edges)
        for (const auto& [solid, soil] : {std::pair(edge.left, edge.right), std::pair(edge.right, edge.left)})
            if (view.is_soil(soil) && (view.is_kind(solid, MaterialKind::masonry) || view.is_kind(solid, MaterialKind::concrete)))
                pieces.insert(view.arrangement.faces[static_cast<std::size_t>(solid)].piece);
    return {pieces.begin(), pieces.end()};
}

bool has_dry_value_only_when_dry(const Material& material) {
    return material.kind != MaterialKind::metal && material.kind != MaterialKind::soil && material.kind != MaterialKind::airspace && material.kind != MaterialKind::membrane;
}

}  // namespace

std::vector<Judged> judge_gas_membrane(const FootView& view, const Rule&, const Facts& facts) {
    if (view.sides().empty()) return nothing_to_judge("foot-no-ground");
    std::vector<Judged> all;
    for (const FootSide& side : view.sides())
        all.push_back(facts.at("gas") == "not-needed" ? judged(Verdict::not_assessed, "foot-gas-not-needed", {}, Point{side.face, side.ground}) : gas_drawn(view, side));
    return all;
}

std::vector<Judged> judge_sulfate(const FootView& view, const Rule& rule, const Facts& facts) {
    if (view.sides().empty()) return nothing_to_judge("foot-no-ground");
    const auto pieces = in_the_ground(view);
    if (pieces.empty()) return nothing_to_judge("foot-sulfate-nothing");
    const auto& classes = rule.lists.at("classes");
    const std::string& stated = facts.at("sulfate");
    const Args args{{"pieces", names_of(view.section, pieces)}};
    const bool asked = std::find(classes.begin(), classes.end(), stated) != classes.end();
    Judged one = asked ? judged(Verdict::undecided, "foot-sulfate-asked", args) : judged(Verdict::meets, "foot-sulfate-low", args);
    if (asked) one.deciders.push_back({"sulfate/maker", {Severity::note, "foot-ask-sulfate-maker", {{"pieces", args.at("pieces")}}, {}, ""}});
    for (const int piece : pieces) one.pieces.push_back(view.section.pieces[static_cast<std::size_t>(piece)].id);
    return {one};
}

std::vector<Judged> judge_dry_conductivity(const FootView& view, const Rule&, const Facts&) {
    std::vector<Message> ignored;  // the solver says them
    const auto lambda = conductivities(view.study, view.section, view.arrangement, ignored);
    std::map<int, Point> found;  // by piece, with a place in it
    bool any = false;
    for (std::size_t f = 0; f < view.arrangement.faces.size(); ++f) {
        const Face& face = view.arrangement.faces[f];
        const Material* material = view.material(static_cast<int>(f));
        if (!material || !has_dry_value_only_when_dry(*material) || !view.arrangement.cut.contains(face.inside)) continue;
        auto dpc = level_at(view.section.dpc, view.arrangement.cut, face.inside.x);
        for (const FootSide& side : view.sides())  // where only a membrane says it
            for (const auto& leaf : side.leaves)
                if (!dpc && leaf.dpc && static_cast<double>(face.inside.x) >= leaf.from && static_cast<double>(face.inside.x) <= leaf.to) dpc = leaf.dpc;
        const auto ground = level_at(view.section.ground, view.arrangement.cut, face.inside.x);
        if (!(dpc && face.inside.y < *dpc) && !(ground && face.inside.y < *ground)) continue;
        any = true;
        if (lambda[f].used == Condition::dry) found.try_emplace(face.piece, face.inside);
    }
    if (!any) return nothing_to_judge("foot-dry-no-level");
    if (found.empty()) return {judged(Verdict::meets, "foot-dry-none")};
    std::vector<int> pieces;
    for (const auto& [piece, at] : found) pieces.push_back(piece);
    Judged one = judged(Verdict::does_not_meet, "foot-dry", {{"pieces", names_of(view.section, pieces)}}, found.begin()->second);
    one.places.clear();
    for (const auto& [piece, at] : found) one.places.push_back(at);
    for (const int piece : pieces) one.pieces.push_back(view.section.pieces[static_cast<std::size_t>(piece)].id);
    return {one};
}

std::vector<Judged> judge_water_pressure(const FootView& view, const Rule&, const Facts& facts) {
    if (view.sides().empty()) return nothing_to_judge("foot-no-ground");
    std::optional<Micrometres> lowest;  // of what is to be kept dry: membranes, else the surface inside
    bool tanked = false;
    for (const ArrangedEdge& edge : view.arrangement.edges) {
        const Point a = view.vertex(edge.from), b = view.vertex(edge.to);
        const bool inside = view.is_air_of(edge.left, SpaceKind::inside) != view.is_air_of(edge.right, SpaceKind::inside);
        for (const int m : edge.membranes) tanked |= view.section.membranes[static_cast<std::size_t>(m)].kind == MembraneKind::tanking;
        if ((inside || !edge.membranes.empty()) && view.arrangement.cut.contains(a) && view.arrangement.cut.contains(b))
            lowest = std::min(lowest.value_or(a.y), std::min(a.y, b.y));
    }
    if (!lowest) return nothing_to_judge("foot-no-leaf");
    std::vector<Judged> all;
    for (const FootSide& side : view.sides()) {
        const double depth = std::stod(facts.at("ground_water")) * um_per_mm;
        Micrometres water = side.ground - static_cast<Micrometres>(std::llround(depth));
        // What the study states of its own water level holds whatever the fact would be.
        const bool drawn = view.section.water && (view.section.water->water_level || view.section.water->standing.value_or(false));
        if (drawn) water = view.section.water->water_level.value_or(side.ground);
        const Point at{side.face, *lowest};
        all.push_back(water <= *lowest ? judged(Verdict::meets, "foot-water-below", {}, at)
                      : tanked         ? judged(Verdict::not_assessed, "foot-water-tanked", {}, at)
                                       : judged(Verdict::does_not_meet, "foot-water-above", {{"height", in_mm_text(static_cast<double>(water - *lowest))}}, at));
    }
    return all;
}

std::vector<Judged> judge_to_specify(const FootView&, const Rule& rule, const Facts&) { return {judged(Verdict::not_assessed, "foot-specify", {{"asks", rule.asks}})}; }

}  // namespace wallfoot
