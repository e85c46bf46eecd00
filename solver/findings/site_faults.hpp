// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/details/detail.hpp"
#include "solver/findings/findings.hpp"

namespace wallfoot {

/// What one site fault of a starter detail does, against the detail as it is meant.
struct FaultEffect {
    std::string id, name, about;
    std::shared_ptr<const Findings> findings;
    std::optional<Bracketed> psi;          ///< rise of psi, W/(m·K), with what both brackets leave open
    std::optional<double> factor;          ///< rise of fRsi; a fall makes the coldest surface colder
    double factor_open = 0;                ///< what both error estimates leave open of it
    std::vector<std::string> reached;      ///< names of pieces that water reaches only now
    std::vector<std::string> no_longer_reached;
    std::vector<std::string> rules_worse;  ///< names of rules that are not met now, and were better before
    std::vector<std::string> rules_open;   ///< undecided now, and met before or not asked
    /// psi and the coldest surface move apart: one gets better, the other worse.
    bool mixed() const;
};

/// All site faults of a detail, the one that raises psi most first; of those that change nothing in psi the one with the
/// coldest surface first.
struct SiteFaults {
    std::string detail;
    std::shared_ptr<const Findings> meant;
    std::vector<FaultEffect> effects;
};

/// `settings`: parameters as set; its switches are not asked. Throws InputFault as make_study, or where a section made is
/// faulty; Cancelled.
SiteFaults site_faults(const Detail& detail, DetailSettings settings, const FindingsOptions& options = {}, const Context& context = {});

/// The change with its sign; "none within …" where it lies in what is left open, "–" where it has no value.
std::string psi_change(const FaultEffect& effect);
std::string factor_change(const FaultEffect& effect);
/// What else there is to say of one: signs that move apart, water, rules.
std::vector<std::string> notes_of(const FaultEffect& effect);

std::string site_faults_text(const SiteFaults& faults);
std::string site_faults_json(const SiteFaults& faults);

}  // namespace wallfoot
