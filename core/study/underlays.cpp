// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/underlays.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

#include "core/study/edit_help.hpp"
#include "core/study/edits.hpp"

namespace wallfoot {

namespace {

using edit::refuse;

constexpr double degree = std::numbers::pi / 180;

/// Quarter turns are exact, so that an upright picture keeps to the grid.
std::pair<double, double> cosine_and_sine(double degrees) {
    const double quarters = degrees / 90;
    if (quarters != std::floor(quarters)) return {std::cos(degrees * degree), std::sin(degrees * degree)};
    constexpr double cosines[] = {1, 0, -1, 0};
    const int turn = static_cast<int>(std::fmod(std::fmod(quarters, 4) + 4, 4));
    return {cosines[turn], cosines[(turn + 3) % 4]};
}

void check(const Underlay& underlay) {
    const bool sound = underlay.scale >= 1e-9 && underlay.scale <= 1e9 && std::abs(underlay.rotation) <= 360 &&
                       underlay.opacity >= 0 && underlay.opacity <= 1 && underlay.page >= 1;  // false for what is no number
    if (!sound) refuse("underlay-placement");
    if (std::abs(underlay.origin.x) > coordinate_limit || std::abs(underlay.origin.y) > coordinate_limit) refuse("coordinate-too-large", {}, Point{});
}

Underlay& with_id(Section& section, const std::string& id) {
    const auto found = std::find_if(section.underlays.begin(), section.underlays.end(), [&](const Underlay& u) { return u.id == id; });
    if (found == section.underlays.end()) refuse("edit-unknown-id", {{"id", id}});
    return *found;
}

std::set<std::string> used_attachments(const Study& study) {
    std::set<std::string> used;
    for (const Variant& variant : study.variants)
        for (const Underlay& underlay : variant.section->underlays) used.insert(underlay.attachment);
    return used;
}

void attach(Study& study, const AttachedFile& file) {
    if (file.attachment->bytes.size() > attachment_limit) refuse("attachment-too-large");
    study.attachments.try_emplace(file.hash, file.attachment);  // the same bytes keep the name they had
}

void check_together(const Study& study) {
    std::size_t together = 0;
    for (const auto& [hash, attachment] : study.attachments) together += attachment->bytes.size();
    if (together > attachments_limit) refuse("attachments-too-large");
}

}  // namespace

Place placed(const Underlay& underlay, double u, double v) {
    const auto [c, s] = cosine_and_sine(underlay.rotation);
    const double x = underlay.scale * (underlay.mirrored ? -u : u), y = underlay.scale * v;
    return {to_mm(underlay.origin.x) + c * x - s * y, to_mm(underlay.origin.y) + s * x + c * y};
}

Place unplaced(const Underlay& underlay, double x, double y) {
    const auto [c, s] = cosine_and_sine(underlay.rotation);
    const double dx = x - to_mm(underlay.origin.x), dy = y - to_mm(underlay.origin.y);
    const double u = (c * dx + s * dy) / underlay.scale;
    return {underlay.mirrored ? -u : u, (c * dy - s * dx) / underlay.scale};
}

const Underlay* find_underlay(const Section& section, const std::string& id) {
    const auto found = std::find_if(section.underlays.begin(), section.underlays.end(), [&](const Underlay& u) { return u.id == id; });
    return found == section.underlays.end() ? nullptr : &*found;
}

Study add_underlay(const Study& study, std::size_t variant, Underlay underlay, const AttachedFile& file) {
    Section section = *study.variants.at(variant).section;
    if (underlay.id.empty()) {
        int n = 1;
        while (find_underlay(section, "u" + std::to_string(n))) ++n;
        underlay.id = "u" + std::to_string(n);
    } else if (find_underlay(section, underlay.id)) {
        refuse("duplicate-id", {{"id", underlay.id}});
    }
    underlay.attachment = file.hash;
    check(underlay);
    section.underlays.push_back(std::move(underlay));
    Study result = with_section(study, variant, std::move(section));
    attach(result, file);
    check_together(result);
    return result;
}

Section set_underlay(const Section& section, const Underlay& underlay) {
    Section result = section;
    check(underlay);
    with_id(result, underlay.id) = underlay;
    return result;
}

Study set_underlay_file(const Study& study, std::size_t variant, Underlay underlay, const AttachedFile& file) {
    underlay.attachment = file.hash;
    Study result = with_section(study, variant, set_underlay(*study.variants.at(variant).section, underlay));
    attach(result, file);
    drop_unused_attachments(study, result);
    check_together(result);
    return result;
}

Section move_underlay(const Section& section, const std::string& id, Micrometres dx, Micrometres dy) {
    Section result = section;
    Underlay& underlay = with_id(result, id);
    if (underlay.locked) refuse("underlay-locked");
    underlay.origin = {underlay.origin.x + dx, underlay.origin.y + dy};
    check(underlay);
    return result;
}

Study remove_underlay(const Study& study, std::size_t variant, const std::string& id) {
    Section section = *study.variants.at(variant).section;
    with_id(section, id);
    std::erase_if(section.underlays, [&](const Underlay& underlay) { return underlay.id == id; });
    Study result = with_section(study, variant, std::move(section));
    drop_unused_attachments(study, result);
    return result;
}

Study without_underlays(const Study& study) {
    Study result = study;
    for (std::size_t v = 0; v < study.variants.size(); ++v) {
        if (study.variants[v].section->underlays.empty()) continue;
        Section section = *study.variants[v].section;
        section.underlays.clear();
        result = with_section(result, v, std::move(section));
    }
    drop_unused_attachments(study, result);
    return result;
}

Underlay calibrated(const Underlay& underlay, Place a, Place b, double length) {
    const double now = std::hypot(b.x - a.x, b.y - a.y), factor = length / now;
    if (!(now > 0) || !(length > 0) || !std::isfinite(now) || !std::isfinite(factor)) refuse("calibration-impossible");
    Underlay result = underlay;
    result.scale = underlay.scale * factor;
    const double x = a.x + (to_mm(underlay.origin.x) - a.x) * factor, y = a.y + (to_mm(underlay.origin.y) - a.y) * factor;
    const double limit = to_mm(coordinate_limit);
    if (!(std::abs(x) <= limit) || !(std::abs(y) <= limit)) refuse("calibration-impossible");
    result.origin = {from_mm(x), from_mm(y)};
    check(result);
    return result;
}

void drop_unused_attachments(const Study& before, Study& after) {
    const auto used = used_attachments(after);
    for (const std::string& hash : used_attachments(before))
        if (!used.contains(hash)) after.attachments.erase(hash);
}

}  // namespace wallfoot
