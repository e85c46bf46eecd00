// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "solver/bracket/energies.hpp"
#include "solver/bracket/solution.hpp"
#include "solver/mesh/mesh.hpp"

namespace wallfoot {

/// A short piece of a space's surface, made a space of its own for a moment: its net flow has a bracket like any
/// coupling, and with it the mean surface temperature (Ta − R·Q/length).
struct Window {
    int contact = -1;      ///< space whose surface it is part of
    int own = -1;          ///< index of the extra contact that stands for the piece
    double resistance = 0; ///< m²·K/W
    double length_m = 0;
    std::array<double, 2> from{}, to{};
    std::vector<std::pair<int, int>> edges;  ///< (triangle, corner)
};

/// Refines the mesh at the boundary point `at` (µm) until the edge there is no longer than `longest_mm`, then gives
/// that edge and its straight neighbours, up to that length, to an extra contact. Nothing for a contact without
/// resistance, whose surface temperature is the space's.
std::optional<Window> open_window(Mesh& mesh, int contact, const std::array<double, 2>& at, double longest_mm);

/// Gives the piece back to its space (marks and number of contacts as before).
void close_window(Mesh& mesh, const Window& window);

/// Bracket of the mean temperature over the piece. `mesh`, `e`: with the extra contact; temperatures of the spaces.
SurfaceMean mean_over(const Window& window, const Mesh& mesh, const Energies& e, const std::vector<double>& temperatures,
                      const std::vector<std::vector<Quadratic>>& temperature);

/// Derivatives of that mean, into `mean`. `solution`: with the extra contact still a space of its own.
void add_slopes(SurfaceMean& mean, const Window& window, const Solution& solution, const std::vector<double>& temperatures);

/// Adds the extra contact's load to its space: fields and energies as if the window had never been.
void merge_window(const Window& window, Energies& e, std::vector<std::vector<Quadratic>>& temperature,
                  std::vector<std::vector<Quadratic>>& stream);

}  // namespace wallfoot
