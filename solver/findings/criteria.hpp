// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/study/study.hpp"

namespace wallfoot {

struct Derivation;
struct Findings;

/// What one step of refinement gave.
struct MeshStep {
    std::size_t elements = 0;
    double flow = 0;             ///< Σ|Φ| of all spaces, W/m per kelvin of the largest difference
    std::optional<double> fRsi;  ///< lowest, of the headline's inside space
};

/// Where a section is cut, against where a convention asks it to be; distances from the drawn cut, µm.
struct CutDistance {
    CutSide side = CutSide::left;
    Micrometres needed = 0, present = 0;
};

/// The numerical criteria of ISO 10211:2017 (from memory: doubling the subdivisions changes Σ|Φ| by at most 1 % and fRsi by at
/// most 0.005; |ΣΦ| below 1e-4 of half Σ|Φ|), said beside the proven bracket, which is the stronger statement.
struct Criteria {
    MeshStep coarse, fine;       ///< fine has at least twice the elements
    double balance = 0;          ///< |ΣΦ|/(½·Σ|Φ|)
    std::vector<CutDistance> cuts;

    static constexpr double most_flow_change = 0.01, most_fRsi_change = 0.005, most_balance = 1e-4;
    double flow_change() const { return fine.flow == 0 ? 0 : (fine.flow > coarse.flow ? fine.flow - coarse.flow : coarse.flow - fine.flow) / fine.flow; }
    std::optional<double> fRsi_change() const {
        if (!coarse.fRsi || !fine.fRsi) return std::nullopt;
        return *fine.fRsi > *coarse.fRsi ? *fine.fRsi - *coarse.fRsi : *coarse.fRsi - *fine.fRsi;
    }
    bool cuts_far_enough() const;
    bool met() const;
};

/// The criteria as a derivation, with a sentence that says what the bracket means.
Derivation derive_criteria(const Findings& findings);

}  // namespace wallfoot
