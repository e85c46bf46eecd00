// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/sweep.hpp"

#include <algorithm>

#include "core/file/fields.hpp"
#include "core/file/study_file.hpp"
#include "core/study/edits.hpp"
#include "core/study/materials.hpp"
#include "core/study/words.hpp"
#include "core/text/number_entry.hpp"
#include "solver/findings/numbers.hpp"

namespace wallfoot {

namespace {

constexpr Words<SweepWhat, 5> sweep_words{{{SweepWhat::conductivity, "conductivity"}, {SweepWhat::moisture, "moisture"}, {SweepWhat::material, "material"}, {SweepWhat::measure, "measure"}, {SweepWhat::temperature, "temperature"}}};
constexpr const char* sweep_trial = "sweep trial ";

bool takes_words(SweepWhat what) { return what == SweepWhat::moisture || what == SweepWhat::material; }

file::Range range_of(SweepWhat what) {
    if (what == SweepWhat::conductivity) return {conductivity_limits.least, conductivity_limits.most};
    return what == SweepWhat::measure ? file::some_length : file::temperatures;
}

SweepChange read_change(file::Found& found, const json::Value& value, const file::Where& place) {
    SweepChange change;
    file::Fields fields(found, value, place);
    change.what = fields.need_word("what", sweep_words);
    const char* target = change.what == SweepWhat::measure ? "measure" : change.what == SweepWhat::temperature ? "space" : "piece";
    fields.need(target);
    change.target = fields.text(target);
    fields.each("values", [&](const json::Value& item, const file::Where& at) {
        if (takes_words(change.what)) {
            const auto word = file::read_text(found, item, at);
            if (word && change.what == SweepWhat::moisture && !file::find_word(condition_words, *word)) file::unknown_word(found, at, *word, file::list_of(condition_words));
            if (word) change.words.push_back(*word);
        } else if (const auto number = file::read_number(found, item, at, range_of(change.what))) {
            change.numbers.push_back(*number);
        }
    });
    if (!takes_words(change.what)) {
        const auto from = fields.number("from", range_of(change.what)), to = fields.number("to", range_of(change.what)), steps = fields.number("steps", {1, 100'000});
        if (from && to && steps)
            for (int i = 0; i <= static_cast<int>(*steps); ++i) change.numbers.push_back(significant(*from + (*to - *from) * i / static_cast<int>(*steps), 12));
    }
    if (change.count() == 0) found.fault("sweep-no-values", place);
    fields.rest();
    return change;
}

[[noreturn]] void unknown_in_sweep(const char* code, const std::string& name, const Variant& variant) {
    throw InputFault(Message{Severity::fault, code, {{"name", name}, {"variant", variant.name.empty() ? variant.id : variant.name}}, {}, {}});
}

template <class Thing>
std::string id_of(const std::vector<Thing>& things, const std::string& name, const char* code, const Variant& variant) {
    for (const Thing& thing : things)
        if (thing.id == name || thing.name == name) return thing.id;
    unknown_in_sweep(code, name, variant);
}

/// The section with one value set; a material of its own for a conductivity.
Section with_value(Study& study, const Variant& variant, const Section& section, const SweepChange& change, std::size_t value) {
    switch (change.what) {
        case SweepWhat::measure: return set_stretch(section, id_of(section.stretch, change.target, "sweep-unknown-measure", variant), from_mm(change.numbers[value]));
        case SweepWhat::temperature: return set_temperature(section, id_of(section.spaces, change.target, "sweep-unknown-space", variant), change.numbers[value]);
        default: break;
    }
    const std::string piece = id_of(section.pieces, change.target, "sweep-unknown-piece", variant);
    if (change.what == SweepWhat::moisture) return set_moisture(section, piece, *file::find_word(condition_words, change.words[value]));
    if (change.what == SweepWhat::material) {
        for (const Material& material : study.materials)
            if (material.id == change.words[value] || material.name == change.words[value]) return set_material(section, piece, material.id);
        throw InputFault(Message{Severity::fault, "equal-unknown-material", {{"material", change.words[value]}}, {}, {}});
    }
    study.materials.push_back(plain_material(sweep_trial + piece, change.numbers[value]));
    return set_material(section, piece, study.materials.back().id);
}

std::vector<std::size_t> variants_of(const Study& study, const SweepPlan& plan) {
    std::vector<std::size_t> all;
    for (std::size_t v = 0; v < study.variants.size(); ++v)
        if (plan.variants.empty()) all.push_back(v);
    for (const std::string& name : plan.variants) {
        const auto found = std::find_if(study.variants.begin(), study.variants.end(), [&](const Variant& v) { return v.id == name || v.name == name; });
        if (found == study.variants.end()) throw InputFault(Message{Severity::fault, "sweep-unknown-variant", {{"name", name}}, {}, {}});
        all.push_back(static_cast<std::size_t>(found - study.variants.begin()));
    }
    return all;
}

std::string quoted(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string result = "\"";
    for (const char c : text) {
        if (c == '"') result += '"';
        result += c == '\n' || c == '\r' ? ' ' : c;
    }
    return result + "\"";
}

/// What stands before the results: number, variant, values, hash.
std::string begin_of(const SweepRow& row) {
    std::string line = std::to_string(row.number) + "," + quoted(row.variant);
    for (const std::string& value : row.values) line += "," + quoted(value);
    return line + "," + row.hash;
}

std::string three(const Bracketed* value) {
    if (!value) return ",,";
    const auto p = printed(*value);
    return fixed(p.value, p.decimals) + "," + fixed(p.lower, p.bound_decimals) + "," + fixed(p.upper, p.bound_decimals);
}

}  // namespace

SweepPlan read_sweep_plan(const std::string& text) {
    file::Found found;
    json::Value value;
    SweepPlan plan;
    if (json::parse(text, "", value, found.faults)) {
        const file::Where top("");
        file::Fields fields(found, value, top);
        fields.each("variants", [&](const json::Value& item, const file::Where& at) {
            if (const auto name = file::read_text(found, item, at)) plan.variants.push_back(*name);
        });
        fields.need("change");
        fields.each("change", [&](const json::Value& item, const file::Where& at) { plan.changes.push_back(read_change(found, item, at)); });
        fields.rest();
        double rows = std::max<double>(1, static_cast<double>(plan.variants.size()));
        for (const SweepChange& change : plan.changes) rows *= static_cast<double>(change.count());
        if (rows > static_cast<double>(sweep_limit)) found.fault("sweep-too-large", top, {{"most", std::to_string(sweep_limit)}});
    }
    // A field nobody knows is a slip of the pen: a sweep without it would not be the one that was meant.
    found.faults.insert(found.faults.end(), found.warnings.begin(), found.warnings.end());
    if (!found.faults.empty()) throw InputFault(std::move(found.faults));
    return plan;
}

std::size_t sweep_rows(const Study& study, const SweepPlan& plan) {
    std::size_t rows = variants_of(study, plan).size();
    for (const SweepChange& change : plan.changes) rows *= change.count();
    return rows;
}

SweepRow sweep_row(const Study& study, const SweepPlan& plan, std::size_t number) {
    SweepRow row;
    row.number = number;
    row.study = study;
    std::vector<std::size_t> at(plan.changes.size());
    std::size_t rest = number;
    for (std::size_t c = plan.changes.size(); c-- > 0;) {
        at[c] = rest % plan.changes[c].count();
        rest /= plan.changes[c].count();
    }
    row.variant_index = variants_of(study, plan).at(rest);
    Variant& variant = row.study.variants[row.variant_index];
    row.variant = variant.id;
    for (std::size_t c = 0; c < plan.changes.size(); ++c) {
        const SweepChange& change = plan.changes[c];
        row.values.push_back(change.words.empty() ? json::number_text(change.numbers[at[c]]) : change.words[at[c]]);
    }
    for (std::size_t c = 0; c < plan.changes.size(); ++c) try {
            variant.section = std::make_shared<const Section>(with_value(row.study, variant, *variant.section, plan.changes[c], at[c]));
        } catch (const InputFault& fault) {
            const std::string& code = fault.faults().front().code;
            if (code.find("unknown") != std::string::npos) throw;
            row.problem = english(fault.faults().front());
            return row;
        }
    row.hash = input_hash(row.study, variant);
    return row;
}

std::string sweep_head(const SweepPlan& plan) {
    std::string line = "row,variant";
    for (const SweepChange& change : plan.changes) line += "," + quoted(word_of(sweep_words, change.what) + " " + change.target);
    return line + ",input_hash,psi,psi_lower,psi_upper,L2D,L2D_lower,L2D_upper,fRsi,converged,problem";
}

std::string sweep_line(const SweepRow& row, const FindingsOptions& options, const Context& context) {
    const std::string begin = begin_of(row) + ",";
    if (!row.problem.empty()) return begin + ",,,,,,,," + quoted(row.problem);
    std::shared_ptr<const Findings> findings;
    try {
        findings = find(row.study, row.study.variants[row.variant_index], options, context);
    } catch (const InputFault& fault) {
        return begin + ",,,,,,,," + quoted(english(fault.faults().front()));
    }
    for (const Message& message : findings->messages)
        if (message.severity == Severity::fault) return begin + ",,,,,,,," + quoted(english(message));
    const Psi* psi = findings->headline_psi();
    const SurfaceFinding* surface = findings->headline_surface();
    const bool coupled = !findings->couplings.empty() && findings->couplings.front().value;
    return begin + three(psi && psi->value ? &*psi->value : nullptr) + "," + three(coupled ? &*findings->couplings.front().value : nullptr) + "," +
           (surface && surface->fRsi ? fixed(*surface->fRsi, factor_decimals(*surface)) : "") + "," + (findings->converged ? "yes" : "no") + ",";
}

bool sweep_line_holds(const std::string& line, const SweepRow& row) {
    // What could not be worked out is tried again: it costs next to nothing.
    const std::string begin = begin_of(row) + ",";
    return !row.hash.empty() && line.starts_with(begin) && std::count(line.begin() + static_cast<std::ptrdiff_t>(begin.size()), line.end(), ',') == 8 && line.ends_with(",yes,");
}

}  // namespace wallfoot
