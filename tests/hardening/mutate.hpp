// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <functional>
#include <nlohmann/json.hpp>
#include <random>
#include <string>
#include <vector>

namespace wallfoot::hardening {

using Json = nlohmann::json;

/// Makes a broken or merely odd study out of a good one; the same seed gives the same bytes everywhere.
class Mutator {
  public:
    explicit Mutator(std::uint64_t seed) : random_(seed) {}

    /// One to three changes: of the document first, of its bytes last.
    std::string operator()(const std::vector<std::string>& bases) {
        std::string text = bases[below(bases.size())];
        const std::size_t changes = 1 + below(2) * below(3), of_bytes = below(3) == 0 ? 1 + below(changes) : 0;
        if (of_bytes < changes) {
            Json study = Json::parse(text);
            for (std::size_t i = of_bytes; i < changes; ++i) change(study);
            text = study.dump();
        }
        for (std::size_t i = 0; i < of_bytes; ++i) change(text);
        return text;
    }

  private:
    std::mt19937_64 random_;

    std::size_t below(std::size_t n) { return n == 0 ? 0 : random_() % n; }
    template <class T>
    const T& one_of(const std::vector<T>& list) { return list[below(list.size())]; }

    using Wanted = std::function<bool(const Json&)>;
    static bool any(const Json&) { return true; }
    static bool is_number(const Json& v) { return v.is_number(); }
    static bool is_text(const Json& v) { return v.is_string(); }
    static bool is_point(const Json& v) { return v.is_array() && v.size() == 2 && v[0].is_number() && v[1].is_number(); }
    static bool is_outline(const Json& v) { return v.is_array() && v.size() > 1 && is_point(v[0]); }
    static bool has_id(const Json& v) { return v.is_object() && v.contains("id"); }

    static void collect(Json& from, const Wanted& wanted, std::vector<Json*>& found) {
        if (wanted(from)) found.push_back(&from);
        if (from.is_structured())
            for (auto& part : from) collect(part, wanted, found);
    }

    /// A part of the study of the wanted kind, null when there is none; every other time one of a drawing.
    Json* pick(Json& study, const Wanted& wanted) {
        std::vector<Json*> found;
        Json* const drawing = section(study);
        collect(drawing && below(2) ? *drawing : study, wanted, found);
        return found.empty() ? nullptr : found[below(found.size())];
    }
    Json* section(Json& study) {
        if (!study.is_object() || !study.contains("variants") || !study["variants"].is_array() || study["variants"].empty()) return nullptr;
        Json& variant = study["variants"][below(study["variants"].size())];
        return variant.is_object() && variant.contains("section") && variant["section"].is_object() ? &variant["section"] : nullptr;
    }

    double nasty() {
        return one_of<double>({0, -0.0, 1e308, -1e308, 1e-320, 1e-9, 9007199254740992.0, 500000.001, -500000.001, 500000, -500000, 0.001, -0.001,
                               0.0004, 1e-6, 1e5, 1, -1, 2, 90, 1000, 0.5, -273.15, 1e9});
    }
    std::string odd_text(Json& study) {
        Json* other = pick(study, is_text);
        return one_of<std::string>({"", "auto", "dry", "saturated", "in", "out", "../../iso", "iso", "\x01\x02", "\xC3\xA4\xE2\x82\xAC", "a/b~c", "true",
                                    std::string(5000, 'x'), "other", "unheated", "metal", "airspace", "at-moisture", other ? other->get<std::string>() : ""});
    }
    Json odd_value(Json& study) {
        switch (below(7)) {
            case 0: return nullptr;
            case 1: return below(2) == 0;
            case 2: return nasty();
            case 3: return odd_text(study);
            case 4: return Json::array();
            case 5: return Json::object();
            default: return Json::array({0, 0});
        }
    }

    void change(Json& study) {
        const std::vector<void (Mutator::*)(Json&)> ways{
            &Mutator::number, &Mutator::number, &Mutator::text, &Mutator::copy_over, &Mutator::swap_leaves, &Mutator::empty, &Mutator::doubled,
            &Mutator::nested, &Mutator::nudge, &Mutator::nudge, &Mutator::merge, &Mutator::merge, &Mutator::collapse, &Mutator::stretched, &Mutator::scale, &Mutator::piece_again,
            &Mutator::reorder, &Mutator::rooms, &Mutator::id, &Mutator::leave_out, &Mutator::other_type, &Mutator::cut, &Mutator::comb};
        (this->*one_of(ways))(study);
    }

    void number(Json& study) {
        if (Json* v = pick(study, is_number)) *v = nasty();
    }
    void text(Json& study) {
        if (Json* v = pick(study, is_text)) *v = odd_text(study);
    }
    void copy_over(Json& study) {
        const Json* from = pick(study, any);
        if (!from) return;
        const Json copy = *from;
        if (Json* to = pick(study, any)) *to = copy;
    }
    void swap_leaves(Json& study) {
        const Wanted leaf = [](const Json& v) { return v.is_primitive() || is_point(v); };
        Json *a = pick(study, leaf), *b = pick(study, [&](const Json& v) { return a && v.type() == a->type() && leaf(v); });
        if (a && b && a != b) std::swap(*a, *b);
    }
    void empty(Json& study) {
        if (Json* v = pick(study, [](const Json& j) { return j.is_structured(); })) v->clear();
    }
    void doubled(Json& study) {
        Json* v = pick(study, [](const Json& j) { return j.is_array() && j.size() < 200; });
        if (!v) return;
        const Json again = *v;
        for (const Json& item : again) v->push_back(item);
    }
    void nested(Json& study) {
        Json* v = pick(study, any);
        if (!v) return;
        for (std::size_t n = 1 + below(below(2) ? 3 : 200); n > 0; --n) {
            Json inner = std::move(*v);
            *v = below(2) ? Json::array({inner}) : Json{{"a", inner}};
        }
    }
    void nudge(Json& study) {
        Json* v = pick(study, is_point);
        if (!v) return;
        const double by = one_of<double>({0.001, -0.001, 0.0005, 0.1, -1, 10, 1000, -20000, 400000});
        Json& coordinate = (*v)[below(2)];
        coordinate = coordinate.get<double>() + by;
    }
    void merge(Json& study) {
        Json *a = pick(study, is_point), *b = pick(study, is_point);
        if (!a || !b) return;
        if (below(2)) *a = Json(*b);
        else (*a)[0] = Json((*b)[0]);
    }
    void collapse(Json& study) {
        Json* v = pick(study, is_outline);
        if (!v) return;
        const std::size_t axis = below(2), of = below(v->size());
        for (Json& point : *v)
            if (is_point(point) && is_point((*v)[of]) && below(3)) point[axis] = Json((*v)[of][axis]);
    }
    /// One side of an outline far away or right beside the other.
    void stretched(Json& study) {
        Json* v = pick(study, is_outline);
        if (!v || !is_point(v->front())) return;
        const std::size_t axis = below(2);
        const double limit = v->front()[axis].get<double>();
        const double to = one_of<double>({limit + 0.001, limit - 0.002, 499999, -499999, limit + 0.05});
        for (Json& point : *v)
            if (is_point(point) && point[axis].get<double>() > limit) point[axis] = to;
    }
    void scale(Json& study) {
        Json* const drawing = section(study);
        if (!drawing) return;
        const std::vector<double> factors{1e-6, 1e-3, 0.01, 0.5, 1, 2, 10, 200, -1};
        const double by = one_of(factors), across = below(2) ? by : one_of(factors);
        if (below(2)) drawing->erase("beyond");
        std::vector<Json*> points;
        collect(*drawing, is_point, points);
        for (Json* p : points) {
            (*p)[0] = (*p)[0].get<double>() * across;
            (*p)[1] = (*p)[1].get<double>() * by;
        }
        if (!drawing->contains("cut") || !(*drawing)["cut"].is_array()) return;
        std::size_t i = 0;
        for (Json& side : (*drawing)["cut"])
            if (side.is_number()) side = side.get<double>() * (i++ % 2 ? by : across);
    }
    Json* pieces(Json& study) {
        Json* const drawing = section(study);
        if (!drawing || !drawing->contains("pieces")) return nullptr;
        Json& all = (*drawing)["pieces"];
        return all.is_array() && !all.empty() ? &all : nullptr;
    }
    void piece_again(Json& study) {
        Json* const all = pieces(study);
        if (!all) return;
        Json piece = (*all)[below(all->size())];
        if (piece.is_object() && below(4)) piece["id"] = "again-" + std::to_string(below(1000));
        std::vector<Json*> points;
        collect(piece, is_point, points);
        const double by = one_of<double>({0, 0.001, 0.5, 37.25, -500});
        for (Json* p : points) (*p)[0] = (*p)[0].get<double>() + by;
        all->insert(all->begin() + static_cast<std::ptrdiff_t>(below(all->size() + 1)), piece);
    }
    void reorder(Json& study) {
        Json* const all = pieces(study);
        if (!all) return;
        for (std::size_t i = all->size(); i > 1; --i) std::swap((*all)[i - 1], (*all)[below(i)]);
    }
    /// Small rooms side by side, each with a space of its own.
    void rooms(Json& study) {
        Json* const drawing = section(study);
        if (!drawing || !(*drawing)["spaces"].is_array() || !(*drawing)["pieces"].is_array()) return;
        const double x = one_of<double>({-700, 0, 10}), y = one_of<double>({-400, -100, 200}), pitch = one_of<double>({0.004, 3, 40});
        for (std::size_t i = 0, count = below(40); i < count; ++i) {
            const std::string name = "room-" + std::to_string(i);
            const double left = x + pitch * static_cast<double>(i), right = left + 0.5 * pitch;
            (*drawing)["spaces"].push_back({{"id", name}, {"kind", "other"}, {"temperature", i}, {"surface_resistance", below(3) ? 0.1 : 0}});
            (*drawing)["pieces"].push_back({{"id", name}, {"space", name}, {"outline", {{left, y}, {right, y}, {right, y + 20}}}});
        }
    }
    void id(Json& study) {
        Json *a = pick(study, has_id), *b = pick(study, has_id);
        if (a && b) (*a)["id"] = below(2) ? Json(b->at("id")) : Json(odd_text(study));
    }
    void leave_out(Json& study) {
        if (Json* v = pick(study, [](const Json& j) { return j.is_structured() && !j.empty(); })) {
            auto it = v->begin();
            std::advance(it, static_cast<std::ptrdiff_t>(below(v->size())));
            v->erase(it);
        }
    }
    void other_type(Json& study) {
        if (Json* v = pick(study, any)) *v = odd_value(study);
    }
    void cut(Json& study) {
        Json* const drawing = section(study);
        if (!drawing || !drawing->contains("cut") || !(*drawing)["cut"].is_array() || (*drawing)["cut"].size() != 4) return;
        Json& sides = (*drawing)["cut"];
        const std::size_t i = below(4);
        const double other = sides[(i + 2) % 4].is_number() ? sides[(i + 2) % 4].get<double>() : 0, outward = i < 2 ? -1 : 1;
        sides[i] = one_of<double>({other + outward * 0.001, other + outward * 0.05, other + outward * 10, other, outward * 500000, outward * 30000, 0, nasty()});
        if (below(3) == 0) (*drawing)["beyond"] = {{"left", one_of<Json>({0.001, 400000, "auto"})}, {"top", "auto"}, {"bottom", one_of<Json>({0, 250000, "auto"})}};
    }
    /// An outline with many narrow teeth.
    void comb(Json& study) {
        Json* v = pick(study, is_outline);
        if (!v || below(4)) return;
        const double x = one_of<double>({-1000, 0, 100}), pitch = one_of<double>({0.002, 0.5, 25});
        const std::size_t teeth = 2 + below(60);
        *v = Json::array({{x, -200}});
        for (std::size_t i = 0; i < 2 * teeth; ++i) v->push_back({x + pitch * static_cast<double>(i + 1), i % 2 ? 0 : 300});
        v->push_back({x + pitch * static_cast<double>(2 * teeth), -200});
    }

    struct Token {
        std::size_t at, length;
    };
    /// Words, numbers and signs of a text that may no longer be JSON.
    static std::vector<Token> tokens(const std::string& text) {
        std::vector<Token> all;
        for (std::size_t i = 0; i < text.size();) {
            std::size_t end = i + 1;
            if (text[i] == '"') {
                while (end < text.size() && text[end] != '"') end += text[end] == '\\' ? 2 : 1;
                end = std::min(end + 1, text.size());
            } else if (std::string_view("[]{}:, \n\t\r").find(text[i]) == std::string_view::npos) {
                end = std::min(text.find_first_of("[]{}:, \n\t\r\"", i), text.size());
            }
            if (std::string_view(" \n\t\r").find(text[i]) == std::string_view::npos) all.push_back({i, end - i});
            i = end;
        }
        return all;
    }

    void change(std::string& text) {
        if (text.empty()) return;
        const std::size_t at = below(text.size()), length = 1 + below(below(2) ? 4 : 400);
        const auto all = tokens(text);
        const Token token = all[below(all.size())];
        std::vector<Token> numbers, keys;
        for (const Token& t : all) {
            if (std::string_view("-0123456789").find(text[t.at]) != std::string_view::npos) numbers.push_back(t);
            if (text[t.at] == '"' && t.at + t.length < text.size() && text[t.at + t.length] == ':') keys.push_back(t);
        }
        switch (below(9)) {
            case 0: text[at] = static_cast<char>(text[at] ^ (1 << below(8))); break;
            case 1: text.erase(at, length); break;
            case 2: text.insert(below(text.size()), text.substr(at, length)); break;
            case 3: text.resize(at); break;
            case 4: swap_tokens(text, token, one_of(all)); break;
            case 5:
            case 6:
                if (numbers.empty()) break;
                replace(text, one_of(numbers), one_of<std::string>({"0", "-0", "1e308", "-1e308", "1e-320", "NaN", "Infinity", "-Infinity", "1e999", "9007199254740993",
                                                                   "500000.001", "1,5", "01", "+1", ".5", "1.", "0x10", "18446744073709551616", "1E+2", "-0.0e-0"}));
                break;
            case 7:
                if (!keys.empty()) key_twice(text, one_of(keys));
                break;
            default: text.insert(at, one_of<std::string>({"\xFF", std::string(1, '\0'), "\xEF\xBB\xBF", "\xED\xA0\x80", "\\u0000", "\\ud800", "/*", "//", "[[[[[[[[[[", "\n", ","}));
        }
    }
    static void key_twice(std::string& text, Token key) { text.insert(key.at, text.substr(key.at, key.length) + ":0,"); }
    static void replace(std::string& text, Token token, const std::string& with) { text.replace(token.at, token.length, with); }
    static void swap_tokens(std::string& text, Token a, Token b) {
        if (a.at > b.at) std::swap(a, b);
        if (a.at + a.length > b.at) return;
        const std::string first = text.substr(a.at, a.length), second = text.substr(b.at, b.length);
        replace(text, b, first);
        replace(text, a, second);
    }
};

}  // namespace wallfoot::hardening
