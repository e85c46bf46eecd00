// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/surface_profile.hpp"

#include <cmath>
#include <map>

#include "core/standards/iso13788.hpp"
#include "solver/findings/elements.hpp"
#include "solver/findings/numbers.hpp"

namespace wallfoot {

namespace {

/// An edge of the mesh on the surface, from vertex to vertex with the solid on its left, and the temperatures of its nodes.
struct SurfaceSpan {
    int from = 0, to = 0;
    double at_from = 0, at_middle = 0, at_to = 0;
};

/// The field that the surface is judged by.
const Solution& checked_field(const Findings& findings) { return findings.check_solution ? *findings.check_solution : *findings.solution; }

std::vector<SurfaceSpan> spans_of(const Findings& findings, int space) {
    const Solution& solution = checked_field(findings);
    const auto nodes = solution.temperatures_for(findings.temperatures);
    std::vector<SurfaceSpan> spans;
    for (const ContactEdge& edge : solution.contact_edges) {
        if (edge.contact != space) continue;
        const auto triangle = static_cast<std::size_t>(edge.triangle);
        const auto corner = static_cast<std::size_t>(edge.corner), a = (corner + 1) % 3, b = (corner + 2) % 3;
        spans.push_back({solution.triangles[triangle][a], solution.triangles[triangle][b], nodes[triangle][a], nodes[triangle][3 + corner], nodes[triangle][b]});
    }
    return spans;
}

/// Each connected run from its beginning; a closed one from any of its edges.
std::vector<std::vector<SurfaceSpan>> runs_of(const std::vector<SurfaceSpan>& spans) {
    std::multimap<int, std::size_t> starting;
    std::map<int, int> balance;  // starts less ends at a vertex
    for (std::size_t i = 0; i < spans.size(); ++i) {
        starting.emplace(spans[i].from, i);
        ++balance[spans[i].from], --balance[spans[i].to];
    }
    std::vector<std::vector<SurfaceSpan>> runs;
    const auto follow = [&](int vertex) {
        std::vector<SurfaceSpan> run;
        for (auto next = starting.find(vertex); next != starting.end(); next = starting.find(vertex)) {
            run.push_back(spans[next->second]);
            vertex = run.back().to;
            starting.erase(next);
        }
        if (!run.empty()) runs.push_back(std::move(run));
    };
    for (const auto& [vertex, excess] : balance)
        for (int i = 0; i < excess; ++i) follow(vertex);
    while (!starting.empty()) follow(starting.begin()->first);
    return runs;
}

/// The climate of the month that decides, for the humidity at a surface.
struct DecidingMonth {
    double outside = 0, inside = 0, pressure = 0;
};

std::optional<DecidingMonth> deciding_month(const Study& study, const Findings& findings, int space) {
    for (const SurfaceVerdict& verdict : findings.verdicts) {
        if (verdict.demand != SurfaceDemand::mould || !verdict.month || verdict.space != space || !study.climate) continue;
        const ClimateMonth& month = study.climate->months[*verdict.month];
        const double inside = month.inside.value_or(findings.temperatures[static_cast<std::size_t>(space)]);
        // What is asked is the factor at which the humidity is 80 %: the pressure follows.
        const double surface = month.outside + *verdict.asked * (inside - month.outside);
        return DecidingMonth{month.outside, inside, iso13788::mould_humidity * iso13788::saturation_pressure(surface)};
    }
    return std::nullopt;
}

}  // namespace

SurfaceProfile surface_profile(const Study& study, const Findings& findings, int space) {
    SurfaceProfile profile;
    if (!findings.solution || space < 0) return profile;
    const int outside = coldest_outside_space(*findings.section, findings.temperatures);
    const double cold = outside < 0 ? 0 : findings.temperatures[static_cast<std::size_t>(outside)], difference = outside < 0 ? 0 : findings.temperatures[static_cast<std::size_t>(space)] - cold;
    // With more than two spaces no one factor carries over to another month.
    const auto month = findings.section->spaces.size() > 2 ? std::nullopt : deciding_month(study, findings, space);
    const auto& points = checked_field(findings).points;
    for (const auto& run : runs_of(spans_of(findings, space))) {
        std::vector<ProfilePoint> line;
        double along = 0;
        const auto add = [&](double x, double y, double temperature) {
            ProfilePoint point{.along = along, .x = x / 1000, .y = y / 1000, .temperature = temperature, .factor = {}, .humidity = {}};
            if (difference != 0) point.factor = (temperature - cold) / difference;
            if (point.factor && month) point.humidity = month->pressure / iso13788::saturation_pressure(month->outside + *point.factor * (month->inside - month->outside));
            line.push_back(point);
        };
        for (const SurfaceSpan& span : run) {
            const auto &a = points[static_cast<std::size_t>(span.from)], &b = points[static_cast<std::size_t>(span.to)];
            const double length = std::hypot(b[0] - a[0], b[1] - a[1]) * 1e-6;
            if (line.empty()) add(a[0], a[1], span.at_from);
            along += length / 2;
            add((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, span.at_middle);
            along += length / 2;
            add(b[0], b[1], span.at_to);
        }
        profile.push_back(std::move(line));
    }
    return profile;
}

std::string profile_csv(const SurfaceProfile& profile) {
    std::string text = "run,along_m,x_mm,y_mm,temperature_C,fRsi,humidity_percent\r\n";
    for (std::size_t run = 0; run < profile.size(); ++run)
        for (const ProfilePoint& point : profile[run])
            text += std::to_string(run + 1) + "," + fixed(point.along, 4) + "," + fixed(point.x, 2) + "," + fixed(point.y, 2) + "," + fixed(point.temperature, 3) + "," +
                    (point.factor ? fixed(*point.factor, 4) : "") + "," + (point.humidity ? fixed(100 * *point.humidity, 1) : "") + "\r\n";
    return text;
}

}  // namespace wallfoot
