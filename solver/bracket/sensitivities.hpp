// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "solver/bracket/solution.hpp"
#include "solver/mesh/mesh.hpp"

namespace wallfoot {

/// Derivatives of every coupling coefficient with respect to the conductivity of every region and the resistance of every
/// sort of surface, read off the fields of one solution: nothing is solved again. By the envelope theorem
///   ∂K^U_ef/∂kx = ∫ ∂x T_e ∂x T_f,   ∂K^U_ef/∂R = −∫ (T_e − g_e)(T_f − g_f)/R²,
///   ∂K^L_ef/∂kx = ∫ q_e q_f / kx² (x parts),   ∂K^L_ef/∂R = −∫ q_e·n q_f·n,
/// exact for both energies on the mesh at hand (g_e: 1 on the surfaces of space e, else 0).
class Sensitivities {
  public:
    explicit Sensitivities(const Solution& solution);

    /// (W/(m·K)) per (W/(m·K)): of the coupling of spaces a and b with the conductivity of a region along x and along y.
    Slope along_x(int a, int b, int region) const { return slope(a, b, axes_[region][0]); }
    Slope along_y(int a, int b, int region) const { return slope(a, b, axes_[region][1]); }
    /// (W/(m·K)) per (m²·K/W), in the order of `surfaces()`.
    Slope surface(int a, int b, int index) const { return slope(a, b, by_surface_[index]); }

    int regions() const { return static_cast<int>(axes_.size()); }
    /// Space and resistance of every sort of surface with a resistance above 0, sorted.
    const std::vector<ContactKind>& surfaces() const { return surfaces_; }

    /// Derivatives of the bounding energies K^U_aa and K^L_aa of space a against all others together. K_aa is concave in
    /// all conductivities: K_aa(k') ≤ K^U_aa + Σ (k' − k)·upper for any k', whatever the mesh.
    Slope energy_along_x(int a, int region) const { return diagonal(a, axes_[region][0]); }
    Slope energy_along_y(int a, int region) const { return diagonal(a, axes_[region][1]); }

    /// Derivatives of Couplings::heat_flow(a, temperatures): W/m per unit of the conductivity or resistance.
    Slope flow_along_x(int a, const std::vector<double>& temperatures, int region) const { return flow(a, temperatures, axes_[region][0]); }
    Slope flow_along_y(int a, const std::vector<double>& temperatures, int region) const { return flow(a, temperatures, axes_[region][1]); }
    Slope flow_surface(int a, const std::vector<double>& temperatures, int index) const { return flow(a, temperatures, by_surface_[index]); }

  private:
    /// ∂K^U and ∂K^L by one quantity, row-major contacts × contacts.
    struct Matrices {
        std::vector<double> upper, lower;
    };
    Slope slope(int a, int b, const Matrices& by) const;
    Slope diagonal(int a, const Matrices& by) const;
    Slope flow(int a, const std::vector<double>& temperatures, const Matrices& by) const;
    void add_triangle(const Solution& solution, int triangle);
    void add_surface(const Solution& solution, const ContactEdge& edge);

    int contacts_;
    std::vector<double> gap_;                      ///< K^U − K^L, row-major
    std::vector<std::array<Matrices, 2>> axes_;    ///< by region
    std::vector<ContactKind> surfaces_;
    std::vector<Matrices> by_surface_;
};

}  // namespace wallfoot
