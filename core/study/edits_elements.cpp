// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/edits_elements.hpp"

#include <algorithm>

#include "core/study/edit_help.hpp"
#include "core/study/words.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

namespace {

bool beyond_cut(const Rect& cut, CutSide side, Point p) {
    switch (side) {
        case CutSide::left: return p.x < cut.left;
        case CutSide::right: return p.x > cut.right;
        case CutSide::bottom: return p.y < cut.bottom;
        default: return p.y > cut.top;
    }
}

/// One that the study had to make up for what it states; a name of the user's own stays.
bool named_by_side(const ElementOverride& element) {
    const std::string side = word_of(cut_side_words, element.cut);
    return element.id == side || element.id.starts_with(side + "-");
}

bool states_nothing(const ElementOverride& element) {
    return !element.internal && !element.external && !element.corrections && element.extra.empty() && element.reference_extra.empty();
}

ElementOverride& element_of(Section& section, const std::string& id, CutSide cut) {
    for (ElementOverride& element : section.elements) {
        if (element.id != id) continue;
        if (element.cut != cut) edit::refuse("duplicate-id", {{"id", id}});
        return element;
    }
    ElementOverride added;
    added.id = id;
    added.cut = cut;
    section.elements.push_back(std::move(added));
    return section.elements.back();
}

void drop_empty(Section& section) {
    std::erase_if(section.elements, [](const ElementOverride& element) { return named_by_side(element) && states_nothing(element); });
}

void check_hidden(const HiddenSurface& hidden) {
    if (hidden.reason.find_first_not_of(" \t\n") == std::string::npos) edit::refuse("hidden-without-reason", {{"id", hidden.id}});
    if (hidden.path.size() < 2) edit::refuse("path-too-short");
    for (std::size_t i = 0; i < hidden.path.size(); ++i) {
        edit::check_limit(hidden.path[i]);
        if (i > 0 && hidden.path[i] == hidden.path[i - 1]) edit::refuse("path-repeated-point", {}, hidden.path[i]);
    }
}

}  // namespace

const ElementOverride* find_element(const Section& section, const std::string& id, CutSide cut) {
    const ElementOverride* found = edit::found_in(section.elements, id);
    return found && found->cut == cut ? found : nullptr;
}

Section set_element_reference(const Section& section, const std::string& id, CutSide cut, LengthSystem lengths, std::optional<Point> at) {
    if (at) {
        edit::check_limit(*at);
        if (beyond_cut(section.cut, cut, *at)) edit::refuse("element-beyond-its-cut", {{"element", id}, {"side", word_of(cut_side_words, cut)}}, at);
    }
    Section result = section;
    if (!at && !find_element(section, id, cut)) return result;
    ElementOverride& element = element_of(result, id, cut);
    (lengths == LengthSystem::internal ? element.internal : element.external) = at;
    drop_empty(result);
    return result;
}

Section set_element_corrections(const Section& section, const std::string& id, CutSide cut, std::optional<ElementCorrections> corrections) {
    Section result = section;
    if (corrections && *corrections == ElementCorrections{}) corrections.reset();
    if (!corrections && !find_element(section, id, cut)) return result;
    element_of(result, id, cut).corrections = std::move(corrections);
    drop_empty(result);
    return result;
}

Section add_hidden(const Section& section, HiddenSurface hidden) {
    if (hidden.id.empty()) hidden.id = edit::free_id(section, "h");
    else if (find_hidden(section, hidden.id)) edit::refuse("duplicate-id", {{"id", hidden.id}});
    check_hidden(hidden);
    Section result = section;
    result.hidden.push_back(std::move(hidden));
    return result;
}

Section change_hidden(const Section& section, const HiddenSurface& hidden) {
    check_hidden(hidden);
    Section result = section;
    edit::with_id(result.hidden, hidden.id) = hidden;
    return result;
}

Section delete_hidden(const Section& section, const std::string& id) {
    Section result = section;
    edit::with_id(result.hidden, id);
    std::erase_if(result.hidden, [&](const HiddenSurface& hidden) { return hidden.id == id; });
    return result;
}

const HiddenSurface* find_hidden(const Section& section, const std::string& id) { return edit::found_in(section.hidden, id); }

Section set_space_side(const Section& section, const std::string& space_id, const std::string& side) {
    if (!side.empty() && side != "own" && side != "neighbour" && side != "common") edit::refuse("space-side-unknown", {{"side", side}});
    Section result = section;
    edit::with_id(result.spaces, space_id).side = side;
    return result;
}

}  // namespace wallfoot
