// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/seasons.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/standards/iso13370.hpp"
#include "core/study/materials.hpp"
#include "core/study/site.hpp"
#include "solver/findings/hidden_surface.hpp"
#include "solver/field/periodic.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/season_work.hpp"

namespace wallfoot {

namespace {

using Wave = std::complex<double>;

constexpr double year_s = 365.2425 * 86400;
constexpr double omega_of_year = 2 * std::numbers::pi / year_s;
constexpr double per_month = 2 * std::numbers::pi / months_of_a_year;
constexpr double edges_by_depth = 0.8;  // longest edge, as a share of the depth that the wave reaches
constexpr std::size_t most_elements = 60'000;  // beyond, the elements are not halved once more, and no error is known

/// Months, 0 to below 12, of an angle.
double months_of(double angle) {
    double months = std::fmod(angle / per_month, months_of_a_year);
    if (months < 0) months += months_of_a_year;
    constexpr double nearly_a_year = months_of_a_year - 1e-9;
    return months >= nearly_a_year ? 0 : months;
}

/// Usual values, J/(m³·K) and, where only the density is stated, J/(kg·K); from memory, ISO 10456 and 13370 beside them.
struct UsualCapacity {
    double by_volume, by_mass;
};
UsualCapacity usual_capacity(MaterialKind kind) {
    switch (kind) {
        case MaterialKind::masonry: return {1.5e6, 1000};
        case MaterialKind::concrete: return {2.3e6, 1000};
        case MaterialKind::mortar:
        case MaterialKind::render: return {1.8e6, 1000};
        case MaterialKind::insulation: return {0.045e6, 1400};
        case MaterialKind::timber: return {0.8e6, 1600};
        case MaterialKind::metal: return {3.5e6, 450};
        case MaterialKind::soil:
        case MaterialKind::granular: return {2.0e6, 1000};
        case MaterialKind::airspace: return {1.2e3, 1000};
        case MaterialKind::membrane: return {1.2e6, 1100};
        case MaterialKind::other: break;
    }
    return {1.5e6, 1000};
}

/// Waves of the temperatures of spaces: outside 1, inside 1; and what stays as it is.
std::vector<std::vector<double>> loads_of(const SeasonSource& source) {
    const auto& spaces = source.view.section.spaces;
    const auto& t = source.view.temperatures;
    std::vector<std::vector<double>> loads(3, std::vector<double>(spaces.size(), 0));
    for (std::size_t i = 0; i < spaces.size(); ++i) {
        if (spaces[i].kind == SpaceKind::outside) loads[0][i] = 1;
        else if (spaces[i].kind == SpaceKind::inside && (source.others_go_along || source.inside < 0 || same_room_temperature(t[i], t[source.inside]))) loads[1][i] = 1;
        else if (source.balanced[i] && source.inside >= 0 && source.outside >= 0 && t[source.inside] != t[source.outside]) {
            const double share = (t[i] - t[source.outside]) / (t[source.inside] - t[source.outside]);
            loads[0][i] = 1 - share, loads[1][i] = share;
        } else loads[2][i] = t[i];
    }
    return loads;
}

/// The mesh of a solution, with its boundary.
Mesh mesh_of(const Solution& solution) {
    Mesh mesh;
    mesh.points = solution.points;
    mesh.triangles = solution.triangles;
    mesh.neighbours = solution.neighbours;
    mesh.region = solution.region;
    mesh.regions = solution.regions;
    mesh.contacts = solution.contacts;
    mesh.marks.assign(mesh.triangles.size(), {0, 0, 0});
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
        for (int i = 0; i < 3; ++i)
            if (mesh.boundary(int(t), i)) mesh.marks[t][i] = -1;
    for (const ContactEdge& edge : solution.contact_edges) {
        const ContactKind kind{edge.contact, edge.resistance};
        auto known = std::find(mesh.kinds.begin(), mesh.kinds.end(), kind);
        if (known == mesh.kinds.end()) known = mesh.kinds.insert(mesh.kinds.end(), kind);
        mesh.marks[edge.triangle][edge.corner] = int(known - mesh.kinds.begin());
    }
    return mesh;
}

/// Heat capacities where they are asked: of a region all of whose faces hold the same, else of the face at the place.
class CapacityMap {
  public:
    CapacityMap(const Arrangement& arrangement, const SeasonSection& of, const std::vector<double>& by_face)
        : arrangement_(arrangement), by_face_(by_face), faces_(of.faces), mean_(of.faces.size(), 0), mixed_(of.faces.size(), false) {
        for (std::size_t r = 0; r < faces_.size(); ++r) {
            for (const int f : faces_[r]) mean_[r] += by_face[f] / double(faces_[r].size());
            for (const int f : faces_[r]) mixed_[r] = mixed_[r] || by_face[f] != by_face[faces_[r].front()];
            mixed_[r] = mixed_[r] && of.placed;
            largest_.push_back(0);
            for (const int f : faces_[r]) largest_[r] = std::max(largest_[r], by_face[f]);
            if (faces_[r].empty()) mean_[r] = largest_[r] = usual_capacity(MaterialKind::other).by_volume;
        }
    }
    const std::vector<double>& largest() const { return largest_; }
    Capacities on(const Mesh& mesh, const Context& context) const {
        constexpr std::size_t between_looks = 1024;
        Capacities all(mesh.triangles.size());
        for (std::size_t t = 0; t < all.size(); ++t) {
            if (t % between_looks == 0) context.check();
            const auto r = std::size_t(mesh.region[t]);
            for (int place = 0; place < capacity_places; ++place) all[t][place] = mixed_[r] ? at(mesh, t, place, r) : mean_[r];
        }
        return all;
    }

  private:
    double at(const Mesh& mesh, std::size_t t, int place, std::size_t r) const {
        double x = 0, y = 0;
        for (int i = 0; i < 3; ++i) {
            x += capacity_shares()[place][i] * mesh.points[mesh.triangles[t][i]][0];
            y += capacity_shares()[place][i] * mesh.points[mesh.triangles[t][i]][1];
        }
        for (std::size_t k = 0; k < arrangement_.triangles.size(); ++k) {
            const int face = arrangement_.triangle_face[k];
            if (std::find(faces_[r].begin(), faces_[r].end(), face) == faces_[r].end()) continue;
            const auto inside = [&](int from, int to) {
                const Point a = arrangement_.vertices[from], b = arrangement_.vertices[to];
                return double(b.x - a.x) * (y - double(a.y)) - double(b.y - a.y) * (x - double(a.x)) >= 0;
            };
            const auto& [a, b, c] = arrangement_.triangles[k];
            if (inside(a, b) && inside(b, c) && inside(c, a)) return by_face_[face];
        }
        return mean_[r];
    }

    const Arrangement& arrangement_;
    const std::vector<double>& by_face_;
    const std::vector<std::vector<int>>& faces_;
    std::vector<double> mean_, largest_;
    std::vector<bool> mixed_;
};

/// The fields of one mesh: waves for outside and inside; steady for these and for what stays.
struct YearFields {
    Mesh mesh;
    PeriodicFields wave, steady;
};

/// On the mesh of the solution with elements halved where the wave asks for it, and with all of them halved once more.
struct YearAnswer {
    YearFields coarse;
    std::optional<YearFields> fine;
    const YearFields& best() const { return fine ? *fine : coarse; }
};

std::optional<YearFields> year_fields(Mesh mesh, const CapacityMap& capacity, const std::vector<std::vector<double>>& loads, const Context& context) {
    const Capacities held = capacity.on(mesh, context);
    auto wave = periodic_fields(mesh, held, omega_of_year, {loads[0], loads[1]}, context);
    if (!wave) return std::nullopt;
    auto steady = periodic_fields(mesh, held, 0, loads, context);
    if (!steady) return std::nullopt;
    return YearFields{std::move(mesh), std::move(*wave), std::move(*steady)};
}

std::optional<YearAnswer> year_answer(const SeasonSection& of, const Arrangement& arrangement, const std::vector<double>& by_face,
                                      const std::vector<std::vector<double>>& loads, const Context& context) {
    if (of.solution.touching_fixed || of.solution.triangles.empty() || of.faces.size() != of.solution.regions.size()) return std::nullopt;
    const CapacityMap capacity(arrangement, of, by_face);
    auto coarse = year_fields(refined_for_wave(mesh_of(of.solution), capacity.largest(), omega_of_year, edges_by_depth, context), capacity, loads, context);
    if (!coarse) return std::nullopt;
    YearAnswer answer{std::move(*coarse), {}};
    if (answer.coarse.mesh.triangles.size() <= most_elements)
        answer.fine = year_fields(bisect(answer.coarse.mesh, std::vector<char>(answer.coarse.mesh.triangles.size(), 1)), capacity, loads, context);
    return answer;
}

Swing swing_of_outside(const YearAnswer& answer, int space) {
    const Wave flow = answer.best().wave.flow[0][space];
    return {.size = std::abs(flow), .months = months_of(-std::arg(-flow)), .error = answer.fine ? std::abs(flow - answer.coarse.wave.flow[0][space]) : 0};
}

Swing swing_of_inside(const YearAnswer& answer, int space) {
    const Wave flow = answer.best().wave.flow[1][space];
    return {.size = std::abs(flow), .months = months_of(std::arg(flow)), .error = answer.fine ? std::abs(flow - answer.coarse.wave.flow[1][space]) : 0};
}

/// What the climate says of the temperatures outside and inside, month by month.
struct MonthTemperatures {
    std::array<double, months_of_a_year> outside{}, inside{};
};

std::optional<MonthTemperatures> months_stated(const Study& study, double inside) {
    if (!states_year(study)) return std::nullopt;
    MonthTemperatures months;
    const Climate& climate = *study.climate;
    for (std::size_t m = 0; m < months_of_a_year; ++m) {
        if (climate.year) {
            const ClimateMonth month = month_of(*climate.year, m, inside);
            months.outside[m] = month.outside;
            months.inside[m] = *month.inside;
        } else {
            months.outside[m] = climate.months[m].outside;
            months.inside[m] = climate.months[m].inside.value_or(inside);
        }
    }
    return months;
}

/// Temperatures of the months at one node. What a month departs from the wave is taken as followed at once.
struct NodeYear {
    std::array<double, months_of_a_year> steady{}, with_wave{};
};

NodeYear node_year(const YearFields& fields, std::size_t t, int node, const MonthTemperatures& months, const YearOf& outside, const YearOf& inside) {
    const auto steady = [&](int load) { return fields.steady.temperature[load][t][node].real(); };
    const Wave more = (fields.wave.temperature[0][t][node] - steady(0)) * outside.wave + (fields.wave.temperature[1][t][node] - steady(1)) * inside.wave;
    NodeYear year;
    for (std::size_t m = 0; m < months_of_a_year; ++m) {
        year.steady[m] = steady(0) * months.outside[m] + steady(1) * months.inside[m] + steady(2);
        year.with_wave[m] = year.steady[m] + (more * std::polar(1.0, per_month * double(m))).real();
    }
    return year;
}

SeasonSurface coldest_through(const YearFields& fields, const SeenParts& seen, int space, const MonthTemperatures& months, const YearOf& outside, const YearOf& inside) {
    constexpr double nothing_yet = 1e9;
    SeasonSurface found{.space = space, .lowest = nothing_yet, .swing = {}};
    found.by_month.fill(nothing_yet);
    found.steady_by_month.fill(nothing_yet);
    const Mesh& mesh = fields.mesh;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
        for (int side = 0; side < 3; ++side) {
            if (!mesh.boundary(int(t), side) || mesh.marks[t][side] < 0 || mesh.kinds[mesh.marks[t][side]].contact != space) continue;
            // What is hidden is left out here as in the steady check.
            std::optional<std::vector<std::array<double, 2>>> parts;
            if (seen) parts = seen(mesh.points[mesh.triangles[t][(side + 1) % 3]], mesh.points[mesh.triangles[t][(side + 2) % 3]]);
            const auto is_seen = [&](double at) { return !parts || std::any_of(parts->begin(), parts->end(), [&](const auto& part) { return part[0] <= at && at <= part[1]; }); };
            for (const int node : {(side + 1) % 3, (side + 2) % 3, 3 + side}) {
                if (!is_seen(node == (side + 1) % 3 ? 0 : node == (side + 2) % 3 ? 1 : 0.5)) continue;
                const NodeYear year = node_year(fields, t, node, months, outside, inside);
                for (std::size_t m = 0; m < months_of_a_year; ++m) {
                    found.steady_by_month[m] = std::min(found.steady_by_month[m], year.steady[m]);
                    found.by_month[m] = std::min(found.by_month[m], year.with_wave[m]);
                    if (year.with_wave[m] >= found.lowest) continue;
                    found.lowest = year.with_wave[m];
                    found.month = m;
                    const auto& a = mesh.points[mesh.triangles[t][(side + 1) % 3]];
                    const auto& b = mesh.points[mesh.triangles[t][(side + 2) % 3]];
                    found.at = node < 3 ? mesh.points[mesh.triangles[t][node]] : std::array{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2};
                    const Wave wave = fields.wave.temperature[0][t][node] * outside.wave + fields.wave.temperature[1][t][node] * inside.wave;
                    // The coldest outside comes at the angle of −wave: the angle between both is the lag.
                    found.swing = {.size = std::abs(wave), .months = outside.wave == 0.0 ? 0 : months_of(std::arg(outside.wave) - std::arg(wave))};
                }
            }
        }
    return found;
}

std::optional<SeasonSurface> season_surface(const YearAnswer& answer, const SeenParts& seen, int space, const MonthTemperatures& months, const YearOf& outside, const YearOf& inside) {
    SeasonSurface found = coldest_through(answer.best(), seen, space, months, outside, inside);
    constexpr double none = 1e8;
    if (found.lowest > none) return std::nullopt;
    if (!answer.fine) return found;
    const SeasonSurface coarse = coldest_through(answer.coarse, seen, space, months, outside, inside);
    for (std::size_t m = 0; m < months_of_a_year; ++m) found.error = std::max(found.error, std::abs(found.by_month[m] - coarse.by_month[m]));
    found.swing.error = std::abs(found.swing.size - coarse.swing.size);
    return found;
}

SeasonFlow season_flow(const YearAnswer& answer, int space, const Seasons& seasons) {
    SeasonFlow flow{.space = space, .by_outside = swing_of_outside(answer, space), .by_inside = swing_of_inside(answer, space)};
    if (!seasons.outside || !seasons.inside) return flow;
    const auto steady = [&](int load) { return answer.best().steady.flow[load][space].real(); };
    flow.mean = steady(0) * seasons.outside->mean + steady(1) * seasons.inside->mean + steady(2);
    const auto wave_of = [&](const YearFields& fields) { return fields.wave.flow[0][space] * seasons.outside->wave + fields.wave.flow[1][space] * seasons.inside->wave; };
    const Wave wave = wave_of(answer.best());
    flow.in_year = Swing{.size = std::abs(wave), .months = months_of(-std::arg(wave)), .error = answer.fine ? std::abs(wave - wave_of(answer.coarse)) : 0};
    return flow;
}

std::optional<SeasonFloor> season_floor(const SeasonSource& source, const std::vector<double>& by_face, double soil_capacity, const Context& context) {
    if (!source.floor || !source.standard) return std::nullopt;
    const auto answer = year_answer(*source.floor, source.view.arrangement, by_face, {{0, 1}, {1, 0}, {0, 0}}, context);
    if (!answer) return std::nullopt;
    const FloorByStandard& by = *source.standard;
    if (!(by.section_length > 0) || !(by.equivalent_thickness > 0)) return std::nullopt;
    SeasonFloor floor{.solved_outside = swing_of_outside(*answer, 0), .solved_inside = swing_of_inside(*answer, 0), .by_standard_outside = {}, .by_standard_inside = {}};
    floor.depth = iso13370::periodic_depth(by.soil, soil_capacity);
    floor.equivalent_thickness = by.equivalent_thickness;
    floor.soil = by.soil;
    floor.capacity = soil_capacity;
    floor.length = by.section_length;
    floor.by_standard_outside = {.size = iso13370::periodic_outside_slab(1, by.soil, by.equivalent_thickness, floor.depth), .months = iso13370::periodic_lag(by.equivalent_thickness, floor.depth)};
    floor.by_standard_inside = {.size = iso13370::periodic_inside_slab(by.section_length, by.soil, by.equivalent_thickness, floor.depth), .months = iso13370::periodic_lead(by.equivalent_thickness, floor.depth)};
    return floor;
}

}  // namespace

YearOf year_of(const std::array<double, months_of_a_year>& values) {
    YearOf year;
    for (std::size_t m = 0; m < months_of_a_year; ++m) {
        year.mean += values[m] / months_of_a_year;
        year.wave += 2.0 / months_of_a_year * values[m] * std::polar(1.0, -per_month * double(m));
    }
    constexpr double round_off = 1e-12;
    if (std::abs(year.wave) < round_off * (1 + std::abs(year.mean))) year.wave = 0;
    for (std::size_t m = 0; m < months_of_a_year; ++m)
        year.most_off = std::max(year.most_off, std::abs(values[m] - year.mean - (year.wave * std::polar(1.0, per_month * double(m))).real()));
    return year;
}

ClimateMonth month_of(const YearWave& year, std::size_t month, double inside_mean) {
    const double cosine = std::cos(per_month * (double(month) + 1 - year.coldest_month));
    return {.outside = year.outside_mean - year.outside_amplitude * cosine, .humidity = 0, .inside = inside_mean - year.inside_amplitude * cosine};
}

bool same_room_temperature(double a, double b) {
    constexpr double round_off = 1e-9;  // K
    return std::abs(a - b) <= round_off;
}

bool states_year(const Study& study) { return study.climate && (study.climate->year || study.climate->months.size() == months_of_a_year); }

std::vector<std::vector<int>> faces_by_region(const std::vector<int>& face_region, std::size_t regions) {
    std::vector<std::vector<int>> faces(regions);
    for (std::size_t f = 0; f < face_region.size(); ++f)
        if (face_region[f] >= 0 && std::size_t(face_region[f]) < regions) faces[face_region[f]].push_back(int(f));
    return faces;
}

double heat_capacity_of(const Study& study, const Material& material, std::vector<std::string>& assumed) {
    if (!material.mix.empty()) {
        double sum = 0;
        for (const MixPart& part : material.mix)
            if (const Material* of = study.find_material(part.material)) sum += part.fraction * heat_capacity_of(study, *of, assumed);
        if (sum > 0) return sum;
    }
    if (material.density && material.heat_capacity && *material.density > 0) return *material.density * *material.heat_capacity;
    const UsualCapacity usual = usual_capacity(material.kind);
    double capacity = material.density && *material.density > 0 ? *material.density * usual.by_mass : usual.by_volume;
    if (material.kind == MaterialKind::soil) {
        constexpr double clay = 3.0e6, other_soil = 2.0e6;  // ISO 13370
        capacity = site_value(study, "soil") == "clay" ? clay : other_soil;
    }
    const std::string told = shown_name(material) + " " + fixed(capacity / 1e6, capacity < 1e5 ? 3 : 2);
    if (std::find(assumed.begin(), assumed.end(), told) == assumed.end()) assumed.push_back(told);
    return capacity;
}

std::optional<Seasons> seasons_of(const SeasonSource& source, const Context& context) {
    const SectionView& view = source.view;
    Seasons seasons;
    std::vector<double> by_face(view.arrangement.faces.size(), 0);
    double soil_capacity = 0;
    for (std::size_t f = 0; f < by_face.size(); ++f) {
        const Face& face = view.arrangement.faces[f];
        if (face.kind != FaceKind::solid || face.piece < 0) continue;
        const Material* material = view.study.find_material(view.section.pieces[face.piece].filled_with);
        if (!material) continue;
        by_face[f] = heat_capacity_of(view.study, *material, seasons.assumed);
        if (material->kind == MaterialKind::soil) soil_capacity = by_face[f];
    }
    if (soil_capacity == 0) return std::nullopt;
    const auto loads = loads_of(source);
    const double inside = source.inside >= 0 ? view.temperatures[source.inside] : view.study.used_convention().inside_temperature;
    const auto months = months_stated(view.study, inside);
    if (months) seasons.outside = year_of(months->outside), seasons.inside = year_of(months->inside);
    const auto flows = year_answer(source.flows, view.arrangement, by_face, loads, context);
    if (!flows) return std::nullopt;
    seasons.elements = flows->best().mesh.triangles.size();
    for (std::size_t i = 0; i < view.section.spaces.size(); ++i) {
        const SpaceKind kind = view.section.spaces[i].kind;
        if (kind != SpaceKind::inside && kind != SpaceKind::unheated) continue;
        const auto touches = [&](const ContactEdge& edge) { return edge.contact == int(i); };
        if (std::any_of(source.flows.solution.contact_edges.begin(), source.flows.solution.contact_edges.end(), touches)) seasons.flows.push_back(season_flow(*flows, int(i), seasons));
    }
    if (months && source.inside >= 0) {
        const auto apart = source.surfaces ? year_answer(*source.surfaces, view.arrangement, by_face, loads, context) : std::nullopt;
        if (!source.surfaces || apart) seasons.surface = season_surface(apart ? *apart : *flows, seen_parts(source.view.section), source.inside, *months, *seasons.outside, *seasons.inside);
    }
    seasons.floor = season_floor(source, by_face, soil_capacity, context);
    return seasons;
}

}  // namespace wallfoot
