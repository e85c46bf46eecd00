// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>

#include "core/study/convention.hpp"
#include "core/study/study.hpp"

// Edits of what is stated beside the drawing: where flanking elements are measured to and what their U is corrected by,
// surfaces that nobody sees, the dwelling a space belongs to.
namespace wallfoot {

/// What the study states of a flanking element; null where it states nothing.
const ElementOverride* find_element(const Section& section, const std::string& id, CutSide cut);
/// The place that an element is measured to in these lengths; nullopt = as the drawing has it (RULES 5). What says nothing
/// any more is taken out, unless it names the element. Refused: "element-beyond-its-cut" (its length would be below
/// zero), "coordinate-too-large", "duplicate-id" where an element of another side is called so.
Section set_element_reference(const Section& section, const std::string& id, CutSide cut, LengthSystem lengths, std::optional<Point> at);
/// Fixings and air gaps that its U is corrected by; nullopt or none = not stated. Refused as above.
Section set_element_corrections(const Section& section, const std::string& id, CutSide cut, std::optional<ElementCorrections> corrections);

/// A stretch of surface that is left out of the lowest surface temperature. An empty id is replaced by a free one ("h1", …).
/// Refused: "hidden-without-reason", "path-too-short", "path-repeated-point", "coordinate-too-large".
Section add_hidden(const Section& section, HiddenSurface hidden);
/// Puts one in the place of that with its id; refused as add_hidden.
Section change_hidden(const Section& section, const HiddenSurface& hidden);
Section delete_hidden(const Section& section, const std::string& id);
const HiddenSurface* find_hidden(const Section& section, const std::string& id);

/// own | neighbour | common, "" = not stated. Refused ("space-side-unknown") for another word.
Section set_space_side(const Section& section, const std::string& space_id, const std::string& side);

}  // namespace wallfoot
