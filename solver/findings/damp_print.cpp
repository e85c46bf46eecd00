// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <nlohmann/json.hpp>

#include "core/study/words.hpp"
#include "core/text/number_entry.hpp"
#include "solver/findings/damp.hpp"
#include "solver/findings/derivation_print.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/version.hpp"

namespace wallfoot {

namespace {

using Json = nlohmann::ordered_json;

const Bracketed* psi_in(const Findings* findings) {
    const Psi* psi = findings ? findings->headline_psi() : nullptr;
    return psi && psi->value ? &*psi->value : nullptr;
}

const Bracketed* coupling_in(const Findings* findings) {
    return !findings || findings->couplings.empty() || !findings->couplings.front().value ? nullptr : &*findings->couplings.front().value;
}

std::optional<std::string> factor_in(const Findings* findings) {
    const SurfaceFinding* surface = findings ? findings->headline_surface() : nullptr;
    return surface && surface->fRsi ? std::optional(fixed(*surface->fRsi, factor_decimals(*surface))) : std::nullopt;
}

/// The difference of two bracketed values with the digits both support, signed.
std::string change(const Bracketed* now, const Bracketed* before) {
    if (!now || !before) return "–";
    const double half = 0.5 * (now->width() + before->width()), value = now->value - before->value;
    const std::string text = fixed(value, std::min(4, supported_decimals(half)));
    return (text.front() == '-' ? "" : "+") + text;
}

std::string shown(const Bracketed* value) { return value ? with_bracket(*value) : "–"; }

/// From one end to the other; three decimals, for a range has no more to say.
std::string from_to(const Bracketed* a, const Bracketed* b) {
    if (!a || !b) return "–";
    return fixed(rounded_down(std::min(a->lower, b->lower), 3), 3) + " to " + fixed(rounded_up(std::max(a->upper, b->upper), 3), 3);
}

std::string percent(double share) { return fixed(100 * share, 100 * share < 10 ? 1 : 0); }

const DampRow* row_as_drawn(const std::vector<DampRow>& rows, const DampTable& table) {
    for (std::size_t r = table.rows.size(); r-- > 0;)
        if (table.rows[r].as_drawn && r < rows.size()) return &rows[r];
    return nullptr;
}

Message note(const char* code, std::map<std::string, std::string> args) { return {Severity::note, code, std::move(args), {}, {}}; }

/// Between which of the piece's declared conditions a conductivity lies.
std::optional<Message> declared_around(const std::vector<DampRow>& rows, double conductivity) {
    const DampRow *below = nullptr, *above = nullptr;
    for (const DampRow& row : rows) {
        if (row.value.footing != Footing::declared) continue;
        if (row.conductivity < conductivity && !above) below = &row;
        if (row.conductivity >= conductivity && !above) above = &row;
    }
    const auto word = [](const DampRow& row) { return "'" + word_of(condition_words, row.condition) + "' (" + fixed(row.conductivity, 3) + ")"; };
    if (below && above) return note("no-better-between", {{"dry", word(*below)}, {"wet", word(*above)}});
    if (below) return note("no-better-above-all", {{"wet", word(*below)}});
    if (above) return note("no-better-below-all", {{"dry", word(*above)}});
    return std::nullopt;
}

void put(Json& json, const char* name, const Bracketed* value) {
    if (!value) {
        json[name] = nullptr;
        return;
    }
    const auto p = printed(*value);
    json[name] = {{"value", p.value}, {"lower", p.lower}, {"upper", p.upper}};
}

Json row_json(const DampRow& row, const std::string& material) {
    Json entry{{"condition", word_of(condition_words, row.condition)}, {"as_drawn", row.as_drawn}, {"declared", row.findings != nullptr}, {"footing", word_of(footing_words, row.value.footing)}};
    if (row.findings) {
        entry["lambda"] = row.conductivity;
        put(entry, "psi", psi_in(row.findings.get()));
        put(entry, "L2D", coupling_in(row.findings.get()));
        const SurfaceFinding* surface = row.findings->headline_surface();
        if (surface && surface->fRsi) entry["fRsi"] = rounded(*surface->fRsi, std::min(4, supported_decimals(surface->estimate)));
    } else if (row.at_low) {
        entry["lambda_range"] = {significant(row.value.low, 3), significant(row.value.high, 3)};
        put(entry, "psi_at_low", psi_in(row.at_low.get()));
        put(entry, "psi_at_high", psi_in(row.at_high.get()));
    }
    if (!row.value.how.empty()) {
        entry["how"] = Json::array();
        for (const Message& message : row.value.how) entry["how"].push_back({{"code", message.code}, {"text", english(message)}});
    }
    if (const Derivation derivation = damp_derivation(row, material); !derivation.of.empty()) entry["derivation"] = Json::parse(derivation_json(derivation));
    return entry;
}

Json no_better_json(const DampTable& table, const NoBetter& found) {
    Json json{{"against", word_of(against_words, found.against)}, {"psi", rounded(found.target, 4)}, {"lambda", Json::array()}};
    for (const EqualRoot& root : found.roots) json["lambda"].push_back({{"value", significant(root.value, 3)}, {"lower", rounded_down(root.lower, 4)}, {"upper", rounded_up(root.upper, 4)}});
    if (found.moisture && found.moisture->footing != Footing::not_known) {
        Json moisture{{"footing", word_of(footing_words, found.moisture->footing)}, {"beyond", found.moisture->beyond}};
        if (found.moisture->by_mass) moisture["by_mass"] = significant(*found.moisture->by_mass, 3);
        if (found.moisture->by_volume) moisture["by_volume"] = significant(*found.moisture->by_volume, 3);
        if (found.moisture->litres) moisture["litres_per_metre"] = significant(*found.moisture->litres, 3);
        json["moisture"] = moisture;
    }
    json["text"] = Json::array();
    for (const Message& message : no_better_sentences(table, found)) json["text"].push_back(english(message));
    return json;
}

std::string line_of(const DampRow& row, const DampTable& table) {
    const std::string name = word_of(condition_words, row.condition) + (row.as_drawn ? " *" : "");
    if (row.value.footing == Footing::not_known) return "  " + padded(name, 20) + "not declared: no other value stands for it\n";
    return "  " + padded(name, 20) + padded(damp_conductivity_text(row), 18) + padded(damp_psi_text(row), 24) +
           padded(row.findings ? change(psi_in(row.findings.get()), psi_in(table.drawn.get())) : "–", 18) + padded(damp_factor_text(row), 16) +
           (row.findings ? shown(coupling_in(row.findings.get())) : from_to(coupling_in(row.at_low.get()), coupling_in(row.at_high.get()))) + "\n";
}

/// What the ranges rest on, each sentence once.
std::string footings(const std::vector<DampRow>& rows, const std::string& material) {
    std::string text;
    for (const DampRow& row : rows)
        for (const Message& message : row.value.how) {
            const std::string line = "  " + material + ", " + word_of(condition_words, row.condition) + ": " + english(message) + "\n";
            if (text.find(line) == std::string::npos) text += line;
        }
    return text;
}

}  // namespace

std::string damp_psi_text(const DampRow& row) {
    return row.findings ? shown(psi_in(row.findings.get())) : row.at_low ? from_to(psi_in(row.at_low.get()), psi_in(row.at_high.get())) : "–";
}

std::string damp_conductivity_text(const DampRow& row) {
    if (row.findings) return fixed(row.conductivity, 3);
    return row.at_low ? fixed(rounded_down(row.value.low, 3), 3) + " to " + fixed(rounded_up(row.value.high, 3), 3) : "not declared";
}

std::string damp_factor_text(const DampRow& row) {
    if (row.findings) return factor_in(row.findings.get()).value_or("–");
    const auto a = factor_in(row.at_high.get()), b = factor_in(row.at_low.get());
    return a && b ? std::min(*a, *b) + " to " + std::max(*a, *b) : "–";
}

Derivation damp_derivation(const DampRow& row, const std::string& material) {
    Derivation derivation;
    if (row.value.formula.empty()) return derivation;
    derivation.of = "λ of " + material + ", " + word_of(condition_words, row.condition);
    derivation.formula = row.value.formula;
    derivation.id = "iso10456-use";
    for (const MoistureStep& step : row.value.steps) derivation.inputs.push_back({step.name, step.value, step.unit, step.source});
    for (const Message& message : row.value.how) derivation.notes.push_back(english(message));
    derivation.notes.push_back("Told as " + damp_conductivity_text(row) + " W/(m·K); of a range the lower end is rounded down, the upper one up.");
    return derivation;
}

std::vector<Message> no_better_sentences(const DampTable& table, const NoBetter& found) {
    if (!table.alternative) return {};
    const DampRow* there = row_as_drawn(table.alternative->rows, table);
    std::map<std::string, std::string> args{{"piece", table.piece}, {"alternative", table.alternative->material}, {"psi", fixed(found.target, 3)}, {"least", fixed(least_tried, 2)}, {"most", fixed(most_tried, 0)}};
    const auto value = [](double conductivity) { return fixed(conductivity, 3); };
    const std::string place = there ? "in the same place, '" + word_of(condition_words, there->condition) + "', " : "in the same place, ";
    const auto& declared = table.alternative->declared_for;
    switch (found.against) {
        case Against::as_declared: args["how"] = "as declared for '" + word_of(condition_words, declared) + "'"; break;
        case Against::in_place: args["how"] = place + "declared " + (there ? value(there->conductivity) : std::string("–")) + " W/(m·K)"; break;
        case Against::in_place_at_best: args["how"] = place + "where it may conduct as little as " + (there ? value(there->value.low) : std::string("–")) + " W/(m·K)"; break;
        case Against::in_place_at_worst: args["how"] = place + "where it may conduct as much as " + (there ? value(there->value.high) : std::string("–")) + " W/(m·K)"; break;
    }
    if (found.roots.empty()) return {note("no-better-never", args)};
    for (const EqualRoot& root : found.roots) args["lambda"] += (args["lambda"].empty() ? "" : ", ") + fixed(root.value, 3);
    if (!table.psi_rises) return {note("no-better-mixed", args)};
    std::vector<Message> all{note("no-better-from", args)};
    if (const auto between = declared_around(table.rows, found.roots.front().value)) all.push_back(*between);
    if (!found.moisture) return all;
    const MoistureNeeded& needed = *found.moisture;
    std::string amount;
    const auto add = [&](const std::string& text) { amount += (amount.empty() ? "" : ", ") + text; };
    if (needed.by_mass) add(percent(*needed.by_mass) + " % by mass");
    if (needed.by_volume) add(percent(*needed.by_volume) + " % by volume");
    if (needed.litres) add(fixed(*needed.litres, 1) + " litres in each metre run of it");
    if (needed.footing == Footing::not_known) all.push_back(note("no-better-moisture-not-known", {}));
    else if (needed.below) all.push_back(note("no-better-below", {{"amount", amount}}));
    else if (needed.by_mass == 0.0 || needed.by_volume == 0.0) all.push_back(note(needed.footing == Footing::measured_band ? "no-better-perhaps-dry" : "no-better-when-dry", {}));
    else all.push_back(note(needed.beyond ? "no-better-beyond" : "no-better-moisture", {{"amount", amount}}));
    all.insert(all.end(), needed.how.begin(), needed.how.end());
    return all;
}

std::string damp_text(const std::vector<DampTable>& tables) {
    std::string text;
    for (const DampTable& table : tables) {
        const std::string head = "  " + padded("moisture condition", 20) + padded("λ W/(m·K)", 18) + padded("psi W/(m·K)", 24) + padded("against as drawn", 18) + padded("fRsi", 16) + "L2D W/(m·K)\n";
        text += (text.empty() ? "" : "\n") + table.variant_name + ": " + table.piece + ", " + table.material + "\n" + head;
        text += "  " + padded("as drawn", 20) + padded("", 18) + padded(shown(psi_in(table.drawn.get())), 24) + padded(change(psi_in(table.drawn.get()), psi_in(table.drawn.get())), 18) +
                padded(factor_in(table.drawn.get()).value_or("–"), 16) + shown(coupling_in(table.drawn.get())) + "\n";
        for (const DampRow& row : table.rows) text += line_of(row, table);
        text += footings(table.rows, table.material);
        if (!table.psi_rises) text += "  " + english(note("damp-psi-mixed", {{"piece", table.piece}})) + "\n";
        if (!table.alternative) continue;
        text += "\n" + table.alternative->material + " in its place, in the same condition\n" + head;
        if (table.alternative->as_declared)
            text += "  " + padded("as declared", 20) + padded("(" + word_of(condition_words, table.alternative->declared_for) + ")", 18) + padded(shown(psi_in(table.alternative->as_declared.get())), 24) +
                    padded(change(psi_in(table.alternative->as_declared.get()), psi_in(table.drawn.get())), 18) + padded(factor_in(table.alternative->as_declared.get()).value_or("–"), 16) +
                    shown(coupling_in(table.alternative->as_declared.get())) + "\n";
        for (const DampRow& row : table.alternative->rows) text += line_of(row, table);
        text += footings(table.alternative->rows, table.alternative->material) + "\n";
        for (const NoBetter& found : table.no_better) {
            for (const Message& message : no_better_sentences(table, found)) text += (text.ends_with("\n") ? "  " : " ") + english(message);
            text += "\n";
        }
    }
    text += "\n* the piece, or part of it, stands in this condition as drawn. The whole piece is put into each condition, all else as drawn.\n"
            "'saturated' is an event, soaked for a time, not a lasting state; 'dry' is none of masonry in service. Conductivities hold as declared; frost, strength and\n"
            "sulfate are not judged here. Local rules prevail.\n";
    return text;
}

std::string damp_json(const std::string& study_path, const std::vector<DampTable>& tables) {
    Json json{{"study", study_path}, {"program", std::string("wallfoot ") + program_version}, {"tables", Json::array()}};
    for (const DampTable& table : tables) {
        Json one{{"variant", table.variant_id}, {"piece", table.piece}, {"material", table.material}, {"psi_rises", table.psi_rises}};
        put(one, "psi", psi_in(table.drawn.get()));
        put(one, "L2D", coupling_in(table.drawn.get()));
        one["conditions"] = Json::array();
        for (const DampRow& row : table.rows) one["conditions"].push_back(row_json(row, table.material));
        if (table.alternative) {
            Json other{{"material", table.alternative->material}, {"declared_for", word_of(condition_words, table.alternative->declared_for)}};
            put(other, "psi_as_declared", psi_in(table.alternative->as_declared.get()));
            other["conditions"] = Json::array();
            for (const DampRow& row : table.alternative->rows) other["conditions"].push_back(row_json(row, table.alternative->material));
            one["alternative"] = other;
            one["no_better"] = Json::array();
            for (const NoBetter& found : table.no_better) one["no_better"].push_back(no_better_json(table, found));
        }
        json["tables"].push_back(one);
    }
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace wallfoot
