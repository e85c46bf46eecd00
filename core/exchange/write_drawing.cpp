// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "core/exchange/dxf.hpp"

namespace wallfoot {

namespace {

/// The shortest decimal that reads back as the same number, without an exponent.
std::string decimal(double value) {
    char text[400];
    const auto end = std::to_chars(text, text + sizeof text, value == 0 ? 0.0 : value, std::chars_format::fixed).ptr;
    return {text, end};
}

void put(std::string& text, int code, const std::string& value) {
    const std::string number = std::to_string(code);
    text += std::string(number.size() < 3 ? 3 - number.size() : 0, ' ') + number + "\n" + value + "\n";
}

void put_point(std::string& text, double x, double y, int which = 0) {
    put(text, 10 + which, decimal(x));
    put(text, 20 + which, decimal(y));
    put(text, 30 + which, "0.0");
}

/// One line, in the character set of that generation of the format: other characters are written by their number.
std::string one_line(const std::string& name) {
    std::string result;
    for (std::size_t i = 0; i < name.size(); ++i) {
        const auto c = static_cast<unsigned char>(name[i]);
        if (c < 0x20) continue;
        const std::size_t more = c < 0x80 ? 0 : c < 0xE0 ? 1 : c < 0xF0 ? 2 : 3;
        if (more == 0 || more == 3 || i + more >= name.size()) {
            result += c < 0x80 ? static_cast<char>(c) : '_';
            i += more;
            continue;
        }
        unsigned code = more == 1 ? c & 31u : c & 15u;
        for (std::size_t k = 1; k <= more; ++k) code = code << 6 | (static_cast<unsigned char>(name[i + k]) & 63u);
        i += more;
        char hex[8];
        std::snprintf(hex, sizeof hex, "\\U+%04X", code & 0xFFFFu);
        result += hex;
    }
    return result;
}

std::string layer_name(const std::string& name) {
    const std::string line = one_line(name);
    return line.empty() ? "0" : line;
}

/// A text as that generation writes it: a caret and two percent signs begin codes there (of the format, from memory).
std::string written(const std::string& text) {
    std::string result;
    for (const char c : one_line(text)) {
        if (c == '%' && result.ends_with('%')) result += ' ';
        result += c;
        if (c == '^') result += ' ';
    }
    return result;
}

void put_line(std::string& text, const Stroke& stroke, const std::string& layer) {
    put(text, 0, "LINE");
    put(text, 8, layer);
    put_point(text, stroke.points[0].x, stroke.points[0].y);
    put_point(text, stroke.points[1].x, stroke.points[1].y, 1);
}

void put_polyline(std::string& text, const Stroke& stroke, const std::string& layer) {
    put(text, 0, "POLYLINE");
    put(text, 8, layer);
    put(text, 66, "1");
    put_point(text, 0, 0);
    put(text, 70, stroke.closed ? "1" : "0");
    for (const Place p : stroke.points) {
        put(text, 0, "VERTEX");
        put(text, 8, layer);
        put_point(text, p.x, p.y);
    }
    put(text, 0, "SEQEND");
    put(text, 8, layer);
}

void put_writing(std::string& text, const Writing& writing, const std::string& layer) {
    const std::string line = written(writing.text);
    if (line.empty()) return;
    put(text, 0, "TEXT");
    put(text, 8, layer);
    put_point(text, writing.at.x, writing.at.y);
    put(text, 40, decimal(writing.height));
    put(text, 1, line);
    put(text, 50, decimal(writing.rotation));
    if (!writing.centred) return;
    put(text, 72, "1");
    put_point(text, writing.at.x, writing.at.y, 1);
}

std::string escaped(const std::string& text) {
    std::string result;
    for (const char c : text) {
        if (c == '<') result += "&lt;";
        else if (c == '>') result += "&gt;";
        else if (c == '&') result += "&amp;";
        else if (c == '"') result += "&quot;";
        else if (static_cast<unsigned char>(c) >= 0x20) result += c;
    }
    return result;
}

}  // namespace

std::string dxf_text(const Drawing& drawing) {
    std::string text;
    put(text, 0, "SECTION");
    put(text, 2, "HEADER");
    put(text, 9, "$ACADVER");  // names the generation of the format
    put(text, 1, "AC1009");
    put(text, 9, "$INSUNITS");
    put(text, 70, "4");  // mm
    put(text, 0, "ENDSEC");
    put(text, 0, "SECTION");
    put(text, 2, "TABLES");
    put(text, 0, "TABLE");
    put(text, 2, "LAYER");
    put(text, 70, std::to_string(drawing.layers.size()));
    for (const DrawingLayer& layer : drawing.layers) {
        put(text, 0, "LAYER");
        put(text, 2, layer_name(layer.name));
        put(text, 70, "0");
        put(text, 62, "7");
        put(text, 6, "CONTINUOUS");
    }
    put(text, 0, "ENDTAB");
    put(text, 0, "ENDSEC");
    put(text, 0, "SECTION");
    put(text, 2, "ENTITIES");
    for (const Stroke& stroke : drawing.strokes) {
        const std::string layer = layer_name(drawing.layers[static_cast<std::size_t>(stroke.layer)].name);
        if (stroke.points.size() == 2 && !stroke.closed) put_line(text, stroke, layer);
        else put_polyline(text, stroke, layer);
    }
    for (const Writing& writing : drawing.writings) put_writing(text, writing, layer_name(drawing.layers[static_cast<std::size_t>(writing.layer)].name));
    put(text, 0, "ENDSEC");
    put(text, 0, "EOF");
    return text;
}

std::string svg_text(const Drawing& drawing) {
    constexpr double margin = 10;     // mm
    constexpr double capitals = 0.7;  // height of capitals of the size of a font, nearly (common practice, no source)
    Extent box = extent_of(drawing, std::vector<bool>(drawing.layers.size(), true));
    for (const Writing& writing : drawing.writings) {
        // No letter is wider than it is high, so that what is written lies within.
        const double length = writing.height * static_cast<double>(writing.text.size()), turn = writing.rotation * std::acos(-1.0) / 180;
        for (const double part : writing.centred ? std::array{-0.5, 0.5} : std::array{0.0, 1.0}) {
            const Place end{writing.at.x + part * length * std::cos(turn), writing.at.y + part * length * std::sin(turn)};
            const Extent own{end.x - writing.height, end.y - writing.height, end.x + writing.height, end.y + writing.height};
            box = box.empty() ? own : Extent{std::min(box.left, own.left), std::min(box.bottom, own.bottom), std::max(box.right, own.right), std::max(box.top, own.top)};
        }
    }
    if (box.empty()) box = {0, 0, 0, 0};
    const std::string width = decimal(box.width() + 2 * margin), height = decimal(box.height() + 2 * margin);
    std::string text = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" + width + "mm\" height=\"" + height +
                       "mm\" viewBox=\"0 0 " + width + " " + height + "\">\n";
    // y goes down in SVG.
    const auto pair = [&](Place p) { return decimal(std::round((p.x - box.left + margin) * 1e6) / 1e6) + "," + decimal(std::round((box.top + margin - p.y) * 1e6) / 1e6); };
    for (std::size_t layer = 0; layer < drawing.layers.size(); ++layer) {
        text += "<g id=\"" + escaped(drawing.layers[layer].name) + "\" fill=\"none\" stroke=\"black\" stroke-width=\"1\" stroke-linejoin=\"round\">\n";
        for (const Stroke& stroke : drawing.strokes) {
            if (static_cast<std::size_t>(stroke.layer) != layer) continue;
            text += stroke.closed ? "<polygon points=\"" : "<polyline points=\"";
            for (std::size_t i = 0; i < stroke.points.size(); ++i) text += (i > 0 ? " " : "") + pair(stroke.points[i]);
            text += "\">";
            if (!stroke.name.empty()) text += "<title>" + escaped(stroke.name) + "</title>";
            text += stroke.closed ? "</polygon>\n" : "</polyline>\n";
        }
        for (const Writing& writing : drawing.writings) {
            if (static_cast<std::size_t>(writing.layer) != layer) continue;
            const std::string at = pair(writing.at);
            text += "<text transform=\"translate(" + at + ") rotate(" + decimal(-writing.rotation) + ")\" font-family=\"sans-serif\" font-size=\"" + decimal(writing.height / capitals) + "\" fill=\"black\" stroke=\"none\"" +
                    (writing.centred ? " text-anchor=\"middle\">" : ">") + escaped(writing.text) + "</text>\n";
        }
        text += "</g>\n";
    }
    return text + "</svg>\n";
}

}  // namespace wallfoot
