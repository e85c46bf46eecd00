// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <sstream>
#include <string>
#include <vector>

#include "core/file/study_file.hpp"
#include "solver/findings/findings.hpp"

namespace wallfoot::drafts {

/// A study file put together as text; lengths in mm.
struct Draft {
    std::string materials, pieces, spaces, more;  ///< `more`: further fields of the section
    std::string cut = "[0, 0, 1000, 1000]";

    static void item(std::string& list, const std::string& text) { list += (list.empty() ? "" : ",\n") + text; }

    Draft& material(const std::string& id, double lambda, const std::string& kind = "other") {
        std::ostringstream out;
        out << R"({"id": ")" << id << R"(", "name": ")" << id << R"(", "kind": ")" << kind << R"(", "lambda": )" << lambda << "}";
        item(materials, out.str());
        return *this;
    }
    Draft& space(const std::string& id, const std::string& kind, double x, double y, double temperature, const std::string& rest = "") {
        std::ostringstream out;
        out << R"({"id": ")" << id << R"(", "kind": ")" << kind << R"(", "at": [)" << x << ", " << y << R"(], "temperature": )"
            << temperature << rest << "}";
        item(spaces, out.str());
        return *this;
    }
    Draft& outline(const std::string& id, const std::string& fill, const std::vector<std::pair<double, double>>& corners) {
        std::ostringstream out;
        out << R"({"id": ")" << id << R"(", )" << fill << R"(, "outline": [)";
        for (std::size_t i = 0; i < corners.size(); ++i)
            out << (i ? ", " : "") << "[" << corners[i].first << ", " << corners[i].second << "]";
        out << "]}";
        item(pieces, out.str());
        return *this;
    }
    /// Rectangle of a material in its dry condition, which is the one the drafts declare.
    Draft& piece(const std::string& material, double x0, double y0, double x1, double y1) {
        const auto id = material + "-" + std::to_string(pieces.size());
        return outline(id, R"("material": ")" + material + R"(", "moisture": "dry")", {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}});
    }
    std::string json() const {
        return R"({"wallfoot": 1, "title": "Draft", "convention": "iso", "materials": [)" + materials +
               R"(], "variants": [{"id": "v1", "name": "Base", "section": {"cut": )" + cut + R"(, "spaces": [)" + spaces +
               R"(], "pieces": [)" + pieces + "]" + more + "}}]}";
    }
    Study study() const { return read_study(json()).study; }
    std::shared_ptr<const Findings> solved(const FindingsOptions& options = {}) const {
        const auto s = study();
        return find(s, s.variants.front(), options);
    }
};

/// The reference junction: a dense or light foot below an insulated cavity wall on a slab with insulation on top, every
/// dimension as in the published-style description it was first computed from by an independent finite-volume code.
struct Junction {
    double below_dpc = 1.30, first_course = 1.30;  ///< W/(m·K), inner leaf below the floor insulation, and just above
    double inside = 1, outside = 0;                ///< °C
    double strip = 0;                              ///< mm, a damp course drawn as a real layer of the inner leaf, top at y = 150
    bool membrane = false;                         ///< the damp course as a membrane
    bool mirrored = false;
    bool upstand = true;                           ///< insulation between screed and wall
    double droppings = 0;                          ///< mm, mortar on the foot of the cavity insulation, as conducting as the cavity fill
};

inline Draft junction(const Junction& j) {
    Draft d;
    const auto x = [&](double v) { return j.mirrored ? -v : v; };
    const auto add = [&](const char* m, double x0, double y0, double x1, double y1) {
        d.piece(m, std::min(x(x0), x(x1)), y0, std::max(x(x0), x(x1)), y1);
    };
    d.cut = j.mirrored ? "[-20300, -20000, 4000, 1825]" : "[-4000, -20000, 20300, 1825]";
    d.material("ground", 1.5, "soil").material("concrete", 2.0).material("board", 0.025).material("screed", 1.15);
    d.material("z1", j.below_dpc).material("z2", j.first_course).material("leaf", 0.50).material("fill", 1.4);
    d.material("batts", 0.032).material("foot", 1.30).material("brick", 0.77).material("sheet", 0.17);
    add("ground", -4000, -20000, 20300, 0);
    add("concrete", -150, -900, 450, -600);
    add("concrete", -4000, 0, 0, 150);
    add("board", -4000, 150, 0, 250);
    add("screed", -4000, 250, -25, 325);
    if (j.upstand) add("board", -25, 150, 0, 325);
    else add("screed", -25, 250, 0, 325);
    add("z1", 0, -600, 100, 150);
    add("z2", 0, 150, 100, 375);
    add("leaf", 0, 375, 100, 1825);
    add("fill", 100, -600, 200, -75);
    add("batts", 100, -75, 200, 1825);
    if (j.droppings > 0) add("fill", 100, -75, 200, -75 + j.droppings);
    add("foot", 200, -600, 300, 150);
    add("brick", 200, 150, 300, 1825);
    if (j.strip > 0) add("sheet", 0, 150 - j.strip, 100, 150);
    if (j.membrane) d.more = R"(, "membranes": [{"id": "dpc", "kind": "dpc", "path": [[0, 150], [)" + std::string(j.mirrored ? "-100" : "100") + ", 150]]}]";
    d.space("in", "inside", x(-700), 1000, j.inside).space("out", "outside", x(2000), 1000, j.outside);
    return d;
}

/// 0.1:0.50 / 0.1:0.032 / 0.1:0.77, inside on the left, 1 m high.
inline Draft plane_wall() {
    Draft d;
    d.cut = "[-500, 0, 800, 1000]";
    d.material("leaf", 0.50).material("batts", 0.032).material("brick", 0.77);
    d.piece("leaf", 0, 0, 100, 1000).piece("batts", 100, 0, 200, 1000).piece("brick", 200, 0, 300, 1000);
    d.space("in", "inside", -250, 500, 20).space("out", "outside", 600, 500, 0);
    return d;
}

inline const Psi& psi_of(const Findings& f, LengthSystem lengths, int a = 0, int b = 1) {
    for (const auto& psi : f.psi)
        if (psi.a == a && psi.b == b && psi.lengths == lengths) return psi;
    throw std::logic_error("no such psi");
}

inline const SurfaceFinding& surface_of(const Findings& f, Purpose purpose) {
    for (const auto& s : f.surface)
        if (s.purpose == purpose) return s;
    throw std::logic_error("no such surface finding");
}

inline bool says(const Findings& f, const std::string& code) {
    for (const auto& m : f.messages)
        if (m.code == code) return true;
    return false;
}

}  // namespace wallfoot::drafts
