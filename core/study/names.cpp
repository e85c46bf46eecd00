// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/names.hpp"

#include <algorithm>

namespace wallfoot {

std::string shown_name(const Piece& piece) { return piece.name.empty() ? piece.id : piece.name; }
std::string shown_name(const Material& material) { return material.name.empty() ? material.id : material.name; }

std::string shown_name(const Section& section, const Space& space) {
    if (!space.name.empty()) return space.name;
    const std::string kind = to_string(space.kind);
    const auto alike = std::count_if(section.spaces.begin(), section.spaces.end(), [&](const Space& other) { return other.kind == space.kind && other.name.empty(); });
    return alike > 1 && space.id != kind ? kind + " (" + space.id + ")" : kind;
}

std::string shown_name(const Study& study, const Underlay& underlay) {
    const auto attachment = study.attachments.find(underlay.attachment);
    return attachment == study.attachments.end() || attachment->second->name.empty() ? underlay.id : attachment->second->name;
}

}  // namespace wallfoot
