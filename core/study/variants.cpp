// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/variants.hpp"

#include <algorithm>
#include <optional>
#include <stdexcept>

#include "core/study/edit_help.hpp"
#include "core/study/names.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

namespace {

[[noreturn]] void both_changed(const std::string& what) { edit::refuse("combine-both-changed", {{"what", what}}); }

template <class T>
const T& changed_one(const T& base, const T& first, const T& second, const std::string& what) {
    if (second == base || first == second) return first;
    if (first == base) return second;
    both_changed(what);
}

template <class T>
std::string combined_name(const T& item) {
    if constexpr (requires { shown_name(item); }) return shown_name(item);
    else return item.id;
}

/// Changed lists of things with ids, one by one. In the order of the list that changed it; what the other has more stands behind
/// what it stands behind there.
template <class T>
class CombinedList {
  public:
    CombinedList(const std::vector<T>& base, const std::vector<T>& first, const std::vector<T>& second) : base_(base), first_(first), second_(second) {}

    std::vector<T> made() const {
        if (second_ == base_ || first_ == second_) return first_;
        if (first_ == base_) return second_;
        const bool by_second = moved(second_);
        if (by_second && moved(first_)) both_changed("order");
        const std::vector<T>&leading = by_second ? second_ : first_, &other = by_second ? first_ : second_;
        std::vector<T> list;
        for (const T& item : leading) add(list, item.id, list.end());
        for (std::size_t i = 0; i < other.size(); ++i) {
            if (at(leading, other[i].id)) continue;
            auto place = list.begin();
            for (std::size_t k = i; k-- > 0 && place == list.begin();)
                if (const auto before = std::find_if(list.begin(), list.end(), [&](const T& item) { return item.id == other[k].id; }); before != list.end()) place = before + 1;
            add(list, other[i].id, place);
        }
        return list;
    }

  private:
    static const T* at(const std::vector<T>& list, const std::string& id) {
        const auto found = std::find_if(list.begin(), list.end(), [&](const T& item) { return item.id == id; });
        return found == list.end() ? nullptr : &*found;
    }

    static bool alike(const T* a, const T* b) { return a && b ? *a == *b : a == b; }

    void add(std::vector<T>& list, const std::string& id, typename std::vector<T>::iterator place) const {
        const T *base = at(base_, id), *first = at(first_, id), *second = at(second_, id);
        const T* taken = alike(second, base) || alike(first, second) ? first : second;
        if (!alike(second, base) && !alike(first, base) && !alike(first, second)) both_changed(combined_name(base ? *base : first ? *first : *second));
        if (taken) list.insert(place, *taken);
    }

    /// Whether what it shares with the base stands in another order there.
    bool moved(const std::vector<T>& list) const {
        std::vector<std::string> here, there;
        for (const T& item : list)
            if (at(base_, item.id)) here.push_back(item.id);
        for (const T& item : base_)
            if (at(list, item.id)) there.push_back(item.id);
        return here != there;
    }

    const std::vector<T>&base_, &first_, &second_;
};

template <class T>
std::vector<T> combined_list(const std::vector<T>& base, const std::vector<T>& first, const std::vector<T>& second) {
    return CombinedList<T>(base, first, second).made();
}

/// Fields this version does not know, one by one.
Extra combined_extra(const Extra& base, const Extra& first, const Extra& second) {
    const auto of = [](const Extra& extra, const std::string& name) {
        const auto known = extra.find(name);
        return known == extra.end() ? std::optional<std::string>() : std::optional(known->second);
    };
    Extra made;
    for (const Extra* from : {&first, &second})
        for (const auto& [name, text] : *from)
            if (const auto kept = changed_one(of(base, name), of(first, name), of(second, name), name)) made[name] = *kept;
    return made;
}

}  // namespace

const Variant& need_variant(const Study& study, const std::string& id_or_name) {
    if (const Variant* variant = study.find_variant(id_or_name)) return *variant;
    std::string known;
    for (const Variant& variant : study.variants) known += (known.empty() ? "" : ", ") + variant.id + " (" + variant.name + ")";
    throw InputFault(Message{Severity::fault, "unknown-variant", {{"name", id_or_name}, {"known", known}}, {}, "/variants"});
}

Study move_variant(const Study& study, std::size_t from, std::size_t to) {
    if (from >= study.variants.size() || to >= study.variants.size()) throw std::out_of_range("variant");
    Study result = study;
    const auto begin = result.variants.begin();
    const auto at = [&](std::size_t index) { return begin + static_cast<std::ptrdiff_t>(index); };
    if (from < to) std::rotate(at(from), at(from) + 1, at(to) + 1);
    else std::rotate(at(to), at(from), at(from) + 1);
    return result;
}

Study describe_variant(const Study& study, std::size_t variant, const std::string& name, const std::string& note) {
    Study result = study;
    result.variants.at(variant).name = name;
    result.variants.at(variant).note = note;
    return result;
}

Section combined(const Section& base, const Section& first, const Section& second) {
    Section made = first;
    made.cut = changed_one(base.cut, first.cut, second.cut, "cut");
    made.beyond = changed_one(base.beyond, first.beyond, second.beyond, "beyond");
    made.floor = changed_one(base.floor, first.floor, second.floor, "floor level");
    made.ground = changed_one(base.ground, first.ground, second.ground, "ground level");
    made.dpc = changed_one(base.dpc, first.dpc, second.dpc, "DPC level");
    made.water = changed_one(base.water, first.water, second.water, "water");
    made.spaces = combined_list(base.spaces, first.spaces, second.spaces);
    made.pieces = combined_list(base.pieces, first.pieces, second.pieces);
    made.membranes = combined_list(base.membranes, first.membranes, second.membranes);
    made.elements = combined_list(base.elements, first.elements, second.elements);
    made.hidden = combined_list(base.hidden, first.hidden, second.hidden);
    made.stretch = combined_list(base.stretch, first.stretch, second.stretch);
    made.dimensions = combined_list(base.dimensions, first.dimensions, second.dimensions);
    made.texts = combined_list(base.texts, first.texts, second.texts);
    made.groups = combined_list(base.groups, first.groups, second.groups);
    made.underlays = combined_list(base.underlays, first.underlays, second.underlays);
    made.extra = combined_extra(base.extra, first.extra, second.extra);
    made.level_extra = combined_extra(base.level_extra, first.level_extra, second.level_extra);
    made.beyond_extra = combined_extra(base.beyond_extra, first.beyond_extra, second.beyond_extra);
    for (const Piece& piece : made.pieces)
        if (piece.fill == Fill::space && std::none_of(made.spaces.begin(), made.spaces.end(), [&](const Space& space) { return space.id == piece.filled_with; })) both_changed(shown_name(piece));
    return made;
}

}  // namespace wallfoot
