// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/file/fields.hpp"

namespace wallfoot::file {

namespace {

json::Value write_point(Point p) { return json::Array{write_length(p.x), write_length(p.y)}; }

json::Value write_points(const std::vector<Point>& points) {
    json::Array list;
    list.reserve(points.size());
    for (const Point p : points) list.push_back(write_point(p));
    return list;
}

template <class Items, class Write>
void put_list(json::Object& object, const char* name, const Items& items, Write write) {
    if (items.empty()) return;
    json::Array list;
    for (const auto& item : items) list.push_back(write(item));
    object[name] = std::move(list);
}

void put_flag(json::Object& object, const char* name, const std::optional<bool>& flag) {
    if (flag) object[name] = *flag;
}

void put_length(json::Object& object, const char* name, const std::optional<Micrometres>& length) {
    if (length) object[name] = write_length(*length);
}

void put_level(json::Object& levels, const char* name, const Level& level) {
    if (level.both) {
        levels[name] = write_length(*level.both);
        return;
    }
    json::Array sides;
    const auto put_side = [&](const char* side, const std::optional<Micrometres>& at, const Extra& extra) {
        if (!at) return;
        json::Object entry{{"side", side}, {"at", write_length(*at)}};
        put_extra(entry, extra);
        sides.push_back(std::move(entry));
    };
    put_side("left", level.left, level.left_extra);
    put_side("right", level.right, level.right_extra);
    if (!sides.empty()) levels[name] = std::move(sides);
}

json::Value write_space(const Space& space) {
    json::Object object{{"id", space.id}, {"kind", to_string(space.kind)}};
    put_text(object, "name", space.name);
    if (space.single_mark && space.at.size() == 1) object["at"] = write_point(space.at.front());
    else if (!space.at.empty()) object["at"] = write_points(space.at);
    if (space.temperature) object["temperature"] = *space.temperature;
    if (space.balance) put_kept(object, "balance", *space.balance);
    if (const auto& r = space.surface_resistance) {
        const bool one = space.single_resistance && r->up == r->horizontal && r->up == r->down && r->extra.empty();
        object["surface_resistance"] = one ? json::Value(r->up) : write_resistances(*r);
    }
    put_text(object, "side", space.side);
    put_extra(object, space.extra);
    return object;
}

json::Value write_piece(const Piece& piece) {
    json::Object object{{"id", piece.id}, {"outline", write_points(piece.outline)}};
    put_text(object, "name", piece.name);
    switch (piece.fill) {
        case Fill::material: object["material"] = piece.filled_with; break;
        case Fill::space: object["space"] = piece.filled_with; break;
        case Fill::cutout: object["cutout"] = true; break;
    }
    if (piece.moisture) object["moisture"] = to_string(*piece.moisture);
    put_list(object, "holes", piece.holes, write_points);
    if (piece.courses) {
        json::Object courses{{"from", write_length(piece.courses->from)}, {"height", write_length(piece.courses->height)}};
        put_extra(courses, piece.courses->extra);
        object["courses"] = std::move(courses);
    }
    put_extra(object, piece.extra);
    return object;
}

json::Value write_membrane(const Membrane& membrane) {
    json::Object object{{"id", membrane.id}, {"kind", to_string(membrane.kind)}, {"path", write_points(membrane.path)}};
    put_flag(object, "sealed_laps", membrane.sealed_laps);
    put_extra(object, membrane.extra);
    return object;
}

json::Value write_water(const Water& water) {
    json::Object object;
    put_flag(object, "soil", water.soil);
    put_flag(object, "standing", water.standing);
    put_flag(object, "rain", water.rain);
    put_flag(object, "cavity_foot", water.cavity_foot);
    put_length(object, "water_level", water.water_level);
    put_extra(object, water.extra);
    return object;
}

json::Value write_corrections(const ElementCorrections& corrections) {
    json::Object object;
    json::Array list;
    for (const ElementFixings& fixings : corrections.fixings) {
        json::Object item{{"layer", fixings.layer}, {"conductivity", fixings.conductivity}, {"area", fixings.area_mm2}, {"per_m2", fixings.per_m2}};
        put_length(item, "length", fixings.length);
        if (fixings.empty_cavity) item["empty_cavity"] = true;
        put_extra(item, fixings.extra);
        list.push_back(std::move(item));
    }
    if (!list.empty()) object["fixings"] = std::move(list);
    if (corrections.air_gap_level) {
        object["air_gap_level"] = static_cast<double>(*corrections.air_gap_level);
        object["air_gap_layer"] = corrections.air_gap_layer;
    }
    put_extra(object, corrections.extra);
    return object;
}

json::Value write_element(const ElementOverride& element) {
    json::Object object{{"id", element.id}, {"cut", to_string(element.cut)}};
    json::Object reference;
    if (element.internal) reference["internal"] = write_point(*element.internal);
    if (element.external) reference["external"] = write_point(*element.external);
    put_extra(reference, element.reference_extra);
    if (!reference.empty()) object["reference"] = std::move(reference);
    if (element.corrections) object["corrections"] = write_corrections(*element.corrections);
    put_extra(object, element.extra);
    return object;
}

json::Value write_hidden(const HiddenSurface& hidden) {
    json::Object object{{"id", hidden.id}, {"path", write_points(hidden.path)}, {"reason", hidden.reason}};
    put_extra(object, hidden.extra);
    return object;
}

json::Value write_stretch(const Stretch& stretch) {
    json::Object object{{"id", stretch.id}, {"line", write_points(stretch.line)}};
    put_text(object, "name", stretch.name);
    put_text(object, "moves", stretch.moves);
    if (!stretch.measure.empty()) object["measure"] = write_points(stretch.measure);
    put_length(object, "min", stretch.min);
    put_length(object, "max", stretch.max);
    put_extra(object, stretch.extra);
    return object;
}

json::Value write_dimension(const Dimension& dimension) {
    json::Object object{{"id", dimension.id}, {"from", write_point(dimension.from)}, {"to", write_point(dimension.to)}};
    put_text(object, "along", dimension.along);
    if (dimension.offset != 0) object["offset"] = write_length(dimension.offset);
    put_text(object, "text", dimension.text);
    put_extra(object, dimension.extra);
    return object;
}

json::Value write_note(const Note& note) {
    json::Object object{{"id", note.id}, {"at", write_point(note.at)}, {"text", note.text}};
    put_extra(object, note.extra);
    return object;
}

json::Value write_group(const Group& group) {
    json::Array members(group.members.begin(), group.members.end());
    json::Object object{{"id", group.id}, {"members", std::move(members)}};
    put_text(object, "name", group.name);
    put_extra(object, group.extra);
    return object;
}

}  // namespace

json::Value write_length(Micrometres length) {
    const bool negative = length < 0;
    const auto size = negative ? -length : length;
    std::string text = negative ? "-" : "";
    text += std::to_string(size / um_per_mm);
    if (size % um_per_mm != 0) {
        text += '.';
        text += std::to_string(um_per_mm + size % um_per_mm).substr(1);
        while (text.back() == '0') text.pop_back();
    }
    return json::Number{to_mm(length), std::move(text)};
}

void put_extra(json::Object& object, const Extra& extra) {
    for (const auto& [name, text] : extra) object.emplace(name, json::parse(text));
}

void put_text(json::Object& object, const char* name, const std::string& text) {
    if (!text.empty()) object[name] = text;
}

void put_kept(json::Object& object, const char* name, const std::string& text) {
    if (!text.empty()) object[name] = json::parse(text);
}

json::Value write_section(const Section& section) {
    const Rect& cut = section.cut;
    json::Object object{
        {"cut", json::Array{write_length(cut.left), write_length(cut.bottom), write_length(cut.right), write_length(cut.top)}}};
    json::Object beyond;
    for (const auto& [side, b] : section.beyond)
        beyond[to_string(side)] = b.automatic ? json::Value("auto") : write_length(b.distance);
    put_extra(beyond, section.beyond_extra);
    if (!beyond.empty()) object["beyond"] = std::move(beyond);
    json::Object levels;
    put_level(levels, "floor", section.floor);
    put_level(levels, "ground", section.ground);
    put_level(levels, "dpc", section.dpc);
    put_extra(levels, section.level_extra);
    if (!levels.empty()) object["levels"] = std::move(levels);
    object["spaces"] = object["pieces"] = json::Array{};  // written even when empty: they are what a section is
    put_list(object, "spaces", section.spaces, write_space);
    put_list(object, "pieces", section.pieces, write_piece);
    put_list(object, "membranes", section.membranes, write_membrane);
    if (section.water) object["water"] = write_water(*section.water);
    put_list(object, "elements", section.elements, write_element);
    put_list(object, "hidden", section.hidden, write_hidden);
    put_list(object, "stretch", section.stretch, write_stretch);
    put_list(object, "dimensions", section.dimensions, write_dimension);
    put_list(object, "texts", section.texts, write_note);
    put_list(object, "groups", section.groups, write_group);
    put_list(object, "underlays", section.underlays, write_underlay);
    put_extra(object, section.extra);
    return object;
}

}  // namespace wallfoot::file
