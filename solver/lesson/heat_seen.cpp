// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/lesson/heat_seen.hpp"

#include <algorithm>
#include <cmath>

#include "core/study/names.hpp"
#include "solver/field/contours.hpp"

namespace wallfoot {

namespace {

bool inside_ring(const Outline& ring, double x, double y) {
    bool inside = false;
    for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
        const double xi = static_cast<double>(ring[i].x), yi = static_cast<double>(ring[i].y), xj = static_cast<double>(ring[j].x), yj = static_cast<double>(ring[j].y);
        if ((yi > y) != (yj > y) && x < xi + (y - yi) / (yj - yi) * (xj - xi)) inside = !inside;
    }
    return inside;
}

/// Whether the heat goes from the first point to the last; told by the first place along the line where a flux is known.
bool runs_with_the_heat(const Solution& solution, const std::vector<double>& temperatures, const std::vector<std::array<double, 2>>& points) {
    const auto warm = solution.temperature_at(points.front()[0], points.front()[1], temperatures), cold = solution.temperature_at(points.back()[0], points.back()[1], temperatures);
    if (warm && cold && std::abs(*warm - *cold) > 1e-6) return *warm > *cold;
    for (std::size_t i = points.size() / 2; i + 1 < points.size(); ++i) {
        const double dx = points[i + 1][0] - points[i][0], dy = points[i + 1][1] - points[i][1];
        if (const auto flux = solution.flux_at(points[i][0] + dx / 2, points[i][1] + dy / 2, temperatures)) return (*flux)[0] * dx + (*flux)[1] * dy > 0;
    }
    return true;
}

}  // namespace

HeatTracers heat_tracers(const Solution& solution, const std::vector<double>& temperatures, int most, double share) {
    HeatTracers tracers;
    const auto stream = solution.stream_for(temperatures);
    const auto [low, high] = field_span(stream);
    if (!(high - low > 1e-9)) return tracers;  // below the noise of the solver nothing flows
    const bool given = share > 0 && (high - low) / share <= 10.0 * std::max(1, most);
    tracers.share = given ? share : nice_step(high - low, std::max(1, most));
    std::vector<double> levels;
    for (double level = low + tracers.share / 2; level < high - tracers.share * 1e-6; level += tracers.share) levels.push_back(level);
    for (ContourLine& line : contours(solution.points, solution.triangles, solution.neighbours, stream, levels)) {
        if (line.closed || line.points.size() < 2) continue;  // heat has a beginning and an end
        if (!runs_with_the_heat(solution, temperatures, line.points)) std::reverse(line.points.begin(), line.points.end());
        tracers.lines.push_back({std::move(line.points)});
    }
    return tracers;
}

const Piece* piece_seen(const Section& section, double x_um, double y_um) {
    for (auto piece = section.pieces.rbegin(); piece != section.pieces.rend(); ++piece) {
        if (!inside_ring(piece->outline, x_um, y_um)) continue;
        if (std::any_of(piece->holes.begin(), piece->holes.end(), [&](const Outline& hole) { return inside_ring(hole, x_um, y_um); })) continue;
        return &*piece;
    }
    return nullptr;
}

LineProfile line_profile(const Findings& findings, Point from, Point to, int samples) {
    LineProfile profile;
    if (from == to || !findings.solution || !findings.section || samples < 2) return profile;
    const double length = distance(from, to) / 1000;
    for (int i = 0; i < samples; ++i) {
        const double share = static_cast<double>(i) / (samples - 1);
        const double x = static_cast<double>(from.x) + share * static_cast<double>(to.x - from.x), y = static_cast<double>(from.y) + share * static_cast<double>(to.y - from.y);
        LineSample sample{share * length, findings.solution->temperature_at(x, y, findings.temperatures), {}};
        if (const auto flux = findings.solution->flux_at(x, y, findings.temperatures)) sample.flux = std::hypot((*flux)[0], (*flux)[1]);
        profile.samples.push_back(sample);
    }
    // Layers are finer than samples may be: a millimetre at most, and the border between two in the middle of a step.
    const int steps = std::clamp(static_cast<int>(std::ceil(length)), samples, 20'000);
    const auto name_at = [&](double share) {
        const Piece* piece = piece_seen(*findings.section, static_cast<double>(from.x) + share * static_cast<double>(to.x - from.x), static_cast<double>(from.y) + share * static_cast<double>(to.y - from.y));
        return piece && piece->fill == Fill::material ? shown_name(*piece) : std::string();
    };
    for (int i = 0; i <= steps; ++i) {
        const double share = (i + 0.5) / (steps + 1);
        const std::string name = name_at(share);
        if (!profile.layers.empty() && profile.layers.back().name == name) continue;
        double begin = 0;
        if (!profile.layers.empty()) {
            double before = (i - 0.5) / (steps + 1), behind = share;  // the border lies between
            for (int halved = 0; halved < 30; ++halved) {
                const double half = (before + behind) / 2;
                (name_at(half) == profile.layers.back().name ? before : behind) = half;
            }
            begin = length * (before + behind) / 2;
            profile.layers.back().to = begin;
        }
        profile.layers.push_back({begin, length, name});
    }
    const auto at = [&](double along) {
        const double share = along / length;
        return findings.solution->temperature_at(static_cast<double>(from.x) + share * static_cast<double>(to.x - from.x), static_cast<double>(from.y) + share * static_cast<double>(to.y - from.y), findings.temperatures);
    };
    // Between solids the temperature is continuous. On a surface to air the last place that is still in the body may be hit or not:
    // then from the two nearest that are.
    const auto at_border = [&](double border, double inwards) {
        if (const auto there = at(border)) return there;
        const auto near = at(border + inwards), next = at(border + 2 * inwards);
        return near && next ? std::optional(2 * *near - *next) : near;
    };
    for (CrossedLayer& layer : profile.layers) {
        if (layer.name.empty()) continue;
        const double inwards = std::min(0.1, (layer.to - layer.from) / 4);
        const auto begins = at_border(layer.from, inwards), ends = at_border(layer.to, -inwards);
        if (begins && ends) layer.fall = *begins - *ends;
    }
    return profile;
}

TemperatureGrid temperature_grid(const Findings& findings, int most_cells) {
    TemperatureGrid grid;
    if (!findings.solution || !findings.section || most_cells < 1) return grid;
    grid.cut = findings.section->cut;
    const double width = static_cast<double>(grid.cut.width()), height = static_cast<double>(grid.cut.height());
    if (!(width > 0) || !(height > 0)) return grid;
    const double cell = std::sqrt(width * height / most_cells);
    grid.columns = std::clamp(static_cast<int>(width / cell), 1, most_cells);
    grid.rows = std::clamp(static_cast<int>(height / cell), 1, std::max(1, most_cells / grid.columns));
    grid.hundredths.assign(static_cast<std::size_t>(grid.columns) * static_cast<std::size_t>(grid.rows), TemperatureGrid::none);
    const double step_x = width / grid.columns, step_y = height / grid.rows, left = static_cast<double>(grid.cut.left) + step_x / 2, top = static_cast<double>(grid.cut.top) - step_y / 2;
    const Solution& solution = *findings.solution;
    const auto values = solution.temperatures_for(findings.temperatures);
    for (std::size_t t = 0; t < solution.triangles.size(); ++t) {
        const auto corner = [&](int i) { return solution.points[static_cast<std::size_t>(solution.triangles[t][static_cast<std::size_t>(i)])]; };
        const auto a = corner(0), b = corner(1), c = corner(2);
        const double twice = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
        const auto column = [&](double x) { return std::clamp((x - left) / step_x, -1.0, grid.columns + 0.0); };
        const auto row = [&](double y) { return std::clamp((top - y) / step_y, -1.0, grid.rows + 0.0); };
        const int first_column = std::max(0, static_cast<int>(std::ceil(column(std::min({a[0], b[0], c[0]})) - 1e-9))), last_column = std::min(grid.columns - 1, static_cast<int>(std::floor(column(std::max({a[0], b[0], c[0]})) + 1e-9)));
        const int first_row = std::max(0, static_cast<int>(std::ceil(row(std::max({a[1], b[1], c[1]})) - 1e-9))), last_row = std::min(grid.rows - 1, static_cast<int>(std::floor(row(std::min({a[1], b[1], c[1]})) + 1e-9)));
        for (int r = first_row; r <= last_row; ++r)
            for (int k = first_column; k <= last_column; ++k) {
                const double x = left + k * step_x, y = top - r * step_y;
                const double l1 = ((x - a[0]) * (c[1] - a[1]) - (y - a[1]) * (c[0] - a[0])) / twice, l2 = ((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / twice;
                const std::array<double, 3> l{1 - l1 - l2, l1, l2};
                if (std::min({l[0], l[1], l[2]}) < -1e-9) continue;
                double value = 0;
                for (std::size_t i = 0; i < 3; ++i) value += l[i] * (2 * l[i] - 1) * values[t][i] + 4 * l[(i + 1) % 3] * l[(i + 2) % 3] * values[t][3 + i];
                grid.hundredths[static_cast<std::size_t>(r) * static_cast<std::size_t>(grid.columns) + static_cast<std::size_t>(k)] = static_cast<std::int16_t>(std::clamp(std::lround(value * 100), -32'000L, 32'000L));
            }
    }
    return grid;
}

}  // namespace wallfoot
