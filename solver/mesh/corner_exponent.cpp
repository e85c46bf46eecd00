// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/mesh/corner_exponent.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace wallfoot {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double harmless = 0.5;
constexpr int halvings = 60;

/// A wedge stretched to equal conductivity on both axes: angle and conductivity √(kx·ky) there.
struct Wedge {
    double angle, conductivity;
};

/// A fan after stretching. `stretch`: logarithm of what one turn does to r beyond r^α itself (0 for equal axes).
struct Wedges {
    std::vector<Wedge> list;
    double stretch = 0;
};

Wedges stretched(const CornerFan& fan) {
    Wedges w;
    for (const auto& s : fan.sectors) {
        const double fx = 1 / std::sqrt(s.region.kx), fy = 1 / std::sqrt(s.region.ky);
        const double ax = fx * static_cast<double>(s.from.x), ay = fy * static_cast<double>(s.from.y);
        const double bx = fx * static_cast<double>(s.to.x), by = fy * static_cast<double>(s.to.y);
        double angle = std::atan2(ax * by - ay * bx, ax * bx + ay * by);
        if (angle <= 0) angle += 2 * pi;
        w.list.push_back({angle, std::sqrt(s.region.kx * s.region.ky)});
        if (s.region.kx == s.region.ky) continue;
        const auto length = [](Point p) { return std::hypot(static_cast<double>(p.x), static_cast<double>(p.y)); };
        w.stretch += std::log(std::hypot(bx, by) / std::hypot(ax, ay) * length(s.from) / length(s.to));
    }
    return w;
}

/// Phase of f (0 where f vanishes, π/2 where its flux does) carried through all wedges; grows with α.
double phase_after(const Wedges& w, double alpha, double phase) {
    for (std::size_t i = 0; i < w.list.size(); ++i) {
        if (i > 0 && w.list[i].conductivity != w.list[i - 1].conductivity) {
            const double half_turns = std::round(phase / pi) * pi;
            phase = half_turns + std::atan(w.list[i].conductivity / w.list[i - 1].conductivity * std::tan(phase - half_turns));
        }
        phase += alpha * w.list[i].angle;
    }
    return phase;
}

/// Trace of the transfer matrix of (f, flux/α) once around, less what eigenvalue 1 needs: 2, or a little more where the
/// turn stretches r. Not negative from the smallest exponent on, up to the next.
double excess_of_turn(const Wedges& w, double alpha) {
    double a = 1, b = 0, c = 0, d = 1;
    for (const auto& [angle, k] : w.list) {
        const double co = std::cos(alpha * angle), si = std::sin(alpha * angle);
        const double e = co * a + si / k * c, f = co * b + si / k * d;
        c = co * c - k * si * a;
        d = co * d - k * si * b;
        a = e, b = f;
    }
    return a + d - 2 * std::cosh(alpha * w.stretch);
}

/// Where a condition that begins to hold between two exponents does so.
template <class F>
double begins(double low, double high, F&& holds) {
    for (int i = 0; i < halvings && low < high; ++i) {
        const double middle = 0.5 * (low + high);
        (holds(middle) ? high : low) = middle;
    }
    return high;
}

double where_phase_reaches(const Wedges& w, double start, double end) {
    const auto holds = [&](double alpha) { return phase_after(w, alpha, start) >= end; };
    double high = harmless;
    while (!holds(high)) high *= 2;
    return begins(0.0, high, holds);
}

struct Ends {
    double start, end;
};

Ends ends_of(const CornerFan& fan) {
    const double start = fan.fixed_from ? 0 : pi / 2;
    // The flux, or f, vanishes again: a quarter turn on for different ends, half a turn for equal ones.
    return {start, start + (fan.fixed_from == fan.fixed_to ? pi : pi / 2)};
}

double exponent(const CornerFan& fan, const Wedges& w) {
    if (!fan.closed) {
        const auto [start, end] = ends_of(fan);
        return where_phase_reaches(w, start, end);
    }
    // A turn with f = 0 on the first ray has its first two exponents on both sides of the smallest free one.
    const double first = where_phase_reaches(w, 0, pi), second = where_phase_reaches(w, 0, 2 * pi);
    return begins(first, second, [&](double alpha) { return excess_of_turn(w, alpha) >= 0; });
}

/// Whether the exponent is at least `harmless`, by one evaluation there.
bool is_harmless(const CornerFan& fan, const Wedges& w) {
    if (!fan.closed) {
        const auto [start, end] = ends_of(fan);
        return phase_after(w, harmless, start) <= end;
    }
    const double phase = phase_after(w, harmless, 0);
    return phase <= pi || (phase <= 2 * pi && excess_of_turn(w, harmless) <= 0);
}

/// True where no contrast can bring the exponent below one half: one or two materials all around, or one with equal
/// axes and adiabatic sides.
bool plainly_harmless(const CornerFan& fan) {
    for (const auto& s : fan.sectors)
        if (s.region.kx != s.region.ky) return false;
    return fan.closed ? fan.sectors.size() <= 2 : fan.sectors.size() == 1 && fan.fixed_from == fan.fixed_to;
}

/// A line of the model as seen from one of its ends.
struct Spoke {
    Point direction;
    int left, right;  // regions, anticlockwise after and before it
    bool fixed;
};

/// Exact order by angle, from the direction of +x anticlockwise.
bool before(const Spoke& a, const Spoke& b) {
    const auto lower = [](Point p) { return p.y < 0 || (p.y == 0 && p.x < 0); };
    if (lower(a.direction) != lower(b.direction)) return lower(b.direction);
    return cross({0, 0}, a.direction, b.direction) > 0;
}

std::vector<CornerFan> fans_of(const Model& model, std::vector<Spoke> spokes) {
    std::sort(spokes.begin(), spokes.end(), before);
    const std::size_t n = spokes.size();
    // Begin at a line with nothing on its clockwise side, if there is one.
    const auto open = std::find_if(spokes.begin(), spokes.end(), [](const Spoke& s) { return s.right < 0; });
    const bool closed = open == spokes.end();
    if (!closed) std::rotate(spokes.begin(), open, spokes.end());
    std::vector<CornerFan> fans;
    for (std::size_t i = 0; i < n; ++i) {
        const Spoke &s = spokes[i], &next = spokes[(i + 1) % n];
        if (s.left < 0) continue;
        if (fans.empty() || (!closed && s.right < 0)) {
            fans.emplace_back();
            fans.back().closed = closed;
            fans.back().fixed_from = s.fixed;
        }
        fans.back().sectors.push_back({s.direction, next.direction, model.regions[s.left]});
        fans.back().fixed_to = next.fixed;
    }
    return fans;
}

}  // namespace

double corner_exponent(const CornerFan& fan) { return exponent(fan, stretched(fan)); }

std::vector<Corner> corners_of(const Model& model) {
    std::vector<std::vector<Spoke>> at(model.vertices.size());
    for (const auto& l : model.lines) {
        const Point a = model.vertices[l.from], b = model.vertices[l.to];
        const bool fixed = l.contact >= 0 && l.resistance == 0;
        at[l.from].push_back({{b.x - a.x, b.y - a.y}, l.left, l.right, fixed});
        at[l.to].push_back({{a.x - b.x, a.y - b.y}, l.right, l.left, fixed});
    }
    std::vector<Corner> corners(model.vertices.size());
    for (std::size_t v = 0; v < at.size(); ++v) {
        const auto fans = fans_of(model, std::move(at[v]));
        corners[v].fans = static_cast<int>(fans.size());
        for (const auto& fan : fans) {
            if (plainly_harmless(fan)) continue;
            if (const auto wedges = stretched(fan); !is_harmless(fan, wedges))
                corners[v].alpha = std::min(corners[v].alpha, exponent(fan, wedges));
        }
    }
    return corners;
}

}  // namespace wallfoot
