// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/variant_picture.hpp"

#include <algorithm>
#include <array>
#include <set>

#include "ui/paint/labels.hpp"
#include "ui/paint/section_marks.hpp"

namespace wallfoot {

namespace {

void paint_map(QPainter& painter, const View& view, const Findings& findings, TemperatureRange range, const QRectF& shown, double ratio) {
    // The map is cut at the section by taking that part of the image: the SVG painter cannot clip.
    const QImage map = heat_map(view, ratio, *findings.solution, findings.temperatures, range);
    const QRect part = QRectF(shown.topLeft() * ratio, shown.size() * ratio).toAlignedRect() & QRect(QPoint(), map.size());
    QImage cut = map.copy(part);
    cut.setDevicePixelRatio(1);
    painter.drawImage(QRectF(QPointF(part.topLeft()) / ratio, QSizeF(part.size()) / ratio), cut);
}

}  // namespace

TemperatureRange range_of(const Findings& findings) {
    if (findings.temperatures.empty()) return {};
    const auto [low, high] = std::minmax_element(findings.temperatures.begin(), findings.temperatures.end());
    return *high > *low ? TemperatureRange{*low, *high} : TemperatureRange{*low - 0.5, *low + 0.5};
}

TemperatureRange range_of(const std::vector<std::shared_ptr<const Findings>>& all) {
    if (all.empty()) return {};
    TemperatureRange range = range_of(*all.front());
    for (const auto& findings : all) {
        const TemperatureRange own = range_of(*findings);
        range = {std::min(range.low, own.low), std::max(range.high, own.high)};
    }
    return range;
}

QRectF cut_in_pixels(const View& view, const Section& section) {
    return QRectF(view.to_pixels(Point{section.cut.left, section.cut.top}), view.to_pixels(Point{section.cut.right, section.cut.bottom}));
}

std::map<std::string, int> hatch_turns(const Study& study, const std::vector<std::shared_ptr<const Findings>>& all) {
    using Uses = std::map<MaterialKind, std::array<int, 4>>;  // how many materials of a kind have each turn
    std::map<std::string, int> turns;
    Uses everywhere;
    for (const auto& findings : all) {
        Uses here;
        std::set<std::string> met;
        std::vector<const Material*> fresh;
        for (const Piece& piece : findings->section->pieces) {
            const Material* material = piece.fill == Fill::material ? study.find_material(piece.filled_with) : nullptr;
            if (!material || !met.insert(material->id).second) continue;
            const auto known = turns.find(material->id);
            if (known == turns.end()) fresh.push_back(material);
            else ++here[material->kind][static_cast<std::size_t>(known->second)];
        }
        for (const Material* material : fresh) {
            auto &of_section = here[material->kind], &of_all = everywhere[material->kind];
            std::size_t least = 0;
            for (std::size_t turn = 1; turn < of_section.size(); ++turn)
                if (std::pair(of_section[turn], of_all[turn]) < std::pair(of_section[least], of_all[least])) least = turn;
            turns[material->id] = static_cast<int>(least);
            ++of_section[least];
            ++of_all[least];
        }
    }
    return turns;
}

LineSteps paint_variant(QPainter& painter, const View& view, const Study& study, const Findings& findings, bool heat, TemperatureRange range, const SheetColours& colours,
                        const QRectF& shown, double ratio, bool labels, const std::map<std::string, int>* turns) {
    const Section& section = *findings.section;
    SectionLook look;
    look.colours = colours;
    look.labels = labels;
    look.hatches = !heat || !findings.solution;
    LabelPlaces places(shown.adjusted(2, 2, -2, -2));
    if (!look.hatches) {
        paint_map(painter, view, findings, range, shown, ratio);
        HeatLook over;
        over.range = range;
        over.lowest = findings.headline_surface();
        return paint_over_heat(painter, view, study, section, &findings.arrangement, findings, look, over, shown, places);
    }
    paint_section_body(painter, view, study, section, &findings.arrangement, look, turns);
    paint_section_marks(painter, view, study, section, &findings.arrangement, look, places);
    return {};
}

}  // namespace wallfoot
