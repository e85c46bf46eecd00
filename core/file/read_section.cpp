// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <set>

#include "core/file/fields.hpp"
#include "core/geometry/outline_check.hpp"

namespace wallfoot::file {

namespace {

std::optional<Point> first_of(const std::vector<Point>& points) {
    if (points.empty()) return std::nullopt;
    return points.front();
}

Rect read_cut(Found& found, const json::Value& value, const Where& where) {
    const auto* items = read_list(found, value, where);
    if (!items) return {};
    if (items->size() != 4) {
        found.fault("cut-not-four", where);
        return {};
    }
    std::array<Micrometres, 4> numbers{};
    for (std::size_t i = 0; i < 4; ++i) {
        const auto number = read_length(found, (*items)[i], Where(where, i));
        if (!number) return {};
        numbers[i] = *number;
    }
    const Rect cut{numbers[0], numbers[1], numbers[2], numbers[3]};
    if (cut.width() <= 0 || cut.height() <= 0) found.fault("cut-empty", where, {}, Point{cut.left, cut.bottom});
    return cut;
}

void read_beyond(Found& found, const json::Value& value, const Where& where, Section& section) {
    Fields fields(found, value, where);
    for (const auto& [side, word] : cut_side_words) {
        const auto* item = fields.find(word);
        if (!item) continue;
        const Where place = fields.at(word);
        const auto* text = item->as<std::string>();
        if (text && *text == "auto") {
            section.beyond[side] = {true, 0};
        } else if (text) {
            unknown_word(found, place, *text, "auto, or a distance in mm");
        } else if (const auto distance = read_length(found, *item, place, {0, 500'000})) {
            section.beyond[side] = {false, *distance};
            const Rect& cut = section.cut;
            const bool too_far = (side == CutSide::left && cut.left - *distance < -coordinate_limit) ||
                                 (side == CutSide::bottom && cut.bottom - *distance < -coordinate_limit) ||
                                 (side == CutSide::right && cut.right + *distance > coordinate_limit) ||
                                 (side == CutSide::top && cut.top + *distance > coordinate_limit);
            if (too_far) found.fault("beyond-too-far", place, {}, Point{cut.left, cut.bottom});
        }
    }
    section.beyond_extra = fields.rest();
}

void read_level_of_side(Found& found, const json::Value& item, const Where& place, Level& level) {
    Fields fields(found, item, place);
    const Side side = fields.need_word("side", side_words);
    const Micrometres at = fields.need_length("at");
    auto& slot = side == Side::left ? level.left : level.right;
    if (slot) found.fault("level-twice", place, {{"side", word_of(side_words, side)}});
    slot = at;
    (side == Side::left ? level.left_extra : level.right_extra) = fields.rest();
}

Level read_level(Fields& levels, std::string_view name) {
    Level level;
    const auto* value = levels.find(name);
    if (!value) return level;
    if (value->as<json::Number>()) level.both = read_length(levels.found(), *value, levels.at(name));
    else if (value->as<json::Array>())
        levels.each(name, [&](const json::Value& item, const Where& place) {
            read_level_of_side(levels.found(), item, place, level);
        });
    else wrong_type(levels.found(), *value, levels.at(name), "a number or a list with one entry per side");
    return level;
}

void read_levels(Found& found, const json::Value& value, const Where& where, Section& section) {
    Fields fields(found, value, where);
    section.floor = read_level(fields, "floor");
    section.ground = read_level(fields, "ground");
    section.dpc = read_level(fields, "dpc");
    section.level_extra = fields.rest();
}

void read_marks(Fields& fields, Space& space) {
    const auto* value = fields.find("at");
    if (!value) return;
    const auto* items = value->as<json::Array>();
    space.single_mark = !items || items->empty() || !(*items)[0].as<json::Array>();
    if (!space.single_mark || (items && items->empty())) {
        space.single_mark = false;
        space.at = read_points(fields.found(), *value, fields.at("at")).value_or(std::vector<Point>{});
    } else if (const auto mark = read_point(fields.found(), *value, fields.at("at"))) {
        space.at = {*mark};
    }
}

void read_space_resistance(Fields& fields, Space& space) {
    const auto* value = fields.find("surface_resistance");
    if (!value) return;
    const Where place = fields.at("surface_resistance");
    if (value->as<json::Number>()) {
        if (const auto r = read_resistance(fields.found(), *value, place)) space.surface_resistance = {*r, *r, *r};
    } else if (value->as<json::Object>()) {
        space.single_resistance = false;
        space.surface_resistance = read_resistances(fields.found(), *value, place);
    } else {
        wrong_type(fields.found(), *value, place, "a number or an object with up, horizontal and down");
    }
}

/// What a space of its kind must say about its temperature.
void check_space(Found& found, const Where& where, const Space& space, bool has_temperature, bool has_resistance) {
    const auto mark = first_of(space.at);
    if (space.kind == SpaceKind::unheated && !has_temperature && !space.balance)
        found.fault("unheated-without-temperature", where, {{"space", space.id}}, mark);
    if (has_temperature && space.balance) found.fault("temperature-and-balance", where, {{"space", space.id}}, mark);
    if (space.kind != SpaceKind::unheated && space.balance)
        found.fault("balance-of-heated", where, {{"space", space.id}}, mark);
    if (space.kind == SpaceKind::other && !(has_temperature && has_resistance))
        found.fault("other-space-incomplete", where, {{"space", space.id}}, mark);
}

Space read_space(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    Space space;
    space.id = fields.id();
    space.name = fields.text("name");
    space.kind = fields.need_word("kind", space_kind_words);
    read_marks(fields, space);
    space.temperature = fields.number("temperature", temperatures);
    if (const auto balance = fields.kept_object("balance"); !balance.empty()) space.balance = balance;
    read_space_resistance(fields, space);
    if (const auto* side = fields.find("side"))
        if (const auto word = read_text(found, *side, fields.at("side"))) {
            static const std::set<std::string> words{"own", "neighbour", "common"};
            if (!words.contains(*word)) unknown_word(found, fields.at("side"), *word, "own, neighbour, common");
            space.side = *word;
        }
    const bool has_temperature = fields.find("temperature"), has_resistance = fields.find("surface_resistance");
    if (fields.is_object()) check_space(found, where, space, has_temperature, has_resistance);
    space.extra = fields.rest();
    return space;
}

/// What the readers of a section share.
struct Reading {
    Found& found;
    std::set<std::string> materials, spaces;
    std::size_t vertices = 0;
};

void read_filling(Reading& reading, Fields& fields, Piece& piece) {
    const auto* material = fields.find("material");
    const auto* space = fields.find("space");
    const auto* cutout = fields.find("cutout");
    if ((material != nullptr) + (space != nullptr) + (cutout != nullptr) != 1) {
        reading.found.fault("piece-filling", fields.where(), {{"piece", piece.id}}, first_of(piece.outline));
        return;
    }
    if (material) {
        piece.filled_with = read_text(reading.found, *material, fields.at("material")).value_or("");
        if (material->as<std::string>() && !reading.materials.contains(piece.filled_with))
            reading.found.fault("unknown-material", fields.at("material"), {{"material", piece.filled_with}}, first_of(piece.outline));
    } else if (space) {
        piece.fill = Fill::space;
        piece.filled_with = read_text(reading.found, *space, fields.at("space")).value_or("");
        if (space->as<std::string>() && !reading.spaces.contains(piece.filled_with))
            reading.found.fault("unknown-space", fields.at("space"), {{"space", piece.filled_with}}, first_of(piece.outline));
    } else {
        piece.fill = Fill::cutout;
        if (read_flag(reading.found, *cutout, fields.at("cutout")) == false)
            reading.found.fault("cutout-not-true", fields.at("cutout"), {}, first_of(piece.outline));
    }
}

void count_vertices(Reading& reading, const Where& where, std::size_t more, std::optional<Point> at) {
    const bool before = reading.vertices > most_corners;
    reading.vertices += more;
    if (!before && reading.vertices > most_corners) reading.found.fault("too-many-vertices", where, {}, at);
}

void outline_fault(Reading& reading, const Where& where, const OutlineFault& fault, const Piece& piece) {
    reading.found.fault(fault.kind.c_str(), where, {{"piece", piece.id}}, fault.at);
}

void read_holes(Reading& reading, Fields& fields, Piece& piece, bool outline_good) {
    bool good = true;
    fields.each("holes", [&](const json::Value& item, const Where& place) {
        auto hole = read_points(reading.found, item, place);
        good = good && hole;
        if (!hole) return;
        count_vertices(reading, place, hole->size(), first_of(*hole));
        if (reading.vertices <= most_corners) {
            const auto fault = outline_good ? check_hole(piece.outline, *hole) : check_outline(*hole);
            if (fault) outline_fault(reading, place, *fault, piece);
            good = good && !fault;
        }
        piece.holes.push_back(std::move(*hole));
    });
    if (!good || reading.vertices > most_corners) return;
    const auto fault = check_holes_apart(piece.holes);
    const Where place = fields.at("holes");
    if (fault) outline_fault(reading, Where(place, fault->first), fault->second, piece);
}

Courses read_courses(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    Courses courses;
    courses.from = fields.need_length("from");
    courses.height = fields.need_length("height", some_length);
    courses.extra = fields.rest();
    return courses;
}

Piece read_piece(Reading& reading, const json::Value& value, const Where& where) {
    Fields fields(reading.found, value, where);
    Piece piece;
    piece.id = fields.id();
    piece.name = fields.text("name");
    bool outline_good = false;
    if (const auto* outline = fields.need("outline")) {
        const Where place = fields.at("outline");
        if (auto points = read_points(reading.found, *outline, place)) {
            piece.outline = std::move(*points);
            count_vertices(reading, place, piece.outline.size(), first_of(piece.outline));
            const auto fault = reading.vertices <= most_corners ? check_outline(piece.outline) : std::nullopt;
            if (fault) outline_fault(reading, place, *fault, piece);
            outline_good = !fault;
        }
    }
    read_holes(reading, fields, piece, outline_good);
    if (fields.is_object()) read_filling(reading, fields, piece);
    if (const auto* moisture = fields.find("moisture")) {
        const auto word = read_text(reading.found, *moisture, fields.at("moisture"));
        if (word && *word != "auto") {
            piece.moisture = find_word(condition_words, *word);
            if (!piece.moisture) unknown_word(reading.found, fields.at("moisture"), *word, "auto, " + list_of(condition_words));
        }
    }
    if (const auto* courses = fields.find("courses")) piece.courses = read_courses(reading.found, *courses, fields.at("courses"));
    piece.extra = fields.rest();
    return piece;
}

/// A polyline of at least two points, none twice in a row.
Path read_path(Found& found, const json::Value& value, const Where& where) {
    auto path = read_points(found, value, where);
    if (!path) return {};
    if (path->size() < 2) found.fault("path-too-short", where, {}, first_of(*path));
    const auto twice = std::adjacent_find(path->begin(), path->end());
    if (twice != path->end()) found.fault("path-repeated-point", where, {}, *twice);
    return *path;
}

Membrane read_membrane(Reading& reading, const json::Value& value, const Where& where) {
    Fields fields(reading.found, value, where);
    Membrane membrane;
    membrane.id = fields.id();
    membrane.kind = fields.need_word("kind", membrane_kind_words);
    if (const auto* path = fields.need("path")) {
        membrane.path = read_path(reading.found, *path, fields.at("path"));
        count_vertices(reading, fields.at("path"), membrane.path.size(), first_of(membrane.path));
    }
    membrane.sealed_laps = fields.flag("sealed_laps");
    membrane.extra = fields.rest();
    return membrane;
}

Water read_water(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    Water water;
    water.soil = fields.flag("soil");
    water.standing = fields.flag("standing");
    water.rain = fields.flag("rain");
    water.cavity_foot = fields.flag("cavity_foot");
    const auto* level = fields.find("water_level");  // null says: no water level is known
    if (level && !level->is_null()) water.water_level = read_length(found, *level, fields.at("water_level"));
    water.extra = fields.rest();
    return water;
}

ElementFixings read_fixings(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    ElementFixings fixings;
    if (const auto* layer = fields.need("layer")) fixings.layer = read_text(found, *layer, fields.at("layer")).value_or("");
    fixings.conductivity = fields.need_number("conductivity", {0.001, 1000});
    fixings.area_mm2 = fields.need_number("area", {0, 1e5});
    fixings.per_m2 = fields.need_number("per_m2", {0, 1e4});
    fixings.length = fields.length("length", {0, 10'000});
    fixings.empty_cavity = fields.flag("empty_cavity").value_or(false);
    fixings.extra = fields.rest();
    return fixings;
}

ElementCorrections read_corrections(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    ElementCorrections corrections;
    fields.each("fixings", [&](const json::Value& item, const Where& place) { corrections.fixings.push_back(read_fixings(found, item, place)); });
    if (const auto level = fields.number("air_gap_level", {0, 2})) {
        corrections.air_gap_level = static_cast<int>(*level);
        if (*level != *corrections.air_gap_level) found.fault("air-gap-level", fields.at("air_gap_level"));
        if (const auto* layer = fields.need("air_gap_layer")) corrections.air_gap_layer = read_text(found, *layer, fields.at("air_gap_layer")).value_or("");
    }
    corrections.extra = fields.rest();
    return corrections;
}

ElementOverride read_element(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    ElementOverride element;
    element.id = fields.id();
    element.cut = fields.need_word("cut", cut_side_words);
    if (const auto* item = fields.find("reference")) {
        Fields reference(found, *item, fields.at("reference"));
        if (const auto* p = reference.find("internal")) element.internal = read_point(found, *p, reference.at("internal"));
        if (const auto* p = reference.find("external")) element.external = read_point(found, *p, reference.at("external"));
        element.reference_extra = reference.rest();
    }
    if (const auto* item = fields.find("corrections")) element.corrections = read_corrections(found, *item, fields.at("corrections"));
    element.extra = fields.rest();
    return element;
}

HiddenSurface read_hidden(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    HiddenSurface hidden;
    hidden.id = fields.id();
    if (const auto* path = fields.need("path")) hidden.path = read_path(found, *path, fields.at("path"));
    if (const auto* reason = fields.need("reason")) {
        hidden.reason = read_text(found, *reason, fields.at("reason")).value_or("");
        if (reason->as<std::string>() && hidden.reason.find_first_not_of(" \t\n") == std::string::npos)
            found.fault("hidden-without-reason", where, {{"id", hidden.id}}, first_of(hidden.path));
    }
    hidden.extra = fields.rest();
    return hidden;
}

Stretch read_stretch(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    Stretch stretch;
    stretch.id = fields.id();
    stretch.name = fields.text("name");
    if (const auto* line = fields.need("line")) stretch.line = read_path(found, *line, fields.at("line"));
    if (const auto* moves = fields.need("moves"))
        if (const auto word = read_text(found, *moves, fields.at("moves"))) {
            static const std::set<std::string> words{"left", "right", "up", "down"};
            if (!words.contains(*word)) unknown_word(found, fields.at("moves"), *word, "left, right, up, down");
            stretch.moves = *word;
        }
    if (const auto* measure = fields.find("measure")) stretch.measure = read_path(found, *measure, fields.at("measure"));
    stretch.min = fields.length("min");
    stretch.max = fields.length("max");
    if (stretch.min && stretch.max && *stretch.min > *stretch.max) found.fault("stretch-range", where, {{"stretch", stretch.id}});
    stretch.extra = fields.rest();
    return stretch;
}

Dimension read_dimension(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    Dimension dimension;
    dimension.id = fields.id();
    if (const auto* from = fields.need("from")) dimension.from = read_point(found, *from, fields.at("from")).value_or(Point{});
    if (const auto* to = fields.need("to")) dimension.to = read_point(found, *to, fields.at("to")).value_or(Point{});
    if (const auto* along = fields.find("along"))
        if (const auto word = read_text(found, *along, fields.at("along"))) {
            if (*word != "x" && *word != "y") unknown_word(found, fields.at("along"), *word, "x, y");
            dimension.along = *word;
        }
    dimension.offset = fields.length("offset").value_or(0);
    dimension.text = fields.text("text");
    dimension.extra = fields.rest();
    return dimension;
}

Note read_note(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    Note note;
    note.id = fields.id();
    if (const auto* at = fields.need("at")) note.at = read_point(found, *at, fields.at("at")).value_or(Point{});
    note.text = fields.text("text");
    note.extra = fields.rest();
    return note;
}

Group read_group(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    Group group;
    group.id = fields.id();
    group.name = fields.text("name");
    fields.each("members", [&](const json::Value& item, const Where& place) {
        if (const auto member = read_text(found, item, place)) group.members.push_back(*member);
    });
    group.extra = fields.rest();
    return group;
}

}  // namespace

Section read_section(Found& found, const json::Value& value, const Where& where, const std::vector<Material>& materials) {
    Fields fields(found, value, where);
    Section section;
    if (const auto* cut = fields.need("cut")) section.cut = read_cut(found, *cut, fields.at("cut"));
    if (const auto* beyond = fields.find("beyond")) read_beyond(found, *beyond, fields.at("beyond"), section);
    if (const auto* levels = fields.find("levels")) read_levels(found, *levels, fields.at("levels"), section);

    Reading reading{found, {}, {}};
    for (const Material& material : materials) reading.materials.insert(material.id);
    Ids spaces, pieces, membranes, elements, stretches, dimensions, texts, groups;
    fields.each("spaces", [&](const json::Value& item, const Where& place) {
        section.spaces.push_back(read_space(found, item, place));
        reading.spaces.insert(section.spaces.back().id);
        spaces.add(found, place, section.spaces.back().id, first_of(section.spaces.back().at));
    });
    fields.each("pieces", [&](const json::Value& item, const Where& place) {
        section.pieces.push_back(read_piece(reading, item, place));
        pieces.add(found, place, section.pieces.back().id, first_of(section.pieces.back().outline));
    });
    fields.each("membranes", [&](const json::Value& item, const Where& place) {
        section.membranes.push_back(read_membrane(reading, item, place));
        membranes.add(found, place, section.membranes.back().id, first_of(section.membranes.back().path));
    });
    if (const auto* water = fields.find("water")) section.water = read_water(found, *water, fields.at("water"));
    fields.each("elements", [&](const json::Value& item, const Where& place) {
        section.elements.push_back(read_element(found, item, place));
        elements.add(found, place, section.elements.back().id);
    });
    Ids hidden;
    fields.each("hidden", [&](const json::Value& item, const Where& place) {
        section.hidden.push_back(read_hidden(found, item, place));
        hidden.add(found, place, section.hidden.back().id, first_of(section.hidden.back().path));
    });
    fields.each("stretch", [&](const json::Value& item, const Where& place) {
        section.stretch.push_back(read_stretch(found, item, place));
        stretches.add(found, place, section.stretch.back().id);
    });
    fields.each("dimensions", [&](const json::Value& item, const Where& place) {
        section.dimensions.push_back(read_dimension(found, item, place));
        dimensions.add(found, place, section.dimensions.back().id, section.dimensions.back().from);
    });
    fields.each("texts", [&](const json::Value& item, const Where& place) {
        section.texts.push_back(read_note(found, item, place));
        texts.add(found, place, section.texts.back().id, section.texts.back().at);
    });
    fields.each("groups", [&](const json::Value& item, const Where& place) {
        section.groups.push_back(read_group(found, item, place));
        groups.add(found, place, section.groups.back().id);
    });
    Ids underlays;
    fields.each("underlays", [&](const json::Value& item, const Where& place) {
        section.underlays.push_back(read_underlay(found, item, place));
        underlays.add(found, place, section.underlays.back().id, section.underlays.back().origin);
    });
    section.extra = fields.rest();
    return section;
}

}  // namespace wallfoot::file
