// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/damp.hpp"

#include <algorithm>
#include <set>

#include "core/study/edits.hpp"
#include "core/study/materials.hpp"
#include "core/study/words.hpp"
#include "core/text/refuse_faults.hpp"

namespace wallfoot {

namespace {

constexpr const char* damp_trial = "damp trial";

const Piece& piece_named(const Section& section, const std::string& id_or_name) {
    for (const Piece& piece : section.pieces)
        if (piece.id == id_or_name || piece.name == id_or_name) {
            if (piece.fill != Fill::material) throw InputFault(Message{Severity::fault, "damp-no-material", {{"piece", id_or_name}}, {}, ""});
            return piece;
        }
    throw InputFault(Message{Severity::fault, "damp-unknown-piece", {{"piece", id_or_name}}, {}, ""});
}

const Material& material_named(const Study& study, const std::string& id_or_name) {
    for (const Material& material : study.materials)
        if (material.id == id_or_name || shown_name(material) == id_or_name) return material;
    throw InputFault(Message{Severity::fault, "equal-unknown-material", {{"material", id_or_name}}, {}, ""});
}

double area_of(const Findings& findings, const std::string& piece) {
    double doubled = 0;
    const auto& arrangement = findings.arrangement;
    for (std::size_t t = 0; t < arrangement.triangles.size(); ++t) {
        const Face& face = arrangement.faces[static_cast<std::size_t>(arrangement.triangle_face[t])];
        if (face.kind != FaceKind::solid || findings.section->pieces[static_cast<std::size_t>(face.piece)].id != piece) continue;
        const auto& [a, b, c] = arrangement.triangles[t];
        doubled += static_cast<double>(cross(arrangement.vertices[static_cast<std::size_t>(a)], arrangement.vertices[static_cast<std::size_t>(b)], arrangement.vertices[static_cast<std::size_t>(c)]));
    }
    return doubled / 2 * 1e-12;
}

/// The junction with one piece changed, all else as drawn.
class Junction {
  public:
    Junction(const Study& study, const Variant& variant, const Piece& piece, const FindingsOptions& options, const Context& context)
        : study_(study), variant_(variant), piece_(piece), options_(options), context_(context), classes_(moisture_classes()) {}

    /// In a condition, with the values of `material`.
    std::shared_ptr<const Findings> with(const std::string& material, Condition condition) const {
        return found(study_, set_moisture(set_material(*variant_.section, piece_.id, material), piece_.id, condition));
    }
    /// With one conductivity across, W/(m·K); that along the height in the proportion in which `material` has it.
    std::shared_ptr<const Findings> with(const Material& material, double conductivity) const {
        Study trial = study_;
        trial.materials.push_back(plain_material(damp_trial, conductivity));
        for (const auto& [condition, up] : material.lambda_up.by_condition)
            if (const auto across = material.lambda.by_condition.find(condition); across != material.lambda.by_condition.end()) {
                trial.materials.back().lambda_up = plain_material(damp_trial, conductivity * up.value / across->second.value).lambda;
                break;
            }
        return found(trial, set_material(*variant_.section, piece_.id, damp_trial));
    }
    DampRow row(const Material& material, Condition condition) const {
        DampRow row;
        row.condition = condition;
        row.value = conductivity_in(material, condition, classes_);
        if (row.value.footing == Footing::declared) {
            row.conductivity = row.value.central;
            row.findings = with(material.id, condition);
        } else if (row.value.footing != Footing::not_known) {
            row.at_low = with(material, row.value.low);
            row.at_high = with(material, row.value.high);
        }
        return row;
    }
    const std::vector<MoistureClass>& classes() const { return classes_; }

  private:
    std::shared_ptr<const Findings> found(Study there, Section section) const {
        Variant put_there = variant_;
        put_there.section = std::make_shared<const Section>(std::move(section));
        for (Variant& v : there.variants)
            if (v.id == variant_.id) v = put_there;
        auto findings = find(there, put_there, options_, context_);
        refuse_faults(findings->messages);
        return findings;
    }

    const Study& study_;
    const Variant& variant_;
    const Piece& piece_;
    const FindingsOptions& options_;
    const Context& context_;
    std::vector<MoistureClass> classes_;
};

DampAlternative alternative_in(const Junction& place, const Material& material) {
    DampAlternative alternative;
    alternative.material = shown_name(material);
    const auto& declared = material.lambda.by_condition;
    if (!declared.empty()) {
        alternative.declared_for = declared.contains(Condition::protected_) ? Condition::protected_ : declared.begin()->first;
        alternative.as_declared = place.with(material, declared.at(alternative.declared_for).value);
    }
    for (const auto& [condition, word] : condition_words) alternative.rows.push_back(place.row(material, condition));
    return alternative;
}

/// Every conductivity of one material with its findings, ascending.
std::vector<std::pair<double, const Findings*>> solves_of(const std::vector<DampRow>& rows) {
    std::vector<std::pair<double, const Findings*>> all;
    for (const DampRow& row : rows) {
        if (row.findings) all.emplace_back(row.conductivity, row.findings.get());
        if (row.at_low) all.emplace_back(row.value.low, row.at_low.get());
        if (row.at_high) all.emplace_back(row.value.high, row.at_high.get());
    }
    std::sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    return all;
}

bool psi_rises_in(const std::vector<DampRow>& rows) {
    const auto all = solves_of(rows);
    for (std::size_t i = 0; i + 1 < all.size(); ++i) {
        const Psi *a = all[i].second->headline_psi(), *b = all[i + 1].second->headline_psi();
        if (a && b && a->value && b->value && b->value->upper < a->value->lower) return false;
    }
    return true;
}

}  // namespace

bool DampTable::converged() const {
    const auto all_of_them = [](const std::vector<DampRow>& rows) {
        const auto all = solves_of(rows);
        return std::all_of(all.begin(), all.end(), [](const auto& solve) { return solve.second->converged; });
    };
    return drawn->converged && all_of_them(rows) && (!alternative || (all_of_them(alternative->rows) && (!alternative->as_declared || alternative->as_declared->converged)));
}

DampTable damp_table(const Study& study, const Variant& variant, const std::string& name, const std::string& alternative, const FindingsOptions& options, const Context& context) {
    const Piece& piece = piece_named(*variant.section, name);
    const Material* material = study.find_material(piece.filled_with);
    if (!material) throw InputFault(Message{Severity::fault, "unknown-material", {{"material", piece.filled_with}, {"piece", piece.id}, {"name", shown_name(piece)}}, {}, ""});
    DampTable table{variant.id, variant.name.empty() ? variant.id : variant.name, shown_name(piece), shown_name(*material), find(study, variant, options, context), {}, {}, {}};
    refuse_faults(table.drawn->messages);
    std::set<Condition> drawn;
    const auto& faces = table.drawn->arrangement.faces;
    for (std::size_t f = 0; f < faces.size() && f < table.drawn->conductivity.size(); ++f)
        if (faces[f].kind == FaceKind::solid && variant.section->pieces[static_cast<std::size_t>(faces[f].piece)].id == piece.id) drawn.insert(table.drawn->conductivity[f].asked);

    const Junction place(study, variant, piece, options, context);
    for (const auto& [condition, word] : condition_words) {
        table.rows.push_back(place.row(*material, condition));
        table.rows.back().as_drawn = drawn.contains(condition);
    }
    if (!alternative.empty()) table.alternative = alternative_in(place, material_named(study, alternative));
    table.psi_rises = psi_rises_in(table.rows) && (!table.alternative || psi_rises_in(table.alternative->rows));
    if (!table.alternative) return table;

    const double area = area_of(*table.drawn, piece.id);
    // In the same place and shape the same conductivity gives the same psi; only one with two axes has to be searched for.
    const bool one_axis = material->lambda_up.by_condition.empty() && material_named(study, alternative).lambda_up.by_condition.empty();
    const auto add = [&](Against against, const std::shared_ptr<const Findings>& target, double conductivity) {
        const Psi* psi = target ? target->headline_psi() : nullptr;
        if (!psi || !psi->value) return;
        NoBetter found{against, psi->value->value, {{conductivity, conductivity, conductivity}}, {}};
        if (!one_axis) found.roots = equal_parameter(study, variant, {{ParameterWhat::conductivity, {piece.id}, {}}, least_tried, most_tried}, *target, options, context).by.front().roots;
        // A root with one conductivity both ways says nothing of the water in a material that has two.
        if (!found.roots.empty() && material->lambda_up.by_condition.empty()) found.moisture = moisture_at(*material, found.roots.front().value, area, place.classes());
        table.no_better.push_back(std::move(found));
    };
    const DampRow& stated = table.alternative->rows[static_cast<std::size_t>(table.alternative->declared_for)];
    add(Against::as_declared, table.alternative->as_declared, stated.conductivity);
    // A piece that stands in several conditions is compared in the wettest of them.
    if (!drawn.empty()) {
        const DampRow& there = table.alternative->rows[static_cast<std::size_t>(*drawn.rbegin())];
        add(Against::in_place, there.findings, there.conductivity);
        add(Against::in_place_at_best, there.at_low, there.value.low);
        add(Against::in_place_at_worst, there.at_high, there.value.high);
    }
    return table;
}

}  // namespace wallfoot
