// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/water/remedy.hpp"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/boykov_kolmogorov_max_flow.hpp>
#include <cmath>
#include <cstdlib>
#include <map>
#include <set>

#include "core/file/json_value.hpp"
#include "core/resources/resources.hpp"
#include "core/study/edits.hpp"
#include "core/water/capillary.hpp"
#include "core/text/refuse_faults.hpp"

namespace wallfoot {
namespace {

using Capacity = std::int64_t;
constexpr Capacity endless = 1'000'000'000'000'000;  // cannot be cut; above every sum of drawn lengths
constexpr double steps_per_um = 100;                 // a capacity counts hundredths of a weighted micrometre
constexpr std::size_t most_lines = 2'000;            // RULES 22: course lines of one section

using Traits = boost::adjacency_list_traits<boost::vecS, boost::vecS, boost::directedS>;
using Graph = boost::adjacency_list<
    boost::vecS, boost::vecS, boost::directedS,
    boost::property<boost::vertex_color_t, boost::default_color_type,
                    boost::property<boost::vertex_distance_t, long,
                                    boost::property<boost::vertex_predecessor_t, Traits::edge_descriptor>>>,
    boost::property<boost::edge_capacity_t, Capacity,
                    boost::property<boost::edge_residual_capacity_t, Capacity,
                                    boost::property<boost::edge_reverse_t, Traits::edge_descriptor>>>>;

void connect(Graph& graph, int a, int b, Capacity there, Capacity back) {
    const auto forth = boost::add_edge(a, b, graph).first, home = boost::add_edge(b, a, graph).first;
    boost::put(boost::edge_capacity, graph, forth, there), boost::put(boost::edge_capacity, graph, home, back);
    boost::put(boost::edge_reverse, graph, forth, home), boost::put(boost::edge_reverse, graph, home, forth);
}

/// Nodes from which the sink can still be reached: the cut nearest to the piece lies around them.
std::vector<char> side_of(const Graph& graph, int sink) {
    std::vector<char> with_sink(boost::num_vertices(graph), 0);
    std::vector<int> waiting{sink};
    with_sink[sink] = 1;
    const auto reverse = boost::get(boost::edge_reverse, graph);
    const auto residual = boost::get(boost::edge_residual_capacity, graph);
    for (std::size_t k = 0; k < waiting.size(); ++k)
        for (const auto e : boost::make_iterator_range(boost::out_edges(waiting[k], graph))) {
            const int other = static_cast<int>(boost::target(e, graph));
            if (!with_sink[other] && residual[reverse[e]] > 0) with_sink[other] = 1, waiting.push_back(other);
        }
    return with_sink;
}

Rect extent(const Outline& outline) {
    Rect box{coordinate_limit, coordinate_limit, -coordinate_limit, -coordinate_limit};
    for (const Point p : outline) {
        box.left = std::min(box.left, p.x), box.right = std::max(box.right, p.x);
        box.bottom = std::min(box.bottom, p.y), box.top = std::max(box.top, p.y);
    }
    return box;
}

/// Heights of lines in one piece at which a membrane could be built.
std::vector<Micrometres> heights(const Section& section, const Piece& piece, const Rect& box) {
    std::set<Micrometres> all;
    for (const Level* level : {&section.dpc, &section.floor, &section.ground})
        for (const auto& y : {level->both, level->left, level->right})
            if (y) all.insert(*y);
    if (piece.courses && piece.courses->height > 0) {
        const Micrometres height = piece.courses->height;
        Micrometres y = piece.courses->from + (box.bottom - piece.courses->from) / height * height;
        for (; y < box.top && all.size() < most_lines; y += height) all.insert(y);
    }
    std::vector<Micrometres> inside;
    for (const Micrometres y : all)
        if (y > box.bottom && y < box.top) inside.push_back(y);
    return inside;
}

/// µm; level edges lean less than they rise.
bool is_level(Point a, Point b) { return std::abs(b.y - a.y) < std::abs(b.x - a.x); }

}  // namespace

RemedyWeights remedy_weights() {
    const json::Value data = json::parse(resource("rule_sets/water-remedy.json"));
    const auto* object = data.as<json::Object>();
    const auto member = [](const json::Object* of, const char* name) -> const json::Value* {
        const auto found = of ? of->find(name) : json::Object::const_iterator{};
        return of && found != of->end() ? &found->second : nullptr;
    };
    const auto weight = [&](const char* name) {
        const json::Value* all = member(object, "weights");
        const json::Value* kind = all ? member(all->as<json::Object>(), name) : nullptr;
        const json::Value* value = kind ? member(kind->as<json::Object>(), "weight") : nullptr;
        const json::Number* number = value ? value->as<json::Number>() : nullptr;
        if (!number || number->value <= 0 || number->value > 1000)
            throw InputFault(Message{Severity::fault, "remedy-weights-unusable", {{"kind", name}}, {}, "/weights"});
        return number->value;
    };
    RemedyWeights weights{weight("damp_course"), weight("floor_membrane"), weight("tanking"), {}};
    if (const json::Value* source = member(object, "source"))
        if (const auto* text = source->as<std::string>()) weights.source = *text;
    return weights;
}

RemedyDrawing::RemedyDrawing(const Study& study, const Section& section, const Context& context)
    : study_(study), section_(section), membranes_(section.membranes.size()) {
    for (std::size_t i = 0; i < section.pieces.size(); ++i) {
        const Piece& piece = section.pieces[i];
        const Material* material = study.find_material(piece.filled_with);
        if (piece.fill != Fill::material || piece.outline.empty() || !material || !is_capillary(*material) || is_ground(material->kind))
            continue;
        const Rect box = extent(piece.outline);
        for (const Micrometres y : heights(section, piece, box)) {
            Membrane line;
            line.path = {{box.left, y}, {box.right, y}};
            section_.membranes.push_back(std::move(line));
            line_owner_.push_back(static_cast<int>(i));
            if (line_owner_.size() > most_lines)
                throw InputFault(Message{Severity::fault, "remedy-too-many-lines", {{"limit", std::to_string(most_lines)}},
                                         Point{box.left, y}, ""});
        }
    }
    arrangement_ = arrange(study_, section_, context);
    refuse_faults(arrangement_.messages);
    way_ = water_way(study_, section_, arrangement_, context, membranes_);
    edges_at_.resize(arrangement_.vertices.size());
    for (std::size_t e = 0; e < arrangement_.edges.size(); ++e)
        for (const int v : {arrangement_.edges[e].from, arrangement_.edges[e].to}) edges_at_[v].push_back(static_cast<int>(e));
}

bool RemedyDrawing::carries_gas(int edge) const {
    const auto& all = arrangement_.edges[edge].membranes;
    return std::any_of(all.begin(), all.end(), [&](int m) {
        return m < static_cast<int>(membranes_) && section_.membranes[m].kind == MembraneKind::gas;
    });
}

/// A gas membrane passes one end of the edge from one side of its line to the other, and the line goes on behind it.
bool RemedyDrawing::crosses_gas(int edge) const {
    const ArrangedEdge& own = arrangement_.edges[edge];
    for (const auto& [end, start] : {std::pair(own.from, own.to), std::pair(own.to, own.from)}) {
        const Point a = arrangement_.vertices[start], b = arrangement_.vertices[end];
        bool left = false, right = false, goes_on = false;
        for (const int e : edges_at_[end]) {
            if (e == edge) continue;
            const ArrangedEdge& other = arrangement_.edges[e];
            const Point c = arrangement_.vertices[other.from == end ? other.to : other.from];
            const auto turn = cross(a, b, c);
            if (carries_gas(e)) left |= turn > 0, right |= turn < 0;
            else goes_on |= turn == 0 && way_.net.sides[e][0] >= 0 && way_.net.sides[e][1] >= 0;
        }
        if (left && right && goes_on) return true;
    }
    return false;
}

/// Whether an edge inside one piece lies on a level or a course line of it.
bool RemedyDrawing::drawn_line(const ArrangedEdge& edge, int piece) const {
    return std::any_of(edge.membranes.begin(), edge.membranes.end(), [&](int m) {
        return m >= static_cast<int>(membranes_) && line_owner_[m - static_cast<int>(membranes_)] == piece;
    });
}

std::optional<RemedyDrawing::Candidate> RemedyDrawing::candidate(const WaterLink& link) const {
    const ArrangedEdge& edge = arrangement_.edges[link.edge];
    const Point a = arrangement_.vertices[edge.from], b = arrangement_.vertices[edge.to];
    const int piece_a = way_.net.parts[link.a].piece, piece_b = way_.net.parts[link.b].piece;
    const MaterialKind kind_a = study_.find_material(section_.pieces[piece_a].filled_with)->kind,
                       kind_b = study_.find_material(section_.pieces[piece_b].filled_with)->kind;
    if (is_ground(kind_a) && is_ground(kind_b)) return std::nullopt;
    if (piece_a == piece_b && !drawn_line(edge, piece_a)) return std::nullopt;
    if (crosses_gas(link.edge)) return std::nullopt;
    const bool masonry = kind_a == MaterialKind::masonry || kind_b == MaterialKind::masonry;
    const RemedyKind kind = !is_level(a, b) ? RemedyKind::tanking : masonry ? RemedyKind::damp_course : RemedyKind::floor_membrane;
    return Candidate{kind, distance(a, b)};
}

/// Parts to be kept dry.
std::vector<int> RemedyDrawing::targets(int piece) const {
    std::vector<int> all, above;
    for (std::size_t p = 0; p < way_.net.parts.size(); ++p) {
        const WaterPart& part = way_.net.parts[p];
        if (part.piece != piece) continue;
        all.push_back(static_cast<int>(p));
        const auto dpc = level_at(section_.dpc, arrangement_.cut, part.inside.x);
        if (dpc && part.bottom >= *dpc) above.push_back(static_cast<int>(p));
    }
    return above.empty() ? all : above;
}

Remedy RemedyDrawing::smallest(int piece, const RemedyWeights& weights) const {
    Remedy remedy;
    remedy.piece = piece;
    const std::vector<int> wanted = targets(piece);
    WaterState state = WaterState::no_path;
    std::set<int> relied;
    for (const int part : wanted) {
        const PartWater& found = way_.parts[part];
        state = std::max(state, found.state);
        relied.insert(found.relies_on.begin(), found.relies_on.end());
        for (const Lap& lap : found.laps)
            if (!lap.sealed && std::none_of(remedy.laps.begin(), remedy.laps.end(), [&](const Lap& known) {
                    return known.first == lap.first && known.second == lap.second;
                }))
                remedy.laps.push_back(lap);
    }
    remedy.relies_on.assign(relied.begin(), relied.end());
    remedy.above_dpc = wanted.size() < static_cast<std::size_t>(std::count_if(
        way_.net.parts.begin(), way_.net.parts.end(), [&](const WaterPart& part) { return part.piece == piece; }));
    if (state != WaterState::reached) {
        remedy.answer = state == WaterState::no_path ? RemedyAnswer::none_needed : RemedyAnswer::seal_laps;
        return remedy;
    }
    for (const WaterSource& source : way_.net.sources) {
        if (source.blocked || std::find(wanted.begin(), wanted.end(), source.part) == wanted.end()) continue;
        remedy.answer = source.from == WaterFrom::water_level ? RemedyAnswer::water_level : RemedyAnswer::at_source;
        remedy.source = source.from;
        return remedy;
    }
    const int parts = static_cast<int>(way_.net.parts.size()), source = parts, sink = parts + 1;
    Graph graph(static_cast<std::size_t>(parts) + 2);
    std::set<int> wet;
    for (const WaterSource& s : way_.net.sources)
        if (!s.blocked) wet.insert(s.part);
    for (const int part : wet) connect(graph, source, part, endless, 0);
    for (const int part : wanted) connect(graph, part, sink, endless, 0);
    for (const WaterLink& link : way_.net.links) {
        if (link.blocked) continue;
        Capacity capacity = endless;
        if (const auto found = candidate(link)) {
            const double weight = found->kind == RemedyKind::damp_course      ? weights.damp_course
                                  : found->kind == RemedyKind::floor_membrane ? weights.floor_membrane
                                                                              : weights.tanking;
            capacity = std::max<Capacity>(1, std::llround(found->length * weight * steps_per_um));
        }
        connect(graph, link.a, link.b, capacity, capacity);
    }
    const Capacity flow = boost::boykov_kolmogorov_max_flow(graph, source, sink);
    if (flow >= endless) {
        remedy.answer = RemedyAnswer::none_found;
        return remedy;
    }
    const auto with_piece = side_of(graph, sink);
    std::vector<int> cut;
    for (const WaterLink& link : way_.net.links)
        if (!link.blocked && with_piece[link.a] != with_piece[link.b]) cut.push_back(link.edge);
    remedy.answer = RemedyAnswer::proposed;
    remedy.cost = static_cast<double>(flow) / steps_per_um;
    remedy.runs = runs(std::move(cut));
    for (const RemedyRun& run : remedy.runs) remedy.length += run.length;
    return remedy;
}

/// Chains edges of one kind end to end; a run ends where three meet.
std::vector<RemedyRun> RemedyDrawing::runs(std::vector<int> cut) const {
    std::map<RemedyKind, std::map<int, std::vector<int>>> at;  // by kind and vertex: edges
    std::map<int, RemedyKind> kind;
    for (const WaterLink& link : way_.net.links) {
        if (std::find(cut.begin(), cut.end(), link.edge) == cut.end()) continue;
        kind[link.edge] = candidate(link)->kind;
        for (const int v : {arrangement_.edges[link.edge].from, arrangement_.edges[link.edge].to})
            at[kind[link.edge]][v].push_back(link.edge);
    }
    std::vector<RemedyRun> result;
    std::set<int> used;
    for (const auto& [first, its_kind] : kind) {
        if (!used.insert(first).second) continue;
        std::vector<int> vertices{arrangement_.edges[first].from, arrangement_.edges[first].to};
        for (int turn = 0; turn < 2; ++turn) {
            for (bool more = true; more;) {
                more = false;
                const auto& here = at[its_kind][vertices.back()];
                if (here.size() != 2) break;
                for (const int e : here) {
                    if (!used.insert(e).second) continue;
                    const ArrangedEdge& edge = arrangement_.edges[e];
                    vertices.push_back(edge.from == vertices.back() ? edge.to : edge.from);
                    more = true;
                    break;
                }
            }
            std::reverse(vertices.begin(), vertices.end());
        }
        result.push_back(run_along(its_kind, vertices));
    }
    std::sort(result.begin(), result.end(), [](const RemedyRun& a, const RemedyRun& b) { return a.path < b.path; });
    return result;
}

RemedyRun RemedyDrawing::run_along(RemedyKind kind, const std::vector<int>& vertices) const {
    RemedyRun run;
    run.kind = kind;
    std::set<int> gas, joins;
    for (std::size_t k = 0; k < vertices.size(); ++k) {
        const Point p = arrangement_.vertices[vertices[k]];
        if (k > 0) run.length += distance(arrangement_.vertices[vertices[k - 1]], p);
        const bool end = k == 0 || k + 1 == vertices.size();
        for (const int e : edges_at_[vertices[k]])
            for (const int m : arrangement_.edges[e].membranes) {
                if (m >= static_cast<int>(membranes_)) continue;
                if (section_.membranes[m].kind == MembraneKind::gas) gas.insert(m);
                else if (end) joins.insert(m);
            }
        while (run.path.size() >= 2 && cross(run.path[run.path.size() - 2], run.path.back(), p) == 0) run.path.pop_back();
        run.path.push_back(p);
    }
    if (run.path.front() > run.path.back()) std::reverse(run.path.begin(), run.path.end());
    run.joins.assign(joins.begin(), joins.end());
    run.at_gas.assign(gas.begin(), gas.end());
    return run;
}

Section with_remedy(const Section& section, const Remedy& remedy) {
    Section built = section;
    if (remedy.answer != RemedyAnswer::proposed) return built;
    for (const RemedyRun& run : remedy.runs) {
        Membrane membrane;
        membrane.kind = run.kind == RemedyKind::damp_course      ? MembraneKind::dpc
                        : run.kind == RemedyKind::floor_membrane ? MembraneKind::dpm
                                                                 : MembraneKind::tanking;
        membrane.path = run.path;
        membrane.sealed_laps = true;
        built = add_membrane(built, std::move(membrane));
    }
    return built;
}

}  // namespace wallfoot
