// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/water/water_way.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdlib>
#include <map>
#include <numeric>
#include <queue>
#include <set>

namespace wallfoot {
namespace {

Point middle_of(Point a, Point b) { return {a.x + (b.x - a.x) / 2, a.y + (b.y - a.y) / 2}; }

/// Shortest ways from the sources over the middles of triangle edges that no membrane blocks.
class Spread {
  public:
    Spread(const WaterNet& net, const Arrangement& arrangement) : net_(net), arrangement_(arrangement) {
        blocked_.assign(arrangement.edges.size(), 0);
        for (const WaterLink& link : net.links) blocked_[link.edge] = link.blocked;
        name_gates();
        start();
        run();
        arrive();
    }

    std::optional<WaterPath> path_to(int part) const {
        const int gate = first_gate_[part];
        if (gate < 0) return std::nullopt;
        WaterPath path;
        if (source_part_[part] >= 0) {
            path.from = net_.sources[source_part_[part]].from;
            path.steps = {{part, net_.parts[part].inside}};
            path.line = {net_.parts[part].inside};
            return path;
        }
        std::vector<int> gates;
        for (int g = gate; g >= 0; g = before_[g]) gates.push_back(g);
        std::reverse(gates.begin(), gates.end());
        path.from = net_.sources[started_by_[gates.front()]].from;
        path.length = distance_[gate];
        path.steps.push_back({net_.sources[started_by_[gates.front()]].part, at_[gates.front()]});
        for (std::size_t k = 0; k < gates.size(); ++k) {
            path.line.push_back(at_[gates[k]]);
            const int next = k + 1 < gates.size() ? through_[gates[k + 1]] : part;
            if (next != path.steps.back().part) path.steps.push_back({next, at_[gates[k]]});
        }
        return path;
    }

  private:
    /// One gate per triangle edge with water on at least one side.
    void name_gates() {
        gate_of_.assign(net_.part_of.size(), {-1, -1, -1});
        for (std::size_t t = 0; t < gate_of_.size(); ++t) {
            if (net_.part_of[t] < 0) continue;
            for (int i = 0; i < 3; ++i) {
                const int next = net_.neighbours[t][i];
                if (gate_of_[t][i] >= 0) continue;
                const int gate = static_cast<int>(at_.size());
                const auto& corners = arrangement_.triangles[t];
                at_.push_back(middle_of(arrangement_.vertices[corners[i]], arrangement_.vertices[corners[(i + 1) % 3]]));
                touching_.push_back({static_cast<int>(t), -1});
                edge_of_gate_.push_back(net_.edge_of[t][i]);
                gate_of_[t][i] = gate;
                if (next < 0 || net_.part_of[next] < 0 || (net_.edge_of[t][i] >= 0 && blocked_[net_.edge_of[t][i]])) continue;
                touching_[gate][1] = next;
                for (int k = 0; k < 3; ++k)
                    if (net_.neighbours[next][k] == static_cast<int>(t)) gate_of_[next][k] = gate;
            }
        }
        distance_.assign(at_.size(), -1);
        before_.assign(at_.size(), -1);
        through_.assign(at_.size(), -1);
        started_by_.assign(at_.size(), -1);
    }

    void offer(int gate, double length, int before, int through, int source) {
        if (distance_[gate] >= 0 && distance_[gate] <= length) return;
        distance_[gate] = length, before_[gate] = before, through_[gate] = through, started_by_[gate] = source;
        queue_.push({length, gate});
    }

    void start() {
        source_part_.assign(net_.parts.size(), -1);
        std::vector<int> of_edge(arrangement_.edges.size(), -1);
        for (std::size_t s = 0; s < net_.sources.size(); ++s) {
            const WaterSource& source = net_.sources[s];
            if (source.edge < 0)
                source_part_[source.part] = static_cast<int>(s);
            else if (!source.blocked)
                of_edge[source.edge] = static_cast<int>(s);
        }
        for (std::size_t t = 0; t < gate_of_.size(); ++t)
            for (int i = 0; i < 3; ++i) {
                const int gate = gate_of_[t][i];
                if (gate < 0) continue;
                const int whole = source_part_[net_.part_of[t]], edge = edge_of_gate_[gate];
                if (whole >= 0) offer(gate, 0, -1, -1, whole);
                if (edge >= 0 && of_edge[edge] >= 0) offer(gate, 0, -1, -1, of_edge[edge]);
            }
    }

    void run() {
        while (!queue_.empty()) {
            const auto [length, gate] = queue_.top();
            queue_.pop();
            if (length > distance_[gate]) continue;
            for (const int t : touching_[gate])
                for (int i = 0; t >= 0 && i < 3; ++i)
                    if (gate_of_[t][i] != gate)
                        offer(gate_of_[t][i], length + distance(at_[gate], at_[gate_of_[t][i]]), gate, net_.part_of[t],
                              started_by_[gate]);
        }
    }

    void arrive() {
        first_gate_.assign(net_.parts.size(), -1);
        for (std::size_t g = 0; g < at_.size(); ++g) {
            if (distance_[g] < 0) continue;
            for (const int t : touching_[g]) {
                if (t < 0) continue;
                int& first = first_gate_[net_.part_of[t]];
                // Of equally near ways one on the drawing, not beyond its cut.
                const auto rank = [&](std::size_t gate) { return std::pair(distance_[gate], !arrangement_.cut.contains(at_[gate])); };
                if (first < 0 || rank(g) < rank(first)) first = static_cast<int>(g);
            }
        }
    }

    const WaterNet& net_;
    const Arrangement& arrangement_;
    std::vector<char> blocked_;
    std::vector<std::array<int, 3>> gate_of_;
    std::vector<Point> at_;
    std::vector<std::array<int, 2>> touching_;  ///< triangles a gate opens into
    std::vector<int> edge_of_gate_;
    std::vector<double> distance_;
    std::vector<int> before_, through_, started_by_;
    std::vector<int> source_part_, first_gate_;
    std::priority_queue<std::pair<double, int>, std::vector<std::pair<double, int>>, std::greater<>> queue_;
};

/// Dry parts that touch without a membrane between them share their fate: one region.
class Regions {
  public:
    Regions(const Study& study, const Section& section, const Arrangement& arrangement, std::size_t membranes, WaterWay& way)
        : section_(section), arrangement_(arrangement), membranes_(static_cast<int>(membranes)), way_(way) {
        for (std::size_t i = 0; i < section.pieces.size(); ++i) {
            const Material* material = study.find_material(section.pieces[i].filled_with);
            if (section.pieces[i].fill == Fill::material && material && material->kind == MaterialKind::airspace)
                airspaces_.insert(static_cast<int>(i));
        }
        const int count = static_cast<int>(way.net.parts.size());
        region_.assign(count, -1);
        std::vector<std::vector<int>> beside(count);
        for (const WaterLink& link : way.net.links) {
            if (link.blocked) continue;
            beside[link.a].push_back(link.b), beside[link.b].push_back(link.a);
        }
        for (int first = 0; first < count; ++first) {
            if (region_[first] >= 0 || way.parts[first].state == WaterState::reached) continue;
            std::vector<int> waiting{first};
            region_[first] = regions_;
            for (std::size_t k = 0; k < waiting.size(); ++k)
                for (const int next : beside[waiting[k]])
                    if (region_[next] < 0) region_[next] = regions_, waiting.push_back(next);
            ++regions_;
        }
    }

    void judge(const Context& context) {
        for (int r = 0; r < regions_; ++r) {
            context.check();
            PartWater found;
            const std::vector<int> barrier = barrier_of(r);
            std::set<int> relied;
            for (const int e : barrier)
                for (const int m : on(e)) relied.insert(m);
            found.relies_on.assign(relied.begin(), relied.end());
            found.laps = laps_of(barrier, found.relies_on);
            const bool proven = std::all_of(found.laps.begin(), found.laps.end(), [](const Lap& lap) { return lap.sealed; });
            found.state = proven ? WaterState::no_path : WaterState::lap_not_proven;
            found.enclosed = is_enclosed(r);
            for (std::size_t p = 0; p < region_.size(); ++p)
                if (region_[p] == r) way_.parts[p] = found;
        }
    }

  private:
    std::vector<int> on(int edge) const {
        std::vector<int> real;
        for (const int m : arrangement_.edges[edge].membranes)
            if (m < membranes_) real.push_back(m);
        return real;
    }
    bool carries(int edge, int membrane) const {
        const auto& all = arrangement_.edges[edge].membranes;
        return std::find(all.begin(), all.end(), membrane) != all.end();
    }

    /// Edges of a region behind which there would be water if no membrane stopped it on the way there.
    std::vector<int> barrier_of(int r) const {
        std::vector<char> wet(region_.size(), 0);
        std::vector<int> waiting;
        const auto reach = [&](int part) {
            if (region_[part] == r || wet[part]) return;
            wet[part] = 1;
            waiting.push_back(part);
        };
        for (const WaterSource& source : way_.net.sources) reach(source.part);
        std::vector<std::vector<int>> beside(region_.size());
        for (const WaterLink& link : way_.net.links) beside[link.a].push_back(link.b), beside[link.b].push_back(link.a);
        for (std::size_t k = 0; k < waiting.size(); ++k)
            for (const int next : beside[waiting[k]]) reach(next);
        std::set<int> barrier;
        for (const WaterLink& link : way_.net.links) {
            const bool a = region_[link.a] == r, b = region_[link.b] == r;
            if (link.blocked && a != b && wet[a ? link.b : link.a]) barrier.insert(link.edge);
        }
        for (const WaterSource& source : way_.net.sources)
            if (source.edge >= 0 && source.blocked && region_[source.part] == r) barrier.insert(source.edge);
        return {barrier.begin(), barrier.end()};
    }

    /// Two membranes of one barrier lap where it changes over from edges with the one to edges with the other, directly
    /// or along edges that carry both.
    std::vector<Lap> laps_of(const std::vector<int>& barrier, const std::vector<int>& relied) const {
        std::vector<Lap> laps;
        for (std::size_t i = 0; i < relied.size(); ++i)
            for (std::size_t k = i + 1; k < relied.size(); ++k)
                if (const auto lap = lap_between(barrier, relied[i], relied[k])) laps.push_back(*lap);
        return laps;
    }

    std::optional<Lap> lap_between(const std::vector<int>& barrier, int first, int second) const {
        std::map<int, int> root;  // of vertices, joined by edges that carry both
        const auto find = [&](int v) {
            for (auto it = root.find(v); it != root.end() && it->second != v; it = root.find(v)) v = it->second;
            return v;
        };
        Lap lap{first, second, 0, false, {}};
        std::optional<Point> along;
        for (std::size_t e = 0; e < arrangement_.edges.size(); ++e) {
            if (!carries(static_cast<int>(e), first) || !carries(static_cast<int>(e), second)) continue;
            const ArrangedEdge& edge = arrangement_.edges[e];
            root.try_emplace(edge.from, edge.from), root.try_emplace(edge.to, edge.to);
            root[find(edge.from)] = find(edge.to);
            const Point a = arrangement_.vertices[edge.from], b = arrangement_.vertices[edge.to];
            if (!arrangement_.cut.contains(a) || !arrangement_.cut.contains(b)) continue;
            lap.length += distance(a, b);
            if (!along) along = middle_of(a, b);
        }
        std::map<int, int> ends;  // joined vertices: 1 = the first goes on alone, 2 = the second
        for (const int e : barrier) {
            const bool has_first = carries(e, first), has_second = carries(e, second);
            if (has_first == has_second) continue;
            for (const int v : {arrangement_.edges[e].from, arrangement_.edges[e].to}) ends[find(v)] |= has_first ? 1 : 2;
        }
        const auto met = std::find_if(ends.begin(), ends.end(), [](const auto& end) { return end.second == 3; });
        if (met == ends.end()) return std::nullopt;
        lap.at = along.value_or(arrangement_.vertices[met->first]);
        const auto &a = section_.membranes[first].sealed_laps, &b = section_.membranes[second].sealed_laps;
        lap.sealed = a.value_or(true) && b.value_or(true) && (a || b);
        return lap;
    }

    bool is_enclosed(int r) const {
        unsigned facing = 0;
        for (std::size_t e = 0; e < arrangement_.edges.size(); ++e) {
            const auto& parts = way_.net.sides[e];
            const bool on_left = parts[0] >= 0 && region_[parts[0]] == r, on_right = parts[1] >= 0 && region_[parts[1]] == r;
            if (on_left == on_right) continue;
            const ArrangedEdge& edge = arrangement_.edges[e];
            const Point a = arrangement_.vertices[edge.from], b = arrangement_.vertices[edge.to];
            if (!on(static_cast<int>(e)).empty()) {
                const Micrometres dx = b.x - a.x, dy = b.y - a.y;
                const bool level = std::abs(dx) > std::abs(dy);
                const bool positive = (level ? -dx > 0 : dy > 0) == on_left;  // outward normal of the left side: (dy, -dx)
                facing |= 1u << (2 * level + positive);
            } else if (dries(on_left ? edge.right : edge.left)) {
                return false;
            }
        }
        return std::popcount(facing) >= 2;
    }

    /// Air of a space or an air space; what goes on beyond the drawing is not known to enclose.
    bool dries(int face) const {
        return face < 0 || arrangement_.faces[face].kind == FaceKind::air || airspaces_.contains(arrangement_.faces[face].piece);
    }

    std::set<int> airspaces_;  ///< pieces of kind airspace
    const Section& section_;
    const Arrangement& arrangement_;
    int membranes_;
    WaterWay& way_;
    std::vector<int> region_;
    int regions_ = 0;
};

bool shorter(const PartWater& a, const PartWater& b) { return a.path && b.path && a.path->length < b.path->length; }

std::vector<PieceWater> by_piece(const WaterWay& way) {
    std::map<int, PieceWater> pieces;
    std::map<int, double> area;
    for (std::size_t p = 0; p < way.parts.size(); ++p) {
        const PartWater& part = way.parts[p];
        PieceWater& piece = pieces[way.net.parts[p].piece];
        const double size = static_cast<double>(way.net.parts[p].area2);
        area[way.net.parts[p].piece] += size;
        piece.enclosed |= part.enclosed;
        if (part.state == WaterState::reached) piece.reached_share += size;
        piece.relies_on.insert(piece.relies_on.end(), part.relies_on.begin(), part.relies_on.end());
        for (const Lap& lap : part.laps)
            if (std::none_of(piece.laps.begin(), piece.laps.end(),
                             [&](const Lap& l) { return l.first == lap.first && l.second == lap.second; }))
                piece.laps.push_back(lap);
        const bool worse = piece.part < 0 || part.state > piece.state;
        if (worse || (part.state == piece.state && shorter(part, way.parts[piece.part]))) piece.part = static_cast<int>(p);
        piece.state = std::max(piece.state, part.state);
    }
    std::vector<PieceWater> result;
    for (auto& [index, piece] : pieces) {
        piece.piece = index;
        piece.reached_share /= area[index];
        std::sort(piece.relies_on.begin(), piece.relies_on.end());
        piece.relies_on.erase(std::unique(piece.relies_on.begin(), piece.relies_on.end()), piece.relies_on.end());
        result.push_back(std::move(piece));
    }
    return result;
}

}  // namespace

WaterWay water_way(const Study& study, const Section& section, const Arrangement& arrangement, const Context& context,
                   std::optional<std::size_t> membranes) {
    const std::size_t count = membranes.value_or(section.membranes.size());
    WaterWay way;
    way.net = water_net(study, section, arrangement, count);
    context.check();
    way.parts.resize(way.net.parts.size());
    const Spread spread(way.net, arrangement);
    for (std::size_t p = 0; p < way.parts.size(); ++p) {
        way.parts[p].path = spread.path_to(static_cast<int>(p));
        if (way.parts[p].path) way.parts[p].state = WaterState::reached;
    }
    Regions regions(study, section, arrangement, count, way);
    regions.judge(context);
    way.pieces = by_piece(way);
    return way;
}

KeptDry kept_dry(const Study& study, const Section& section, const Arrangement& arrangement) {
    KeptDry kept{std::vector<bool>(arrangement.faces.size(), false), std::vector<std::vector<int>>(arrangement.faces.size())};
    if (!section.water || !section.water->soil || !section.water->rain || !section.water->cavity_foot) return kept;
    const WaterWay way = water_way(study, section, arrangement);
    for (const WaterPart& part : way.net.parts) kept.dry[part.face] = true;
    for (std::size_t p = 0; p < way.parts.size(); ++p) {
        const int face = way.net.parts[p].face;
        if (way.parts[p].state != WaterState::no_path || way.parts[p].enclosed) kept.dry[face] = false;
        auto& relied = kept.relies_on[face];
        relied.insert(relied.end(), way.parts[p].relies_on.begin(), way.parts[p].relies_on.end());
        std::sort(relied.begin(), relied.end());
        relied.erase(std::unique(relied.begin(), relied.end()), relied.end());
    }
    return kept;
}

}  // namespace wallfoot
