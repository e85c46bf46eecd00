// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/damp.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "core/study/edits.hpp"
#include "core/study/materials.hpp"
#include "core/study/words.hpp"
#include "core/text/refuse_faults.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/version.hpp"

namespace wallfoot {

namespace {

using Json = nlohmann::ordered_json;

const Piece& piece_of(const Section& section, const std::string& id_or_name) {
    for (const Piece& piece : section.pieces)
        if (piece.id == id_or_name || piece.name == id_or_name) {
            if (piece.fill != Fill::material) throw InputFault(Message{Severity::fault, "damp-no-material", {{"piece", id_or_name}}, {}, ""});
            return piece;
        }
    throw InputFault(Message{Severity::fault, "damp-unknown-piece", {{"piece", id_or_name}}, {}, ""});
}

/// Conductivities of the faces that a piece still fills.
std::vector<FaceConductivity> of_piece(const Findings& findings, const std::string& id) {
    std::vector<FaceConductivity> all;
    const auto& faces = findings.arrangement.faces;
    for (std::size_t f = 0; f < faces.size() && f < findings.conductivity.size(); ++f)
        if (faces[f].kind == FaceKind::solid && findings.section->pieces[faces[f].piece].id == id) all.push_back(findings.conductivity[f]);
    return all;
}

const Bracketed* psi_of(const Findings& findings) {
    const Psi* psi = findings.headline_psi();
    return psi && psi->value ? &*psi->value : nullptr;
}

const Bracketed* coupling_of(const Findings& findings) {
    return findings.couplings.empty() || !findings.couplings.front().value ? nullptr : &*findings.couplings.front().value;
}

/// The difference of two bracketed values with the digits both support, signed.
std::string change(const Bracketed* now, const Bracketed* before) {
    if (!now || !before) return "–";
    const double half = 0.5 * (now->width() + before->width()), value = now->value - before->value;
    const std::string text = fixed(value, std::min(4, supported_decimals(half)));
    return (text.front() == '-' ? "" : "+") + text;
}

std::string shown(const Bracketed* value) { return value ? with_bracket(*value) : "–"; }

void put(Json& json, const char* name, const Bracketed* value) {
    if (!value) {
        json[name] = nullptr;
        return;
    }
    const auto p = printed(*value);
    json[name] = {{"value", p.value}, {"lower", p.lower}, {"upper", p.upper}};
}

}  // namespace

DampTable damp_table(const Study& study, const Variant& variant, const std::string& name, const FindingsOptions& options, const Context& context) {
    const Piece& piece = piece_of(*variant.section, name);
    const Material* material = study.find_material(piece.filled_with);
    DampTable table{variant.id, variant.name.empty() ? variant.id : variant.name, piece.name.empty() ? piece.id : piece.name,
                    material ? shown_name(*material) : piece.filled_with, find(study, variant, options, context), {}};
    refuse_faults(table.drawn->messages);
    const auto drawn = of_piece(*table.drawn, piece.id);
    for (const auto& [condition, word] : condition_words) {
        DampRow row;
        row.condition = condition;
        row.as_drawn = std::any_of(drawn.begin(), drawn.end(), [&](const FaceConductivity& k) { return k.asked == condition; });
        Variant put_there = variant;
        put_there.section = std::make_shared<const Section>(set_moisture(*variant.section, piece.id, condition));
        Study there = study;
        for (Variant& v : there.variants)
            if (v.id == variant.id) v = put_there;
        const auto findings = find(there, put_there, options, context);
        refuse_faults(findings->messages);
        const auto faces = of_piece(*findings, piece.id);
        const bool declared = !faces.empty() && std::none_of(faces.begin(), faces.end(), [](const FaceConductivity& k) { return k.undeclared; });
        if (declared) {
            row.conductivity = faces.front().across;
            row.findings = findings;
        }
        table.rows.push_back(std::move(row));
    }
    return table;
}

std::string damp_text(const std::vector<DampTable>& tables) {
    std::string text;
    for (const DampTable& table : tables) {
        text += (text.empty() ? "" : "\n") + table.variant_name + ": " + table.piece + ", " + table.material + "\n";
        text += "  " + padded("moisture condition", 20) + padded("λ W/(m·K)", 14) + padded("psi W/(m·K)", 24) + padded("against as drawn", 18) + padded("fRsi", 10) + "L2D W/(m·K)\n";
        const auto line = [&](const std::string& name, const std::string& conductivity, const Findings& findings) {
            const SurfaceFinding* surface = findings.headline_surface();
            text += "  " + padded(name, 20) + padded(conductivity, 14) + padded(shown(psi_of(findings)), 24) +
                    padded(change(psi_of(findings), psi_of(*table.drawn)), 18) +
                    padded(surface && surface->fRsi ? fixed(*surface->fRsi, std::min(3, supported_decimals(surface->estimate))) : "–", 10) +
                    shown(coupling_of(findings)) + "\n";
        };
        line("as drawn", "", *table.drawn);
        for (const DampRow& row : table.rows) {
            const std::string name = word_of(condition_words, row.condition) + (row.as_drawn ? " *" : "");
            if (row.findings) line(name, fixed(row.conductivity, 3), *row.findings);
            else text += "  " + padded(name, 20) + "not declared: no other value stands for it\n";
        }
    }
    text += "\n* the piece, or part of it, stands in this condition as drawn. The whole piece is put into each condition, all else as drawn.\n"
            "'saturated' is an event, soaked for a time, not a lasting state. Conductivities hold as declared; frost, strength and\n"
            "sulfate are not judged here. Local rules prevail.\n";
    return text;
}

std::string damp_json(const std::string& study_path, const std::vector<DampTable>& tables) {
    Json json{{"study", study_path}, {"program", std::string("wallfoot ") + program_version}, {"tables", Json::array()}};
    for (const DampTable& table : tables) {
        Json one{{"variant", table.variant_id}, {"piece", table.piece}, {"material", table.material}};
        put(one, "psi", psi_of(*table.drawn));
        put(one, "L2D", coupling_of(*table.drawn));
        one["conditions"] = Json::array();
        for (const DampRow& row : table.rows) {
            Json entry{{"condition", word_of(condition_words, row.condition)}, {"as_drawn", row.as_drawn}, {"declared", row.findings != nullptr}};
            if (row.findings) {
                entry["lambda"] = row.conductivity;
                put(entry, "psi", psi_of(*row.findings));
                put(entry, "L2D", coupling_of(*row.findings));
                const SurfaceFinding* surface = row.findings->headline_surface();
                if (surface && surface->fRsi) entry["fRsi"] = rounded(*surface->fRsi, std::min(4, supported_decimals(surface->estimate)));
            }
            one["conditions"].push_back(entry);
        }
        json["tables"].push_back(one);
    }
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace wallfoot
