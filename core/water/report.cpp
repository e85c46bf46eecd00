// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/water/report.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "core/water/water_words.hpp"

namespace wallfoot {
namespace {

using Json = nlohmann::ordered_json;
using Args = std::map<std::string, std::string>;

Message say(const std::string& code, Args args, std::optional<Point> at = {}, Severity severity = Severity::note) {
    return {severity, code, std::move(args), at, ""};
}

/// A length in mm to 0.001, without zeros at its end.
std::string mm(double um) {
    char text[40];
    std::snprintf(text, sizeof text, "%.3f", um / 1000);
    std::string shown = text;
    while (shown.back() == '0') shown.pop_back();
    if (shown.back() == '.') shown.pop_back();
    return shown == "-0" ? "0" : shown;
}
std::string shown(Point p) { return "(" + mm(static_cast<double>(p.x)) + ", " + mm(static_cast<double>(p.y)) + ")"; }
std::string shown(const Path& path) {
    std::string text;
    for (const Point p : path) text += (text.empty() ? "" : " – ") + shown(p);
    return text;
}

std::string name_of(const Piece& piece) { return piece.name.empty() ? piece.id : piece.name; }

std::string listed(const Section& section, const std::vector<int>& membranes) {
    std::string text;
    for (const int m : membranes) text += (text.empty() ? "\"" : ", \"") + section.membranes[m].id + "\"";
    return text;
}

std::string listed(const Section& section, const std::vector<Lap>& laps) {
    std::string text;
    for (const Lap& lap : laps) {
        if (lap.sealed) continue;
        const Args args{{"first", section.membranes[lap.first].id}, {"second", section.membranes[lap.second].id}, {"length", mm(lap.length)}};
        text += (text.empty() ? "" : ", ") + english(say(lap.length > 0 ? "water-lap" : "water-lap-none", args));
    }
    return text;
}

std::string named(WaterFrom from) {
    switch (from) {
        case WaterFrom::soil: return english(say("water-from-soil", {}));
        case WaterFrom::water_level: return english(say("water-from-level", {}));
        case WaterFrom::rain: return english(say("water-from-rain", {}));
        case WaterFrom::cavity_foot: return english(say("water-from-cavity-foot", {}));
    }
    return {};
}

/// Pieces a path passes before its end, each once in a row.
std::vector<int> passed(const WaterWay& way, const WaterPath& path, int end) {
    std::vector<int> pieces;
    for (const WaterStep& step : path.steps) {
        const int piece = way.net.parts[step.part].piece;
        if (piece != end && (pieces.empty() || pieces.back() != piece)) pieces.push_back(piece);
    }
    return pieces;
}

Message reached(const WaterReport& report, const PieceWater& piece, Args args) {
    const WaterPath& path = *report.way.parts[piece.part].path;
    const auto by = passed(report.way, path, piece.piece);
    args["from"] = named(path.from);
    args["share"] = mm(1000 * std::max(1.0, std::round(100 * piece.reached_share)));
    const std::string part = piece.reached_share > 1 - 1e-12 ? "" : english(say("water-share", {{"share", args["share"]}}));
    args["part"] = part;
    if (by.empty()) {
        const bool soil = path.from == WaterFrom::soil;
        return say(soil ? "water-wet" : "water-reached-directly", args, path.line.front(), soil ? Severity::note : Severity::caution);
    }
    std::string way;
    for (const int p : by) way += (way.empty() ? "\"" : ", \"") + name_of(report.section->pieces[p]) + "\"";
    args["way"] = way;
    Point enters = path.line.front();
    for (const WaterStep& step : path.steps)
        if (report.way.net.parts[step.part].piece == piece.piece) {
            enters = step.at;
            break;
        }
    args["point"] = shown(enters);
    args["length"] = mm(1000 * std::round(path.length / 1000));
    return say(path.length < 500 ? "water-reached-touching" : "water-reached", args, enters, Severity::caution);
}

Message run_sentence(const Section& section, const RemedyRun& run) {
    Args args{{"length", mm(run.length)}, {"path", shown(run.path)}, {"joins", ""}, {"gas", ""}};
    if (!run.joins.empty()) args["joins"] = english(say("remedy-joins", {{"membranes", listed(section, run.joins)}}));
    if (!run.at_gas.empty()) args["gas"] = english(say("remedy-gas", {{"membranes", listed(section, run.at_gas)}}));
    const char* code = run.kind == RemedyKind::damp_course      ? "remedy-damp-course"
                       : run.kind == RemedyKind::floor_membrane ? "remedy-floor-membrane"
                                                                : "remedy-tanking";
    return say(code, args, run.path.front());
}

Json points(const Path& path) {
    Json all = Json::array();
    for (const Point p : path) all.push_back({to_mm(p.x), to_mm(p.y)});
    return all;
}

Json ids(const Section& section, const std::vector<int>& membranes) {
    Json all = Json::array();
    for (const int m : membranes) all.push_back(section.membranes[m].id);
    return all;
}

Json laps_json(const Section& section, const std::vector<Lap>& laps) {
    Json all = Json::array();
    for (const Lap& lap : laps)
        all.push_back({{"between", {section.membranes[lap.first].id, section.membranes[lap.second].id}},
                       {"length", lap.length / 1000}, {"sealed", lap.sealed}, {"at", {to_mm(lap.at.x), to_mm(lap.at.y)}}});
    return all;
}

Json remedy_json(const WaterReport& report, const Remedy& remedy) {
    const auto said = sentences(report, remedy);
    Json json{{"answer", word_of(remedy_answer_words, remedy.answer)}, {"above_dpc", remedy.above_dpc},
              {"code", said[0].code}, {"text", english(said[0])}};
    if (remedy.answer != RemedyAnswer::proposed) return json;
    json["length"] = remedy.length / 1000;
    json["runs"] = Json::array();
    for (const RemedyRun& run : remedy.runs) {
        const Message sentence = run_sentence(*report.section, run);
        json["runs"].push_back({{"kind", word_of(remedy_kind_words, run.kind)}, {"path", points(run.path)},
                                {"length", run.length / 1000}, {"joins", ids(*report.section, run.joins)},
                                {"at_gas", ids(*report.section, run.at_gas)}, {"code", sentence.code}, {"text", english(sentence)}});
    }
    return json;
}

Json piece_json(const WaterReport& report, const PieceWater& piece) {
    const Section& section = *report.section;
    Json json{{"piece", section.pieces[piece.piece].id}, {"name", name_of(section.pieces[piece.piece])},
              {"state", word_of(water_state_words, piece.state)}, {"relies_on", ids(section, piece.relies_on)},
              {"laps", laps_json(section, piece.laps)}, {"enclosed", piece.enclosed}, {"reached_share", piece.reached_share}};
    if (const auto& path = report.way.parts[piece.part].path) {
        Json by = Json::array();
        for (const int p : passed(report.way, *path, piece.piece)) by.push_back(section.pieces[p].id);
        json["path"] = {{"from", word_of(water_from_words, path->from)}, {"by", by}, {"length", path->length / 1000}, {"line", points(path->line)}};
    }
    json["text"] = Json::array();
    for (const Message& message : sentences(report, piece)) json["text"].push_back({{"code", message.code}, {"text", english(message)}});
    if (const auto remedy = report.remedies.find(piece.piece); remedy != report.remedies.end())
        json["remedy"] = remedy_json(report, remedy->second);
    return json;
}

}  // namespace

WaterReport water_report(const Study& study, const Variant& variant, const Context& context) {
    WaterReport report{variant.id, variant.name, variant.section, {}, {}, {}, {}};
    const Section& section = *variant.section;
    const Arrangement& arrangement = report.arrangement = arrange(study, section, context);
    std::vector<Message> faults;
    for (const Message& message : arrangement.messages)
        (message.severity == Severity::fault ? faults : report.notes).push_back(message);
    if (!faults.empty()) throw InputFault(std::move(faults));
    report.way = water_way(study, section, arrangement, context);
    const Water stated = section.water.value_or(Water{});
    if (!stated.soil || !stated.rain || !stated.cavity_foot) report.notes.push_back(say("water-not-stated", {}));
    const RemedyDrawing drawing(study, section, context);
    const RemedyWeights weights = remedy_weights();
    for (const PieceWater& piece : report.way.pieces) {
        context.check();
        const Material* material = study.find_material(section.pieces[piece.piece].filled_with);
        if (piece.state == WaterState::reached && material->kind == MaterialKind::masonry)
            report.remedies.emplace(piece.piece, drawing.smallest(piece.piece, weights));
    }
    return report;
}

std::vector<Message> sentences(const WaterReport& report, const PieceWater& piece) {
    const Section& section = *report.section;
    const Args args{{"name", name_of(section.pieces[piece.piece])}, {"membranes", listed(section, piece.relies_on)},
                    {"laps", listed(section, piece.laps)}};
    std::vector<Message> said;
    if (piece.state == WaterState::reached)
        said.push_back(reached(report, piece, args));
    else if (piece.state == WaterState::lap_not_proven)
        said.push_back(say("water-lap-not-proven", args, piece.laps.front().at, Severity::caution));
    else
        said.push_back(say(piece.relies_on.empty() ? "water-no-contact" : "water-no-path", args));
    if (piece.enclosed) said.push_back(say("water-enclosed", args, report.way.net.parts[piece.part].inside, Severity::caution));
    return said;
}

std::vector<Message> sentences(const WaterReport& report, const Remedy& remedy) {
    const Section& section = *report.section;
    Args args{{"name", name_of(section.pieces[remedy.piece])}, {"membranes", listed(section, remedy.relies_on)},
              {"laps", listed(section, remedy.laps)}, {"length", mm(remedy.length)}};
    args["where"] = remedy.above_dpc ? english(say("remedy-above-dpc", {})) : "";
    switch (remedy.answer) {
        case RemedyAnswer::none_needed:
            return {say(remedy.relies_on.empty() ? "remedy-none-needed-apart" : "remedy-none-needed", args)};
        case RemedyAnswer::seal_laps: return {say("remedy-seal-laps", args)};
        case RemedyAnswer::water_level:
            args["level"] = mm(static_cast<double>(report.way.net.water_level.value_or(0)));
            return {say("remedy-water-level", args)};
        case RemedyAnswer::at_source:
            return {say(remedy.source == WaterFrom::rain ? "remedy-rain" : "remedy-cavity-foot", args)};
        case RemedyAnswer::none_found: return {say("remedy-none-found", args)};
        case RemedyAnswer::proposed: break;
    }
    std::vector<Message> said{say("remedy-proposed", args)};
    for (const RemedyRun& run : remedy.runs) said.push_back(run_sentence(section, run));
    return said;
}

std::string water_table(const std::vector<WaterReport>& reports) {
    std::string text;
    for (const WaterReport& report : reports) {
        text += (text.empty() ? "" : "\n") + (report.variant_name.empty() ? report.variant_id : report.variant_name) + "\n";
        for (const PieceWater& piece : report.way.pieces) {
            for (const Message& message : sentences(report, piece)) text += "  " + english(message) + "\n";
            const auto remedy = report.remedies.find(piece.piece);
            if (remedy == report.remedies.end()) continue;
            for (const Message& message : sentences(report, remedy->second)) text += "    " + english(message) + "\n";
        }
        for (const Message& note : report.notes) text += "  " + one_line(note, "") + "\n";
    }
    return text;
}

std::string water_json(const std::string& program, const std::string& title, const std::vector<WaterReport>& reports) {
    Json json{{"study", title}, {"program", program}, {"variants", Json::array()}};
    for (const WaterReport& report : reports) {
        Json variant{{"id", report.variant_id}, {"name", report.variant_name}, {"pieces", Json::array()}, {"warnings", Json::array()}};
        for (const PieceWater& piece : report.way.pieces) variant["pieces"].push_back(piece_json(report, piece));
        for (const Message& note : report.notes) {
            Json warning{{"code", note.code}, {"text", english(note)}};
            if (note.at) warning["at"] = {to_mm(note.at->x), to_mm(note.at->y)};
            variant["warnings"].push_back(std::move(warning));
        }
        json["variants"].push_back(std::move(variant));
    }
    return json.dump(2) + "\n";
}

}  // namespace wallfoot
