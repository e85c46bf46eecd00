// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "core/context/context.hpp"
#include "solver/mesh/model.hpp"

namespace wallfoot {

struct Mesh;

/// A value with proven bounds of the section as drawn: lower ≤ exact ≤ upper.
struct Bracketed {
    double value = 0, lower = 0, upper = 0;
    double width() const { return upper - lower; }
};

/// One boundary edge of the solved mesh that meets a space.
struct ContactEdge {
    int triangle = 0, corner = 0;  ///< the edge opposite this corner
    int contact = 0;
    double resistance = 0;
};

/// How fast a value and its two bounds change with one quantity. The true derivative need not lie between those of the
/// bounds.
struct Slope {
    double value = 0, lower = 0, upper = 0;
};

/// Mean temperature over a short straight piece of a space's surface around its coldest point, with proven bounds.
struct SurfaceMean {
    int contact = -1;
    double length_mm = 0;                ///< of the piece
    std::array<double, 2> from{}, to{};  ///< its ends, µm
    Bracketed temperature;               ///< for SolveOptions::temperatures, in their unit
    double likely_error = 0;             ///< of the field on that piece: distance of its own mean from the bracket's middle
    /// With SolveOptions::surface_slopes: derivatives of the mean by the conductivity of every region along x and y, and by
    /// every resistance of the surfaces (parallel to Sensitivities::surfaces).
    std::vector<std::array<Slope, 2>> by_region;
    std::vector<Slope> by_surface;
};

/// Both bounding energies of a section with several spaces, and what they say of its couplings and heat flows.
struct Couplings {
    int contacts = 0;
    std::vector<double> upper_energy, lower_energy, gap;  ///< K^U, K^L, G; row-major contacts × contacts

    /// Thermal coupling coefficient L2D between two different spaces, W/(m·K); widened outward by the round-off estimate.
    Bracketed coupling(int a, int b) const;
    /// The largest coupling coefficient of all pairs; 0 with fewer than two spaces.
    double largest_coupling() const;
    /// Heat flow from space `a` into the construction for the given temperatures, W/m.
    Bracketed heat_flow(int a, const std::vector<double>& temperatures) const;
};

/// Temperature and stream function on one mesh, for unit loads: load k has space k at 1, all others at 0.
/// Nodal values per triangle: corners 0 1 2, then the midpoints of the edges opposite them (values, not bubbles).
struct Solution : Couplings {
    std::vector<std::array<double, 2>> points;      ///< mesh vertices, µm
    std::vector<std::array<int, 3>> triangles;      ///< anticlockwise
    std::vector<std::array<int, 3>> neighbours;     ///< across the edge opposite corner i; -1 at the boundary
    std::vector<int> region;                        ///< of each triangle, index into Model::regions
    std::vector<Region> regions;
    std::vector<ContactEdge> contact_edges;

    /// temperature[k][t] and stream[k][t] for load k: six nodal values of triangle t. The stream function is in W/m per kelvin.
    std::vector<std::vector<std::array<double, 6>>> temperature, stream;
    int unknowns = 0;            ///< of both fields together
    double seconds = 0;
    bool converged = false;      ///< every requested width is within the tolerance
    std::optional<SurfaceMean> surface_mean;  ///< when SolveOptions::surface_contact asked for it
    double point_change = 0;     ///< change of the lowest surface temperature in the last refinement step
    bool touching_fixed = false; ///< two fixed temperatures touch: no coupling coefficient exists (RULES 10)

    /// The heat flow from space `a` read off the temperature field and off the stream function alone (no bounds), W/m.
    double flow_from_temperature(int a, const std::vector<double>& temperatures) const;
    double flow_from_stream(int a, const std::vector<double>& temperatures) const;
    /// Fields for actual temperatures: six nodal values per triangle.
    std::vector<std::array<double, 6>> temperatures_for(const std::vector<double>& temperatures) const;
    std::vector<std::array<double, 6>> stream_for(const std::vector<double>& temperatures) const;
    /// Temperature at a point (µm); nothing outside the body.
    std::optional<double> temperature_at(double x, double y, const std::vector<double>& temperatures) const;
    /// Heat flow density at a point, W/m², from the stream function; nothing outside the body.
    std::optional<std::array<double, 2>> flux_at(double x, double y, const std::vector<double>& temperatures) const;
};

/// Lowest temperature on the surface of a space: the smallest value of the computed field along its contact edges,
/// also between vertices, and an estimate of its error (not a proven bound). Where the solution was refined for this
/// surface the estimate is three times the larger of the error seen on the mean beside it and the change in the last
/// step. Otherwise it is the largest difference on that surface between the temperature and the one that the heat flow
/// of the stream function implies: coarse, but never seen smaller than the true error.
struct SurfaceMinimum {
    double temperature = 0;
    std::array<double, 2> at{};  ///< µm
    double estimate = 0;         ///< K
};
/// `seen` tells of a piece of surface between two points (µm) which parts of it count, as shares of the way from the first
/// to the second; empty: all of it.
using SeenParts = std::function<std::vector<std::array<double, 2>>(const std::array<double, 2>&, const std::array<double, 2>&)>;
std::optional<SurfaceMinimum> surface_minimum(const Solution& solution, int contact, const std::vector<double>& temperatures, const SeenParts& seen = {});

/// At a corner two pieces of surface end in the coldest point: a point just beside it (less than 1 µm) on the one that
/// is colder at the same distance, at most 1 mm. The point itself when it lies inside an edge.
std::array<double, 2> on_colder_side(const Solution& solution, int contact, const std::vector<double>& temperatures,
                                     const std::array<double, 2>& at);

struct SolveOptions {
    double tolerance = 1e-4;        ///< W/(m·K), on upper − lower of every coupling coefficient
    double share = 0;               ///< when above 0: the tolerance is this share of the largest coupling coefficient
    int most_triangles = 400'000;   ///< honest stop
    int surface_contact = -1;       ///< refine also for the lowest temperature on this space's surface; -1 = no
    std::vector<double> temperatures;  ///< of all spaces, needed with surface_contact
    double surface_tolerance = 5e-4;   ///< half width of the mean, as a share of the largest temperature difference
    double surface_length_mm = 2;      ///< longest piece the mean is taken over
    bool surface_slopes = false;       ///< also the derivatives of that mean
    /// Share of the gap that the linear solver may leave: it only widens the bracket. 0 = fields as good as round-off allows.
    double linear_share = 2.5e-3;
    std::vector<int> wanted;        ///< contacts whose couplings count; empty = all
    bool two_threads = true;        ///< temperature and stream function side by side; the result is the same to the last bit
    /// Called after every solve with the present solution (coarse first); may be empty.
    std::function<void(const Solution&)> on_step;
};

/// Solves both fields adaptively until every bracket is within the tolerance. Deterministic. The first, coarse solve is
/// always finished; cancelling ends the refinement (then `converged` is false) – RULES 8.
/// `last_mesh`, when given, receives the mesh of the last solve.
/// Throws std::logic_error when a guard between mesh and model fails (RULES 2).
Solution solve(const Model& model, const SolveOptions& options = {}, const Context& context = {}, Mesh* last_mesh = nullptr);

}  // namespace wallfoot
