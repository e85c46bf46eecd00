// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dwelling/balance.hpp"
#include "core/text/number_entry.hpp"

namespace wallfoot {

namespace {

std::string n(double value, int decimals = 4) { return number_text(value, decimals); }
/// A term behind a sign.
std::string factor(double value, int decimals = 5) { return value < 0 ? "(" + n(value, decimals) + ")" : n(value, decimals); }

void join(std::string& sum, const std::string& term) { sum += (sum.empty() ? "" : " + ") + term; }

/// "Σ … = a·b + c·d = x + y = z", with what the bounds leave open.
std::string sum_line(const std::string& name, const std::string& products, const std::string& terms, const Span& sum) {
    std::string line = name + " = " + (products.empty() ? "0" : products) + (terms.find(" + ") == std::string::npos ? "" : " = " + terms) + " = " + n(sum.value) + " W/K";
    if (sum.high > sum.low) line += "; from the bounds between " + n(sum.low) + " and " + n(sum.high) + " W/K";
    return line;
}

}  // namespace

std::vector<std::string> balance_equations(const Dwelling& dwelling, const Balance& sums) {
    std::vector<std::string> lines;
    std::string products[2], terms[2];
    bool points = false;
    for (std::size_t j = 0; j < sums.rows.size(); ++j) {
        const RowResult& row = sums.rows[j];
        if (!row.loss) continue;
        const auto* point = std::get_if<PointValue>(&dwelling.junctions[j].value);
        points = points || row.point;
        join(products[row.point], factor(row.value->value) + "·" + n(point ? point->count : *dwelling.junctions[j].length));
        join(terms[row.point], factor(row.loss->value, 4));
    }
    lines.push_back(sum_line("Σ psi·l", products[0], terms[0], sums.lines));
    if (points) lines.push_back(sum_line("Σ chi·n", products[1], terms[1], sums.points));
    const Span all = sums.junctions();
    if (sums.y) {
        std::string areas, planes;
        for (const EnvelopeElement& element : dwelling.envelope) {
            join(areas, n(element.area));
            join(planes, n(element.area) + "·" + n(element.U));
        }
        lines.push_back("y = Σ psi·l / Σ A = " + n(sums.lines.value) + " / (" + areas + ") = " + n(sums.lines.value) + " / " + n(sums.area) + " = " + n(sums.y->value) + " W/(m²·K)");
        lines.push_back("Σ A·U = " + planes + " = " + n(sums.plane) + " W/K");
        lines.push_back("H = Σ A·U + Σ psi·l + Σ chi·n = " + n(sums.plane) + " + " + factor(sums.lines.value, 4) + " + " + factor(sums.points.value, 4) + " = " + n(sums.total->value) + " W/K");
        if (sums.share) lines.push_back("share of the junctions = " + n(all.value) + " / " + n(sums.total->value) + " = " + n(sums.share->value * 100, 1) + " %");
    }
    if (!sums.energy) return lines;
    const auto year = [&](const std::string& what, const Span& loss, const std::optional<Span>& energy, const std::optional<Span>& cost, const std::optional<Span>& carbon) {
        if (!energy) return;
        lines.push_back("heat " + what + " = " + n(loss.value) + " W/K · " + n(dwelling.degree_days->value) + " K·d · 24 h/d / 1000 = " + n(energy->value, 1) + " kWh per year");
        const std::string delivered = n(energy->value, 1) + (dwelling.efficiency ? " / " + n(*dwelling.efficiency) : "") + " · ";
        if (cost) lines.push_back("its cost = " + delivered + n(dwelling.energy_price->value, 5) + " = " + n(cost->value, 2) + " " + dwelling.currency + " per year");
        if (carbon) lines.push_back("its carbon = " + delivered + n(dwelling.carbon_factor->value, 5) + " = " + n(carbon->value, 1) + " kg CO2 per year");
    };
    year("through the junctions", all, sums.energy, sums.cost, sums.carbon);
    if (sums.total) year("through all", *sums.total, sums.total_energy, sums.total_cost, sums.total_carbon);
    return lines;
}

}  // namespace wallfoot
