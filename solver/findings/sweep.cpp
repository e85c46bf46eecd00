// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/sweep.hpp"

#include <algorithm>

#include "core/file/fields.hpp"
#include "core/file/study_file.hpp"
#include "core/study/words.hpp"
#include "solver/findings/numbers.hpp"

namespace wallfoot {

namespace {

/// The field that names what a parameter speaks of.
const char* target_field(ParameterWhat what) {
    switch (what) {
        case ParameterWhat::measure: return "measure";
        case ParameterWhat::membrane: return "membrane";
        case ParameterWhat::temperature: return "space";
        case ParameterWhat::material_conductivity: return "material";
        default: return "piece";
    }
}

SweepChange read_change(file::Found& found, const json::Value& value, const file::Where& place) {
    SweepChange change;
    file::Fields fields(found, value, place);
    change.what = fields.need_word("what", parameter_words);
    fields.need(target_field(change.what));
    change.targets = {fields.text(target_field(change.what))};
    if (change.towards_a_side()) change.side = fields.need_word("side", cut_side_words);
    const auto [least, most] = range_of(change.what);
    fields.each("values", [&, range = file::Range{least, most}](const json::Value& item, const file::Where& at) {
        if (change.takes_words()) {
            const auto word = file::read_text(found, item, at);
            if (word && change.what == ParameterWhat::moisture && !file::find_word(condition_words, *word)) file::unknown_word(found, at, *word, file::list_of(condition_words));
            if (word) change.words.push_back(*word);
        } else if (const auto number = file::read_number(found, item, at, range)) {
            change.numbers.push_back(*number);
        }
    });
    if (!change.takes_words()) {
        const auto from = fields.number("from", {least, most}), to = fields.number("to", {least, most}), steps = fields.number("steps", {1, 100'000});
        if (from && to && steps)
            for (const double number : even_steps(*from, *to, static_cast<int>(*steps))) change.numbers.push_back(number);
    }
    if (change.count() == 0) found.fault("sweep-no-values", place);
    fields.rest();
    return change;
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

std::string SweepChange::written(std::size_t n) const { return words.empty() ? json::number_text(numbers.at(n)) : words.at(n); }

std::vector<double> even_steps(double from, double to, int steps) {
    std::vector<double> numbers;
    for (int i = 0; i <= steps; ++i) numbers.push_back(significant(from + (to - from) * i / steps, 12));
    return numbers;
}

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

std::string write_sweep_plan(const SweepPlan& plan) {
    json::Array variants, changes;
    for (const std::string& name : plan.variants) variants.push_back(name);
    for (const SweepChange& change : plan.changes) {
        json::Object object{{"what", word_of(parameter_words, change.what)}, {target_field(change.what), change.targets.front()}};
        if (change.towards_a_side()) object["side"] = word_of(cut_side_words, change.side);
        json::Array values;
        for (const std::string& word : change.words) values.push_back(word);
        for (const double number : change.numbers) values.push_back(number);
        object["values"] = std::move(values);
        changes.push_back(std::move(object));
    }
    return json::print(json::Object{{"variants", std::move(variants)}, {"change", std::move(changes)}});
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
    for (std::size_t c = 0; c < plan.changes.size(); ++c) row.values.push_back(plan.changes[c].written(at[c]));
    for (std::size_t c = 0; c < plan.changes.size(); ++c) try {
            const SweepChange& change = plan.changes[c];
            variant.section = std::make_shared<const Section>(change.takes_words() ? with_word(row.study, variant, *variant.section, change, change.words[at[c]])
                                                                                   : with_number(row.study, variant, *variant.section, change, change.numbers[at[c]]));
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
    for (const SweepChange& change : plan.changes) line += "," + quoted(word_of(parameter_words, change.what) + " " + change.targets.front() + (change.towards_a_side() ? " " + word_of(cut_side_words, change.side) : ""));
    return line + ",input_hash,psi,psi_lower,psi_upper,L2D,L2D_lower,L2D_upper,fRsi,converged,problem";
}

SweepResult sweep_result(const SweepRow& row, const FindingsOptions& options, const Context& context) {
    SweepResult result;
    result.problem = row.problem;
    if (!result.problem.empty()) return result;
    std::shared_ptr<const Findings> findings;
    try {
        findings = find(row.study, row.study.variants[row.variant_index], options, context);
    } catch (const InputFault& fault) {
        result.problem = english(fault.faults().front());
        return result;
    }
    context.check();  // cut short, it is none
    for (const Message& message : findings->messages)
        if (message.severity == Severity::fault) {
            result.problem = english(message);
            return result;
        }
    const Psi* psi = findings->headline_psi();
    if (psi) result.psi = psi->value;
    for (const Coupling& coupling : findings->couplings)
        if (psi ? coupling.a == psi->a && coupling.b == psi->b : &coupling == &findings->couplings.front()) result.coupling = coupling.value;
    if (const SurfaceFinding* surface = findings->headline_surface(); surface && surface->fRsi) {
        result.fRsi = surface->fRsi;
        result.estimate = surface->estimate;
        result.decimals = factor_decimals(*surface);
    }
    result.converged = findings->converged;
    return result;
}

std::string sweep_line(const SweepRow& row, const SweepResult& result) {
    const std::string begin = begin_of(row) + ",";
    if (!result.problem.empty()) return begin + ",,,,,,,," + quoted(result.problem);
    return begin + three(result.psi ? &*result.psi : nullptr) + "," + three(result.coupling ? &*result.coupling : nullptr) + "," + (result.fRsi ? fixed(*result.fRsi, result.decimals) : "") + "," +
           (result.converged ? "yes" : "no") + ",";
}

std::string sweep_line(const SweepRow& row, const FindingsOptions& options, const Context& context) { return sweep_line(row, sweep_result(row, options, context)); }

bool keeps_drawing(const SweepPlan& plan) {
    return std::none_of(plan.changes.begin(), plan.changes.end(), [](const SweepChange& change) { return change.moves_lines(); });
}

bool sweep_line_holds(const std::string& line, const SweepRow& row) {
    // What could not be worked out is tried again: it costs next to nothing.
    const std::string begin = begin_of(row) + ",";
    return !row.hash.empty() && line.starts_with(begin) && std::count(line.begin() + static_cast<std::ptrdiff_t>(begin.size()), line.end(), ',') == 8 && line.ends_with(",yes,");
}

}  // namespace wallfoot
