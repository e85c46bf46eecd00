// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "core/file/study_file.hpp"
#include "solver/findings/balance.hpp"
#include "solver/findings/find_stated.hpp"
#include "solver/findings/floor_width.hpp"

// From what a study states to findings: temperatures by balance and other widths of the floor take more than one solve.
namespace wallfoot {

namespace {

/// The variant with these temperatures stated for the spaces whose balance asks for them.
Variant with_temperatures(const Variant& variant, const std::vector<std::optional<SpaceBalance>>& balances, const std::vector<double>& temperatures) {
    auto section = std::make_shared<Section>(*variant.section);
    for (std::size_t i = 0; i < balances.size(); ++i)
        if (balances[i]) section->spaces[i].temperature = temperatures[i];
    Variant stated = variant;
    stated.section = std::move(section);
    return stated;
}

/// Couplings do not depend on temperatures but by their order (RULES 4): solved once for them, again with what they give,
/// and once more only where that changes the order.
std::shared_ptr<const Findings> find_balanced(const Study& study, const Variant& variant, const FindingsOptions& options, const Context& context) {
    constexpr int most_rounds = 4;
    std::string pointer;
    for (std::size_t i = 0; i < study.variants.size(); ++i)
        if (study.variants[i].id == variant.id) pointer = "/variants/" + std::to_string(i);
    const auto balances = balances_of(*variant.section, pointer);
    std::vector<double> temperatures = ordering_temperatures(study, *variant.section);
    const auto in_order = [](const std::vector<double>& t) {
        std::vector<std::size_t> order(t.size());
        for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
        std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return t[a] < t[b]; });
        return order;
    };
    const auto as_drawn = [&](const std::shared_ptr<const Findings>& found) {
        auto own = std::make_shared<Findings>(*found);
        own->section = variant.section;
        own->input_hash = input_hash(study, variant);
        if (!own->has_fault() && !own->couplings.empty())
            for (Derivation& derivation : derive_balances(*own, balances)) {
                derivation.version = own->formulas.of(derivation.id);
                own->derivations.push_back(std::move(derivation));
            }
        return std::shared_ptr<const Findings>(std::move(own));
    };
    FindingsOptions quiet = options;
    quiet.on_coarse = {};
    quiet.slopes = quiet.seasons = false;
    quiet.at.clear();
    for (int round = 0; round < most_rounds; ++round) {
        const auto found = find_stated(study, with_temperatures(variant, balances, temperatures), quiet, context);
        if (found->has_fault()) return as_drawn(found);
        const auto settled = balanced_temperatures(*variant.section, balances, temperatures, found->couplings);
        const bool same = in_order(settled) == in_order(temperatures);
        temperatures = settled;
        if (same) break;
    }
    FindingsOptions last = options;
    if (options.on_coarse) last.on_coarse = [&](std::shared_ptr<const Findings> coarse) { options.on_coarse(as_drawn(coarse)); };
    return as_drawn(find_stated(study, with_temperatures(variant, balances, temperatures), last, context));
}

}  // namespace

std::shared_ptr<const Findings> find(const Study& study, const Variant& variant, const FindingsOptions& options,
                                     const Context& context) {
    const auto& spaces = variant.section->spaces;
    const bool balanced = std::any_of(spaces.begin(), spaces.end(), [](const Space& space) { return !space.temperature && space.balance; });
    auto found = balanced ? find_balanced(study, variant, options, context) : find_stated(study, variant, options, context);
    return options.floor_widths ? with_floor_widths(study, variant, std::move(found), options, context) : found;
}

}  // namespace wallfoot
