// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/dwelling/dwelling_derive.hpp"

#include <algorithm>

#include "solver/dwelling/dwelling_print.hpp"

namespace wallfoot {

namespace {

constexpr const char *of_dwelling = "the dwelling file", *of_sums = "computed";

void put_span(Derivation& derivation, const std::string& name, const Span& span, const std::string& unit, const std::string& source) {
    derivation.inputs.push_back({name, span.value, unit, source});
    if (!(span.high > span.low)) return;
    derivation.inputs.push_back({name + ", from the bounds at least", span.low, unit, source});
    derivation.inputs.push_back({name + ", from the bounds at most", span.high, unit, source});
}

/// Σ psi·l of the lines, or Σ chi·n of the points.
Derivation derive_rows(const Dwelling& dwelling, const Balance& sums, bool points, const std::vector<JunctionKind>& kinds) {
    Derivation derivation{.of = points ? "Σ chi·n" : "Σ psi·l",
                          .formula = points ? "Σ chi·n over all point transmittances (ISO 13789:2017, transmission heat transfer coefficient; from memory)"
                                            : "Σ psi·l over all junctions (ISO 13789:2017, transmission heat transfer coefficient; from memory)",
                          .inputs = {},
                          .notes = {}};
    for (std::size_t j = 0; j < sums.rows.size(); ++j) {
        const RowResult& row = sums.rows[j];
        if (!row.loss || row.point != points) continue;
        const Junction& junction = dwelling.junctions[j];
        const auto* point = std::get_if<PointValue>(&junction.value);
        const std::string name = shown_name(junction, kinds);
        put_span(derivation, (points ? "chi, " : "psi, ") + name, *row.value, points ? "W/K" : "W/(m·K)", dwelling_source_text(junction));
        if (point) derivation.inputs.push_back({"n, " + name, point->count, "", of_dwelling});
        else if (junction.length) derivation.inputs.push_back({"l, " + name, *junction.length, "m", of_dwelling});
        put_span(derivation, (points ? "chi·n, " : "psi·l, ") + name, *row.loss, "W/K", of_sums);
    }
    put_span(derivation, derivation.of, points ? sums.points : sums.lines, "W/K", of_sums);
    if (sums.open() > 0) derivation.notes.push_back("Open junctions are in no sum: at least.");
    derivation.notes.push_back("The sum is told with three decimals, its bounds rounded outwards; nothing is rounded before.");
    return derivation;
}

Derivation derive_y(const Dwelling& dwelling, const Balance& sums) {
    Derivation derivation{.of = "y", .formula = "y = Σ psi·l / Σ A, over the area of the exposed elements (as SAP 2012, appendix K, uses it; from memory)", .inputs = {}, .notes = {}};
    put_span(derivation, "Σ psi·l", sums.lines, "W/K", "derivation Σ psi·l");
    for (const EnvelopeElement& element : dwelling.envelope) derivation.inputs.push_back({"A, " + (element.name.empty() ? element.id : element.name), element.area, "m²", of_dwelling});
    derivation.inputs.push_back({"Σ A", sums.area, "m²", of_sums});
    put_span(derivation, "y", *sums.y, "W/(m²·K)", of_sums);
    derivation.notes.push_back("Told with four decimals, the bounds rounded outwards. Point transmittances have no part in y.");
    return derivation;
}

Derivation derive_total(const Dwelling& dwelling, const Balance& sums) {
    Derivation derivation{.of = "H and the share of the junctions",
                          .formula = "H = Σ A·U + Σ psi·l + Σ chi·n (ISO 13789:2017; from memory); share = (Σ psi·l + Σ chi·n)/H, its bounds from those of the sum in both places",
                          .inputs = {},
                          .notes = {}};
    for (const EnvelopeElement& element : dwelling.envelope) {
        const std::string name = element.name.empty() ? element.id : element.name;
        derivation.inputs.push_back({"A, " + name, element.area, "m²", of_dwelling});
        derivation.inputs.push_back({"U, " + name, element.U, "W/(m²·K)", element.source.empty() ? std::string(of_dwelling) : element.source});
        derivation.inputs.push_back({"A·U, " + name, element.area * element.U, "W/K", of_sums});
    }
    derivation.inputs.push_back({"Σ A·U", sums.plane, "W/K", of_sums});
    put_span(derivation, "Σ psi·l + Σ chi·n", sums.junctions(), "W/K", "derivations of the sums");
    put_span(derivation, "H", *sums.total, "W/K", of_sums);
    if (sums.share) put_span(derivation, "share", *sums.share, "", of_sums);
    derivation.notes.push_back("H is told with two decimals, the share in per cent with one, bounds rounded outwards.");
    return derivation;
}

/// Heat through the junctions in a year, with cost and carbon where they are stated.
Derivation derive_year(const Dwelling& dwelling, const Balance& sums) {
    Derivation derivation{.of = "a year of the junctions", .formula = "Q = (Σ psi·l + Σ chi·n)·DD·24/1000 (degree days, by definition); cost and carbon = Q/efficiency · price or factor", .inputs = {}, .notes = {}};
    put_span(derivation, "Σ psi·l + Σ chi·n", sums.junctions(), "W/K", "derivations of the sums");
    derivation.inputs.push_back({"DD, degree days", dwelling.degree_days->value, "K·d", dwelling.degree_days->source});
    put_span(derivation, "Q", *sums.energy, "kWh per year", of_sums);
    if (dwelling.efficiency) derivation.inputs.push_back({"efficiency", *dwelling.efficiency, "", of_dwelling});
    const auto priced = [&](const char* rate, const std::string& unit, const std::optional<DatedValue>& by, const char* name, const std::string& of, const std::optional<Span>& found) {
        if (!by || !found) return;
        derivation.inputs.push_back({rate, by->value, unit, by->source + ", " + by->date});
        put_span(derivation, name, *found, of, of_sums);
    };
    priced("price of energy", dwelling.currency + " per kWh", dwelling.energy_price, "cost", dwelling.currency + " per year", sums.cost);
    priced("carbon factor", "kg CO2 per kWh", dwelling.carbon_factor, "carbon", "kg CO2 per year", sums.carbon);
    return derivation;
}

}  // namespace

std::vector<Derivation> dwelling_derivations(const Dwelling& dwelling, const Balance& sums) {
    std::vector<Derivation> all;
    const auto kinds = junction_kinds();
    for (const bool points : {false, true})
        if (std::any_of(sums.rows.begin(), sums.rows.end(), [&](const RowResult& row) { return row.loss && row.point == points; })) all.push_back(derive_rows(dwelling, sums, points, kinds));
    if (all.empty()) return all;
    if (sums.y) all.push_back(derive_y(dwelling, sums));
    if (sums.total) all.push_back(derive_total(dwelling, sums));
    if (sums.energy && dwelling.degree_days) all.push_back(derive_year(dwelling, sums));
    return all;
}

}  // namespace wallfoot
