// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/dwelling/update.hpp"

#include <algorithm>
#include <filesystem>

#include "core/file/study_file.hpp"
#include "core/text/refuse_faults.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/psi.hpp"

namespace wallfoot {

namespace {

[[noreturn]] void no_psi(const std::string& file, const std::string& variant, DwellingLengths lengths, const std::string& reason) {
    throw InputFault(Message{Severity::fault, "dwelling-no-psi", {{"file", file}, {"variant", variant}, {"lengths", word_of(dwelling_length_words, lengths)}, {"reason", reason}}, {}, {}});
}

const Element* element_of(const Findings& findings, const std::string& id) {
    const auto at = std::find_if(findings.elements.begin(), findings.elements.end(), [&](const Element& e) { return e.id == id; });
    return at == findings.elements.end() ? nullptr : &*at;
}

/// A floor on soil is taken off as the coupling of the floor alone: its U is that over the length of its section.
std::vector<FlankingElement> flanking_of(const Findings& findings, const Psi& psi) {
    std::vector<FlankingElement> all;
    for (const TakenOff& off : psi.taken_off) {
        if (off.floor_alone) {
            const Element* floor = element_of(findings, off.element);
            if (const auto drawn = floor ? second_section_length(psi, *floor) : std::nullopt) all.push_back({off.element, significant(off.floor_alone->value / *drawn, 7), *drawn, {}});
        } else if (off.U && off.length_m) {
            // The part of the floor beyond its section stands by itself: one element is told once.
            if (!all.empty() && all.back().element == off.element) all.back().length += *off.length_m;
            else all.push_back({off.element, significant(*off.U, 7), *off.length_m, {}});
        }
    }
    return all;
}

/// Throws InputFault that names the file.
Study study_of(const std::string& folder, const std::string& file) {
    try {
        return load_study((std::filesystem::path(folder) / file).string()).study;
    } catch (const InputFault& fault) {
        throw InputFault(Message{Severity::fault, "dwelling-study-unreadable", {{"file", file}, {"reason", one_line(fault.faults().front(), "")}}, {}, {}});
    }
}

/// A value of a row or measure from a study, or null.
FromStudy* study_in(JunctionValue& value) { return std::get_if<FromStudy>(&value); }

}  // namespace

LastValue value_of_variant(const Study& study, const Variant& variant, const std::string& file, DwellingLengths lengths, const std::string& today, bool& reached, const Context& context) {
    std::shared_ptr<const Findings> findings;
    try {
        findings = find(study, variant, {}, context);
        refuse_faults(findings->messages);
    } catch (const InputFault& fault) {
        no_psi(file, variant.id, lengths, english(fault.faults().front()));
    }
    const LengthSystem system = lengths == DwellingLengths::external ? LengthSystem::external : LengthSystem::internal;
    const Psi* headline = findings->headline_psi();
    if (!headline) no_psi(file, variant.id, lengths, "it has no inside or no outside space.");
    const auto psi = std::find_if(findings->psi.begin(), findings->psi.end(), [&](const Psi& p) { return p.a == headline->a && p.b == headline->b && p.lengths == system; });
    if (psi == findings->psi.end() || !psi->value) no_psi(file, variant.id, lengths, why_missing(*findings, headline->a, headline->b, system, psi == findings->psi.end() ? headline->reason : psi->reason));
    reached = reached && findings->converged;
    // Seven decimals are more than any bracket supports; the bounds go outwards.
    LastValue last{rounded(psi->value->value, 7), rounded_down(psi->value->lower, 7), rounded_up(psi->value->upper, 7), findings->input_hash, today, lengths, flanking_of(*findings, *psi), {}, {}};
    const auto& spaces = findings->section->spaces;
    for (const Psi& other : findings->psi)
        if (other.lengths == system && other.value && (other.a != psi->a || other.b != psi->b))
            last.other_pairs.push_back({spaces[static_cast<std::size_t>(other.a)].id, spaces[static_cast<std::size_t>(other.b)].id, rounded(other.value->value, 7), {}});
    return last;
}

Updated update_dwelling(const Dwelling& dwelling, const std::string& folder, const std::string& today, UpdateWhat what, const Context& context) {
    Updated updated;
    updated.dwelling = dwelling;
    std::map<std::string, std::vector<FromStudy*>> wanted;  // by study and variant, in the order of their names
    for (Junction& junction : updated.dwelling.junctions)
        if (FromStudy* from = study_in(junction.value)) wanted[study_key(*from)].push_back(from);
    for (DwellingMeasure& measure : updated.dwelling.measures)
        if (FromStudy* from = study_in(measure.value)) wanted[study_key(*from)].push_back(from);
    if (what == UpdateWhat::out_of_date) {
        const StudiesNow now = studies_now(dwelling, folder);
        std::erase_if(wanted, [&](const auto& entry) {
            return std::all_of(entry.second.begin(), entry.second.end(), [&](const FromStudy* from) { return is_up_to_date(*from, now, dwelling.lengths); });
        });
    }
    std::size_t done = 0;
    std::string read_file;
    std::optional<Study> study;
    for (auto& [key, all] : wanted) {
        context.check();
        const double before = static_cast<double>(done++), all_of_them = static_cast<double>(wanted.size());
        context.report(before / all_of_them);
        Context inner([&, self = &inner](double share) {
            if (context.cancelled()) self->cancel();
            context.report((before + std::clamp(share, 0.0, 1.0)) / all_of_them);
        });
        const FromStudy& first = *all.front();
        try {
            if (!study || read_file != first.file) {
                study.reset();
                study = study_of(folder, first.file);
                read_file = first.file;
            }
            const auto variant = std::find_if(study->variants.begin(), study->variants.end(), [&](const Variant& v) { return v.id == first.variant; });
            if (variant == study->variants.end()) throw InputFault(Message{Severity::fault, "dwelling-variant-gone", {{"file", first.file}, {"variant", first.variant}}, {}, {}});
            const LastValue last = value_of_variant(*study, *variant, first.file, updated.dwelling.lengths, today, updated.reached, inner);
            for (FromStudy* from : all) from->last = last;
        } catch (const InputFault& fault) {
            updated.troubles[key] = fault.faults().front();
        }
    }
    context.report(1);
    updated.studies = studies_now(updated.dwelling, folder);
    return updated;
}

}  // namespace wallfoot
