// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/comparison.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "core/study/differences.hpp"
#include "solver/findings/heat_loss.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/version.hpp"

namespace wallfoot {

namespace {

using Ordered = nlohmann::ordered_json;

const Bracketed* psi_value(const ComparedVariant& of) {
    const Psi* psi = of.findings->headline_psi();
    return psi && psi->value ? &*psi->value : nullptr;
}

const Bracketed* L2D_value(const ComparedVariant& of) {
    const Psi* psi = of.findings->headline_psi();
    for (const Coupling& coupling : of.findings->couplings)
        if (psi && coupling.a == psi->a && coupling.b == psi->b && coupling.value) return &*coupling.value;
    return nullptr;
}

std::vector<Message> differs(const ComparedVariant& of, const ComparedVariant& base) { return differences(*base.study, *base.findings->section, *of.study, *of.findings->section); }

/// Several files: the name of each before its variants.
std::string compared_name(const std::vector<ComparedVariant>& all, const ComparedVariant& of) {
    const bool several = std::any_of(all.begin(), all.end(), [&](const ComparedVariant& other) { return other.file != all.front().file; });
    return (several ? of.file + ": " : std::string()) + of.findings->variant_name + " (" + of.findings->variant_id + ")";
}

std::string value_text(const Bracketed* value) { return value ? with_bracket(*value) : "–"; }

std::string signed_change(const std::optional<Bracketed>& by) {
    if (!by) return "–";
    return (by->value > 0 ? "+" : "") + with_bracket(*by) + (by->lower <= 0 && by->upper >= 0 ? ", none beyond the brackets" : "");
}

std::optional<Bracketed> psi_difference(const ComparedVariant& of, const ComparedVariant& base) {
    if (!psi_value(of) || !psi_value(base) || of.findings->headline_psi()->lengths != base.findings->headline_psi()->lengths) return std::nullopt;  // of other lengths, no difference
    return std::optional(difference(*psi_value(of), *psi_value(base)));
}

std::string row(const std::string& what, const std::string& value, const std::string& unit = "") { return "  " + padded(what, 34) + value + (unit.empty() ? "" : " " + unit) + "\n"; }

void put_bracketed(Ordered& json, const char* name, const Bracketed* value) {
    if (!value) {
        json[name] = nullptr;
        return;
    }
    const Printed p = printed(*value);
    json[name] = {{"value", p.value}, {"lower", p.lower}, {"upper", p.upper}};
}

void put_open(Ordered& json, const std::optional<LowHigh>& range, int decimals) {
    if (!range) return;
    json["inputs_low"] = rounded_down(range->low, decimals);
    json["inputs_high"] = rounded_up(range->high, decimals);
}

Ordered variant_entry(const std::vector<ComparedVariant>& all, const ComparedVariant& of, const ComparedVariant& base) {
    const Findings& findings = *of.findings;
    Ordered json{{"study", of.file}, {"id", findings.variant_id}, {"name", findings.variant_name}, {"input_hash", findings.input_hash}};
    put_bracketed(json, "psi", psi_value(of));
    if (psi_value(of) && !of.open.materials.empty()) put_open(json["psi"], of.open.psi, 4);
    const SurfaceFinding* surface = findings.headline_surface();
    json["fRsi"] = nullptr;
    if (surface && surface->fRsi) {
        json["fRsi"] = {{"value", rounded(*surface->fRsi, factor_decimals(*surface))}, {"estimate", significant(surface->estimate, 2)}};
        if (!of.open.materials.empty()) put_open(json["fRsi"], of.open.fRsi, 4);
    }
    put_bracketed(json, "L2D", L2D_value(of));
    const HeatLoss loss = heat_loss(*all.front().study, findings);
    put_bracketed(json, "whole", loss.value ? &*loss.value : nullptr);
    if (loss.value) json["whole"]["sum"] = sum_text(loss);
    else
        for (const Message& message : loss.missing) json["whole_needs"].push_back({{"code", message.code}, {"text", english(message)}});
    if (&of == &base) return json;
    const auto by_psi = psi_difference(of, base), by_loss = loss_difference(loss, heat_loss(*all.front().study, *base.findings));
    put_bracketed(json, "psi_change", by_psi ? &*by_psi : nullptr);
    put_bracketed(json, "whole_change", by_loss ? &*by_loss : nullptr);
    json["differences"] = Ordered::array();
    for (const Message& message : differs(of, base)) {
        json["differences"].push_back({{"code", message.code}, {"text", english(message)}});
        if (message.at) json["differences"].back()["at"] = {to_mm(message.at->x), to_mm(message.at->y)};
    }
    return json;
}

}  // namespace

std::string comparison_text(const std::vector<ComparedVariant>& all, std::size_t base) {
    std::string text;
    const HeatLoss base_loss = heat_loss(*all.front().study, *all[base].findings);
    for (std::size_t i = 0; i < all.size(); ++i) {
        const ComparedVariant& of = all[i];
        text += (i > 0 ? "\n" : "") + compared_name(all, of) + (i == base ? ", compared with\n" : "\n");
        text += row("psi", value_text(psi_value(of)), "W/(m·K)");
        if (of.open.psi && !of.open.materials.empty()) text += row("  left open by its conductivities", fixed(rounded_down(of.open.psi->low, 3), 3) + " to " + fixed(rounded_up(of.open.psi->high, 3), 3), "W/(m·K)");
        if (i != base) text += row("  difference", signed_change(psi_difference(of, all[base])), "W/(m·K)");
        const SurfaceFinding* surface = of.findings->headline_surface();
        text += row("fRsi", surface && surface->fRsi ? fixed(*surface->fRsi, factor_decimals(*surface)) : "–");
        if (of.open.fRsi && !of.open.materials.empty()) text += row("  left open by its conductivities", fixed(rounded_down(of.open.fRsi->low, 3), 3) + " to " + fixed(rounded_up(of.open.fRsi->high, 3), 3));
        text += row("L2D", value_text(L2D_value(of)), "W/(m·K)");
        const HeatLoss loss = heat_loss(*all.front().study, *of.findings);
        if (loss.value) {
            text += row("loss of the whole", with_bracket(*loss.value), "W/K = " + sum_text(loss));
            for (const Message& message : loss.notes) text += "    " + english(message) + "\n";
            if (i != base && adds_up_otherwise(loss, base_loss)) text += "    " + english(Message{Severity::note, "loss-adds-up-otherwise", {}, {}, {}}) + "\n";
            else if (i != base) text += row("  difference", signed_change(loss_difference(loss, base_loss)), "W/K");
        }
        if (i == base) continue;
        const auto said = differs(of, all[base]);
        for (const Message& message : said) text += "  " + english(message) + "\n";
        if (said.empty()) text += "  Drawn and stated alike.\n";
    }
    return text + "\nSteady state, two dimensions; bounds are those of the section as drawn, what the inputs leave open is told apart. Local rules prevail.\n";
}

std::string comparison_json(const std::vector<ComparedVariant>& all, std::size_t base) {
    Ordered json{{"program", std::string("wallfoot ") + program_version}, {"base", {{"study", all[base].file}, {"id", all[base].findings->variant_id}}}, {"variants", Ordered::array()}};
    for (const ComparedVariant& of : all) json["variants"].push_back(variant_entry(all, of, all[base]));
    return json.dump(2) + "\n";
}

}  // namespace wallfoot
