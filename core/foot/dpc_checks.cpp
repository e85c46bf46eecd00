// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <set>

#include "core/foot/judge.hpp"
#include "core/water/capillary.hpp"

namespace wallfoot {

namespace {

double length(Point a, Point b) { return std::hypot(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y)); }
Point middle_of(Point a, Point b) { return {(a.x + b.x) / 2, (a.y + b.y) / 2}; }
Point at_leaf(const WallLeaf& leaf, Micrometres y) { return {static_cast<Micrometres>(std::llround((leaf.from + leaf.to) / 2)), y}; }

std::string name_of_leaf(const FootView& view, const WallLeaf& leaf) { return names_of(view.section, leaf.pieces); }

/// With the pieces of the leaf it speaks of.
Judged of_leaf(const FootView& view, const WallLeaf& leaf, Judged one) {
    for (const int piece : leaf.pieces) one.pieces.push_back(view.section.pieces[static_cast<std::size_t>(piece)].id);
    return one;
}

/// Parts of the water's way about one leaf: below its damp-proof course, above it, and those that it fails to divide.
struct AboutLeaf {
    std::set<int> above, below, across;
};

AboutLeaf about(const FootView& view, const WallLeaf& leaf) {
    AboutLeaf parts;
    for (std::size_t p = 0; p < view.way.net.parts.size(); ++p) {
        const WaterPart& part = view.way.net.parts[p];
        const double x = static_cast<double>(part.inside.x);
        if (x < leaf.from || x > leaf.to || view.is_soil(part.face)) continue;
        const bool of_leaf = std::binary_search(leaf.pieces.begin(), leaf.pieces.end(), part.piece) || view.is_kind(part.face, MaterialKind::masonry);
        // Noding may move a corner by a grid step.
        if (part.bottom >= *leaf.dpc - 1) parts.above.insert(static_cast<int>(p));
        else if (part.top <= *leaf.dpc + 1) parts.below.insert(static_cast<int>(p));
        else if (of_leaf) parts.across.insert(static_cast<int>(p));
    }
    return parts;
}

/// Where water could rise through the leaf itself at its damp-proof course.
std::optional<Point> break_in(const FootView& view, const WallLeaf& leaf, const AboutLeaf& parts) {
    if (!parts.across.empty()) return at_leaf(leaf, *leaf.dpc);
    for (const WaterLink& link : view.way.net.links) {
        const ArrangedEdge& edge = view.arrangement.edges[static_cast<std::size_t>(link.edge)];
        const Point a = view.vertex(edge.from), b = view.vertex(edge.to);
        const bool here = std::abs(a.y - *leaf.dpc) <= 1 && std::abs(b.y - *leaf.dpc) <= 1;
        if (!link.blocked && here && (parts.above.contains(link.a) || parts.above.contains(link.b))) return middle_of(a, b);
    }
    return std::nullopt;
}

bool is_floor_membrane(MembraneKind kind) { return kind == MembraneKind::dpm || kind == MembraneKind::gas || kind == MembraneKind::tanking; }

/// How two membranes meet, inside the cut.
struct Meeting {
    double overlap = 0;  ///< µm of edges that carry both
    bool touch = false;
};

Meeting meeting(const FootView& view, int first, int second) {
    Meeting found;
    std::set<int> ends;
    const auto carries = [](const ArrangedEdge& edge, int m) { return std::find(edge.membranes.begin(), edge.membranes.end(), m) != edge.membranes.end(); };
    for (const ArrangedEdge& edge : view.arrangement.edges) {
        const Point a = view.vertex(edge.from), b = view.vertex(edge.to);
        if (!view.arrangement.cut.contains(a) || !view.arrangement.cut.contains(b)) continue;
        if (carries(edge, first)) ends.insert({edge.from, edge.to});
        if (!carries(edge, first) || !carries(edge, second)) continue;
        found.overlap += length(a, b);
    }
    for (const ArrangedEdge& edge : view.arrangement.edges)
        for (const int v : {edge.from, edge.to})
            found.touch |= carries(edge, second) && ends.contains(v);
    return found;
}

bool says_sealed(const Membrane& a, const Membrane& b) { return a.sealed_laps.value_or(true) && b.sealed_laps.value_or(true) && (a.sealed_laps || b.sealed_laps); }

/// The floor membrane at the innermost leaf of a side.
Judged link_to_floor(const FootView& view, const WallLeaf& leaf, double least) {
    const auto& membranes = view.section.membranes;
    std::vector<int> floor;
    for (std::size_t m = 0; m < membranes.size(); ++m)
        if (is_floor_membrane(membranes[m].kind)) floor.push_back(static_cast<int>(m));
    const Point at = at_leaf(leaf, *leaf.dpc);
    if (floor.empty()) return judged(Verdict::not_assessed, "foot-link-none", {}, at);
    for (const int m : floor)
        if (std::find(leaf.membranes.begin(), leaf.membranes.end(), m) != leaf.membranes.end() && leaf.membranes.size() == 1)
            return judged(Verdict::meets, "foot-link-one", {{"membrane", membranes[static_cast<std::size_t>(m)].id}}, at);
    std::optional<Judged> best;
    for (const int d : leaf.membranes)
        for (const int f : floor) {
            if (d == f) continue;
            const Membrane &dpc = membranes[static_cast<std::size_t>(d)], &dpm = membranes[static_cast<std::size_t>(f)];
            const Meeting met = meeting(view, d, f);
            const Args args{{"dpc", dpc.id}, {"dpm", dpm.id}, {"lap", in_mm_text(met.overlap)}, {"least", in_mm_text(least)}};
            Judged one = met.overlap >= least - 1e-6       ? judged(Verdict::meets, "foot-link-lapped", args, at)
                         : !met.touch                      ? judged(Verdict::does_not_meet, "foot-link-apart", args, at)
                         : says_sealed(dpc, dpm)           ? judged(Verdict::meets, "foot-link-sealed", args, at)
                         : met.overlap > 0                 ? judged(Verdict::does_not_meet, "foot-link-short", args, at)
                                                           : judged(Verdict::does_not_meet, "foot-link-touching", args, at);
            // Where one of several membranes is linked, the floor is.
            if (!best || one.verdict == Verdict::meets || (best->verdict != Verdict::meets && met.touch)) best = std::move(one);
        }
    return best.value_or(judged(Verdict::does_not_meet, "foot-link-no-dpc", {{"leaf", name_of_leaf(view, leaf)}}, at));
}

/// Laps between the membranes that make up the damp-proof course of one leaf.
std::optional<Judged> short_lap(const FootView& view, const WallLeaf& leaf, double least) {
    const auto& membranes = view.section.membranes;
    for (const int a : leaf.membranes)
        for (const int b : leaf.membranes) {
            const Membrane &first = membranes[static_cast<std::size_t>(a)], &second = membranes[static_cast<std::size_t>(b)];
            if (a >= b || is_floor_membrane(first.kind) || is_floor_membrane(second.kind)) continue;
            const Meeting met = meeting(view, a, b);
            if (!met.touch || met.overlap >= least - 1e-6 || says_sealed(first, second)) continue;
            return judged(Verdict::does_not_meet, "foot-dpc-lap-short",
                          {{"first", first.id}, {"second", second.id}, {"lap", in_mm_text(met.overlap)}, {"least", in_mm_text(least)}}, at_leaf(leaf, *leaf.dpc));
        }
    return std::nullopt;
}

Decider level_asked() { return {"level/dpc", {Severity::note, "foot-ask-dpc", {}, {}, ""}}; }

}  // namespace

std::vector<Judged> judge_dpc_height(const FootView& view, const Rule& rule, const Facts&) {
    if (view.sides().empty()) return nothing_to_judge("foot-no-ground");
    const Micrometres least = from_mm(rule.numbers.at("least"));
    std::vector<Judged> all;
    for (const FootSide& side : view.sides()) {
        if (side.leaves.empty()) {
            all.push_back(judged(Verdict::not_assessed, "foot-no-leaf", {}, Point{side.face, side.ground}));
            continue;
        }
        const WallLeaf& leaf = side.leaves.front();
        Args args{{"leaf", name_of_leaf(view, leaf)}, {"least", in_mm_text(static_cast<double>(least))}};
        if (!leaf.dpc) {
            all.push_back(judged(Verdict::undecided, "foot-dpc-height-unknown", args, Point{side.face, side.ground}));
            all.back().deciders.push_back(level_asked());
            continue;
        }
        const Micrometres height = *leaf.dpc - side.ground;
        args["height"] = in_mm_text(static_cast<double>(height));
        args["depth"] = in_mm_text(static_cast<double>(-height));
        args["missing"] = in_mm_text(static_cast<double>(least - height));
        const bool meets = height >= least;
        Judged one = judged(meets ? Verdict::meets : Verdict::does_not_meet, meets ? "foot-dpc-height-meets" : height < 0 ? "foot-dpc-height-below" : "foot-dpc-height-low", args, at_leaf(leaf, *leaf.dpc));
        one.places.push_back({side.face, side.ground});
        if (!leaf.dpc_drawn) one.told.push_back({Severity::note, "foot-dpc-height-by-level", {}, {}, ""});
        if (side.stated && side.ground > *side.stated)
            one.told.push_back({Severity::note, "foot-ground-drawn-higher", {{"by", in_mm_text(static_cast<double>(side.ground - *side.stated))}}, Point{side.face, side.ground}, ""});
        all.push_back(of_leaf(view, leaf, std::move(one)));
    }
    return all;
}

std::vector<Judged> judge_dpc_continuity(const FootView& view, const Rule& rule, const Facts&) {
    if (view.sides().empty()) return nothing_to_judge("foot-no-ground");
    const double least = rule.numbers.at("lap") * um_per_mm;
    std::vector<Judged> all;
    for (const FootSide& side : view.sides()) {
        if (side.leaves.empty()) all.push_back(judged(Verdict::not_assessed, "foot-no-leaf", {}, Point{side.face, side.ground}));
        for (const WallLeaf& leaf : side.leaves) {
            const Args args{{"leaf", name_of_leaf(view, leaf)}};
            if (!leaf.dpc_drawn) {
                all.push_back(of_leaf(view, leaf, judged(Verdict::does_not_meet, "foot-dpc-none", args, at_leaf(leaf, leaf.dpc.value_or(side.ground)))));
                continue;
            }
            const auto broken = break_in(view, leaf, about(view, leaf));
            const auto lap = short_lap(view, leaf, least);
            all.push_back(of_leaf(view, leaf, broken ? judged(Verdict::does_not_meet, "foot-dpc-broken", args, *broken)
                                              : lap  ? *lap
                                                     : judged(Verdict::meets, "foot-dpc-whole", args, at_leaf(leaf, *leaf.dpc))));
        }
        if (!side.leaves.empty() && side.leaves.back().dpc_drawn) all.push_back(link_to_floor(view, side.leaves.back(), least));
    }
    return all;
}

std::vector<Judged> judge_dpc_bridging(const FootView& view, const Rule&, const Facts&) {
    if (view.sides().empty()) return nothing_to_judge("foot-no-ground");
    const WaterNet& net = view.way.net;
    std::vector<std::vector<const WaterLink*>> open(net.parts.size());
    for (const WaterLink& link : net.links)
        if (!link.blocked) open[static_cast<std::size_t>(link.a)].push_back(&link), open[static_cast<std::size_t>(link.b)].push_back(&link);
    std::vector<Judged> all;
    for (const FootSide& side : view.sides())
        for (const WallLeaf& leaf : side.leaves) {
            const Args args{{"leaf", name_of_leaf(view, leaf)}};
            if (!leaf.dpc) {
                all.push_back(judged(Verdict::undecided, "foot-bridging-unknown", args, at_leaf(leaf, side.ground)));
                all.back().deciders.push_back(level_asked());
                continue;
            }
            if (!leaf.dpc_drawn) {
                all.push_back(judged(Verdict::not_assessed, "foot-bridging-no-dpc", args, at_leaf(leaf, *leaf.dpc)));
                continue;
            }
            const AboutLeaf parts = about(view, leaf);
            // From what is damp below, through what is no leaf, to what should be dry above.
            std::vector<int> waiting(parts.below.begin(), parts.below.end());
            for (std::size_t p = 0; p < net.parts.size(); ++p)
                if (view.is_soil(net.parts[p].face)) waiting.push_back(static_cast<int>(p));
            std::set<int> seen(waiting.begin(), waiting.end()), bridges;
            std::vector<Point> places;
            for (std::size_t i = 0; i < waiting.size(); ++i) {
                const int part = waiting[i];
                for (const WaterLink* link : open[static_cast<std::size_t>(part)]) {
                    const int next = link->a == part ? link->b : link->a;
                    const bool beside = !parts.below.contains(part) && !parts.across.contains(part);
                    if (parts.above.contains(next) && beside) {
                        const ArrangedEdge& edge = view.arrangement.edges[static_cast<std::size_t>(link->edge)];
                        const Point a = view.vertex(edge.from), b = view.vertex(edge.to);
                        // What lies flat on the damp-proof course's own line is a break of it, not a way past it.
                        if (std::abs(a.y - *leaf.dpc) <= 1 && std::abs(b.y - *leaf.dpc) <= 1) continue;
                        if (bridges.insert(net.parts[static_cast<std::size_t>(part)].piece).second) places.push_back(middle_of(a, b));
                    }
                    if (parts.above.contains(next) || parts.across.contains(next) || !seen.insert(next).second) continue;
                    waiting.push_back(next);
                }
            }
            if (bridges.empty()) {
                all.push_back(judged(Verdict::meets, "foot-bridging-none", args, at_leaf(leaf, *leaf.dpc)));
                continue;
            }
            Args with = args;
            with["pieces"] = names_of(view.section, {bridges.begin(), bridges.end()});
            Judged one = judged(Verdict::does_not_meet, "foot-bridging", with, places.front());
            one.places = places;
            for (const int piece : bridges) one.pieces.push_back(view.section.pieces[static_cast<std::size_t>(piece)].id);
            all.push_back(std::move(one));
        }
    return all.empty() ? nothing_to_judge("foot-no-leaf") : all;
}

namespace {

/// The cavity at one upright line: how deep below the damp-proof course it is clear, and whether a tray crosses it.
struct Clear {
    double depth = 0;
    Point foot;
    bool tray = false;
};

/// A tray further above the damp-proof course belongs to something else, such as an opening.
constexpr Micrometres tray_reach = 300 * um_per_mm;

Clear clear_at(const FootView& view, Micrometres x2, Micrometres dpc) {
    Clear clear{0, {x2 / 2, dpc}, false};
    const auto column = column_at(view.arrangement, x2);
    for (auto met = column.rbegin(); met != column.rend(); ++met) {
        if (met->from >= static_cast<double>(dpc)) continue;
        if (!view.fills_cavity(met->face)) break;
        const double foot = std::max(met->from, static_cast<double>(view.arrangement.cut.bottom));  // below the cut nothing is known
        clear.depth = static_cast<double>(dpc) - foot, clear.foot.y = static_cast<Micrometres>(std::llround(foot));
    }
    for (const ArrangedEdge& edge : view.arrangement.edges) {
        const Point a = view.vertex(edge.from), b = view.vertex(edge.to);
        if (2 * std::min(a.x, b.x) > x2 || 2 * std::max(a.x, b.x) < x2 || std::max(a.y, b.y) < clear.foot.y || std::min(a.y, b.y) > dpc + tray_reach) continue;
        for (const int m : edge.membranes) clear.tray |= view.section.membranes[static_cast<std::size_t>(m)].kind == MembraneKind::tray;
    }
    return clear;
}

}  // namespace

std::vector<Judged> judge_cavity_clear(const FootView& view, const Rule& rule, const Facts&) {
    if (view.sides().empty()) return nothing_to_judge("foot-no-ground");
    const double least = rule.numbers.at("least") * um_per_mm;
    std::vector<Judged> all;
    for (const FootSide& side : view.sides()) {
        const bool two = side.leaves.size() > 1;
        const double from = two ? std::min(side.leaves[0].to, side.leaves[1].to) : 0, to = two ? std::max(side.leaves[0].from, side.leaves[1].from) : 0;
        if (!two || to - from < 1 || to - from > static_cast<double>(widest_cavity)) {
            all.push_back(judged(Verdict::not_assessed, "foot-no-cavity", {}, Point{side.face, side.ground}));
            continue;
        }
        std::optional<Micrometres> lowest;
        for (const int i : {0, 1})
            if (const auto& dpc = side.leaves[static_cast<std::size_t>(i)].dpc) lowest = std::min(lowest.value_or(*dpc), *dpc);
        if (!lowest) {
            all.push_back(judged(Verdict::undecided, "foot-cavity-unknown", {}, Point{side.face, side.ground}));
            all.back().deciders.push_back(level_asked());
            continue;
        }
        std::set<Micrometres> xs{static_cast<Micrometres>(std::llround(from)), static_cast<Micrometres>(std::llround(to))};
        for (const Point p : view.arrangement.vertices)
            if (static_cast<double>(p.x) > from && static_cast<double>(p.x) < to) xs.insert(p.x);
        std::optional<Clear> worst, trayed;
        for (auto x = xs.begin(); std::next(x) != xs.end(); ++x) {
            const Clear here = clear_at(view, *x + *std::next(x), *lowest);
            auto& kept = here.tray ? trayed : worst;
            if (!kept || here.depth < kept->depth) kept = here;
        }
        const bool low = worst && worst->depth < least - 1e-6;
        const Clear& shown = low || !trayed || trayed->depth >= least - 1e-6 ? worst ? *worst : *trayed : *trayed;
        const Args args{{"depth", in_mm_text(shown.depth)}, {"least", in_mm_text(least)}, {"missing", in_mm_text(least - shown.depth)}};
        if (low && shown.depth > 0 && shown.foot.y <= view.arrangement.cut.bottom) {
            all.push_back(judged(Verdict::undecided, "foot-cavity-cut-off", args, shown.foot));
            continue;
        }
        all.push_back(judged(low ? Verdict::does_not_meet : Verdict::meets,
                             low ? shown.depth > 0 ? "foot-cavity-shallow" : "foot-cavity-filled" : shown.depth < least - 1e-6 ? "foot-cavity-tray" : "foot-cavity-clear", args, shown.foot));
    }
    return all;
}

}  // namespace wallfoot
