// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <complex>
#include <optional>
#include <vector>

#include "core/context/context.hpp"
#include "solver/mesh/mesh.hpp"

namespace wallfoot {

/// Places on a triangle, by corner shares, at which a heat capacity is asked: the six-point rule that is exact to degree 4
/// (Dunavant 1985; from memory).
constexpr int capacity_places = 6;
const std::array<std::array<double, 3>, capacity_places>& capacity_shares();

/// Heat capacity by volume of every triangle at those places, J/(m³·K).
using Capacities = std::vector<std::array<double, capacity_places>>;

/// A wave of the temperatures of spaces and what it does: T(t) = Re(Θ·e^{iωt}).
struct PeriodicFields {
    /// By load, by triangle: values at the corners and the middles of the edges opposite them, in the unit of the load.
    std::vector<std::vector<std::array<std::complex<double>, 6>>> temperature;
    /// By load, by contact: heat flow from the space into the construction, W/m per unit of the load.
    std::vector<std::vector<std::complex<double>>> flow;
};

/// Solves −∇·(λ∇Θ) + iωρcΘ = 0 with quadratic elements. `omega` in 1/s, ≥ 0: 0 gives the steady fields of the same elements.
/// `loads[k][c]`: wave of the temperature of space c. `mesh` in µm with its boundary kinds; no two fixed temperatures may touch.
/// Nothing when the equations cannot be solved to 1e-7 of the load (a part that meets no space).
///
/// Real and imaginary part are solved together as [[K, −ωM], [−ωM, −K]]: symmetric and, as K is positive definite, quasi-definite, so
/// that LDLᵀ without pivoting exists for every order of the unknowns (Vanderbei 1995, doi 10.1137/0805005; from memory). The
/// complex LDLᵀ at hand is that of a Hermitian matrix, which K + iωM is not.
std::optional<PeriodicFields> periodic_fields(const Mesh& mesh, const Capacities& capacity, double omega, const std::vector<std::vector<double>>& loads,
                                              const Context& context = {});

/// Halves triangles until no edge is longer than `share` of the depth √(2λ/(ωρc)) to which the wave reaches in them. Throws Cancelled.
Mesh refined_for_wave(Mesh mesh, const std::vector<double>& region_capacity, double omega, double share, const Context& context = {});

}  // namespace wallfoot
