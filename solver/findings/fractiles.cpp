// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/fractiles.hpp"

#include <set>

#include "core/standards/outside_standard.hpp"
#include "core/study/names.hpp"

namespace wallfoot {

namespace {

constexpr double fractile_of_mean = 50;

/// Materials that any variant is drawn with, and what those are built of.
std::set<const Material*> materials_drawn(const Study& study) {
    std::set<const Material*> drawn;
    for (const Variant& variant : study.variants)
        for (const Piece& piece : variant.section->pieces) {
            const Material* material = piece.fill == Fill::material ? study.find_material(piece.filled_with) : nullptr;
            if (!material) continue;
            drawn.insert(material);
            for (const MixPart& part : material->mix)
                if (const Material* of = study.find_material(part.material)) drawn.insert(of);
        }
    return drawn;
}

}  // namespace

std::string fractile_words(const Conductivity& declared) {
    if (!declared.fractile) return {};
    if (*declared.fractile == fractile_of_mean) return "mean of production (50 %)";
    return "kept by " + shown(*declared.fractile) + " % of production";
}

std::optional<Message> mixed_fractiles(const Study& study) {
    std::set<std::string> mean, fractile;  // by name, a fractile with its percentage: the same words on every machine
    for (const Material* material : materials_drawn(study)) {
        if (material->kind != MaterialKind::masonry) continue;
        for (const Conductivities* declared : {&material->lambda, &material->lambda_up})
            for (const auto& [condition, value] : declared->by_condition)
                if (value.fractile && *value.fractile == fractile_of_mean) mean.insert("\"" + shown_name(*material) + "\"");
                else if (value.fractile) fractile.insert("\"" + shown_name(*material) + "\" (" + shown(*value.fractile) + " %)");
    }
    if (mean.empty() || fractile.empty()) return std::nullopt;
    const auto words = [](const std::set<std::string>& names) {
        std::string all;
        for (const std::string& name : names) all += (all.empty() ? "" : ", ") + name;
        return all;
    };
    return Message{Severity::caution, "fractiles-mixed", {{"mean", words(mean)}, {"fractile", words(fractile)}}, {}, {}};
}

}  // namespace wallfoot
