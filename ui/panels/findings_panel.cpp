// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/findings_panel.hpp"

#include <QScrollBar>
#include <cmath>

#include "ui/panels/words.hpp"
#include "ui/panels/wrapping.hpp"

namespace wallfoot {

namespace {

constexpr int place_role = Qt::UserRole, element_role = Qt::UserRole + 1;

QString path_of(const QTreeWidgetItem* item) {
    QString path;
    for (; item; item = item->parent()) path.prepend(QLatin1Char('/') + item->text(0));
    return path;
}

Point on_grid(const std::array<double, 2>& at) { return {std::llround(at[0]), std::llround(at[1])}; }

QString place_words(Point p) { return QObject::tr("x %1, y %2").arg(length_words(to_mm(p.x)), length_words(to_mm(p.y))); }

QString reason_words(const Element& element) {
    return element.reason.empty() ? QObject::tr("none") : sentence(Message{Severity::note, element.reason, {{"element", element.id}}, {}, {}});
}

}  // namespace

FindingsPanel::FindingsPanel(QWidget* parent) : QTreeWidget(parent) {
    setAccessibleName(tr("Findings"));
    setColumnCount(2);
    setHeaderLabels({tr("Findings"), tr("Value")});
    setIndentation(fontMetrics().horizontalAdvance(QLatin1Char('M')));
    wrap_rows(*this);
    setSelectionMode(QAbstractItemView::SingleSelection);
    const auto choose = [this](QTreeWidgetItem* item) {
        if (item->data(0, place_role).isValid()) {
            const QPointF at = item->data(0, place_role).toPointF();
            emit place_chosen({from_mm(at.x()), from_mm(at.y())});
        }
        const QTreeWidgetItem* row = item->data(0, element_role).isValid() ? item : item->parent();
        if (row && row->data(0, element_role).isValid()) emit element_chosen(row->data(0, element_role).toString());
    };
    connect(this, &QTreeWidget::itemClicked, this, choose);
    connect(this, &QTreeWidget::itemActivated, this, choose);
}

QTreeWidgetItem* FindingsPanel::group(const QString& name) {
    auto* item = new QTreeWidgetItem(this, {name});
    QFont bold = font();
    bold.setBold(true);
    item->setFont(0, bold);
    item->setFirstColumnSpanned(true);
    item->setExpanded(true);
    return item;
}

QTreeWidgetItem* FindingsPanel::add(QTreeWidgetItem* parent, const Row& row) {
    auto* item = new QTreeWidgetItem(parent, {row.what, row.value});
    if (row.value.isEmpty()) item->setFirstColumnSpanned(true);
    item->setToolTip(0, row.what);
    item->setToolTip(1, row.value);
    if (row.at) item->setData(0, place_role, QPointF(to_mm(row.at->x), to_mm(row.at->y)));
    return item;
}

void FindingsPanel::remember_open() {
    for (QTreeWidgetItemIterator it(this); *it; ++it) {
        const QString path = path_of(*it);
        if ((*it)->isExpanded() && (*it)->parent() && !open_.contains(path)) open_ << path;
        if (!(*it)->isExpanded()) open_.removeAll(path);
    }
}

void FindingsPanel::show_findings(std::shared_ptr<const Findings> findings, const std::vector<Message>& to_settle) {
    remember_open();
    const int scrolled = verticalScrollBar()->value();
    clear();
    add_messages(findings.get(), to_settle);
    if (findings && to_settle.empty()) {
        add_psi(*findings);
        add_surface(*findings);
        add_verdicts(*findings);
        add_seasons(*findings);
        add_flows(*findings);
        add_elements(*findings);
        add_derivations(*findings);
    }
    for (QTreeWidgetItemIterator it(this); *it; ++it)
        if ((*it)->parent() && open_.contains(path_of(*it))) (*it)->setExpanded(true);
    verticalScrollBar()->setValue(scrolled);
}

void FindingsPanel::show_working() {
    remember_open();
    clear();
    add(group(tr("Working out…")), {tr("The findings of the changed drawing are on their way."), {}, {}});
}

void FindingsPanel::add_messages(const Findings* findings, const std::vector<Message>& to_settle) {
    int number = 0;
    if (!to_settle.empty()) {
        auto* settle = group(tr("To settle"));
        for (const auto& fault : to_settle) add(settle, {QStringLiteral("%1. %2").arg(++number).arg(sentence(fault)), {}, fault.at});
    }
    if (!findings) return;
    QTreeWidgetItem* cautions = nullptr;
    for (const auto& message : findings->messages)
        if (message.severity == Severity::caution) {
            if (!cautions) cautions = group(tr("Cautions"));
            ++number;
            add(cautions, {message.at ? QStringLiteral("%1. %2").arg(number).arg(sentence(message)) : sentence(message), {}, message.at});
        }
}

void FindingsPanel::add_psi(const Findings& findings) {
    const Section& section = *findings.section;
    auto* psi_group = group(tr("psi, linear thermal transmittance"));
    for (const Psi& psi : findings.psi) {
        const QString what = tr("%1 – %2, %3 lengths").arg(space_label(section, psi.a), space_label(section, psi.b),
                                                         psi.lengths == LengthSystem::internal ? tr("internal") : tr("external"));
        auto* row = add(psi_group, {what, psi.value ? bracket_words(*psi.value, "W/(m·K)") : tr("none: %1").arg(words(why_missing(findings, psi.a, psi.b, psi.lengths, psi.reason))), {}});
        if (psi.headline) {
            QFont bold = font();
            bold.setBold(true);
            row->setFont(0, bold);
            row->setFont(1, bold);
        }
        for (const TakenOff& off : psi.taken_off) {
            const QString value = off.floor_alone ? bracket_words(*off.floor_alone, "W/(m·K)")
                                  : off.U && off.length_m ? tr("%1 × %2 = %3").arg(value_words(*off.U, "W/(m²·K)"), value_words(*off.length_m, "m"), value_words(*off.U * *off.length_m, "W/(m·K)"))
                                                          : QStringLiteral("–");
            add(row, {tr("less %1 (%2)").arg(words(off.element), words(off.method)), value, {}});
        }
        if (psi.by_iso13370) add(row, {tr("with the floor by ISO 13370"), bracket_words(*psi.by_iso13370, "W/(m·K)"), {}});
        if (psi.other_reading) add(row, {tr("by the other reading of the floor alone"), bracket_words(*psi.other_reading, "W/(m·K)"), {}});
    }
    for (const FloorWidthPsi& at : findings.floor_widths) {
        const QString which = at.own ? tr("with the floor's own B′, %1").arg(value_words(at.width, "m", 4)) : tr("with a floor as wide as the convention's, %1").arg(value_words(at.width, "m", 4));
        auto* row = add(psi_group, {which, at.second_section ? bracket_words(*at.second_section, "W/(m·K)") : words(english({Severity::note, at.reason, {{"width", value_words(at.width, "m", 4).toStdString()}}, {}, {}})), {}});
        if (at.by_iso13370) add(row, {tr("with the floor by ISO 13370"), bracket_words(*at.by_iso13370, "W/(m·K)"), {}});
    }
    for (const SharedPsi& shared : findings.shared) {
        auto* row = add(psi_group, {shared.lengths == LengthSystem::internal ? tr("both dwellings, internal lengths") : tr("both dwellings, external lengths"), bracket_words(shared.total, "W/(m·K)"), {}});
        for (const auto& side : shared.sides) add(row, {tr("enter in %1").arg(space_label(section, side.space)), bracket_words(side.enter, "W/(m·K)"), {}});
        row->setExpanded(true);
    }
    for (const Coupling& coupling : findings.couplings)
        add(psi_group, {tr("L2D %1 – %2").arg(space_label(section, coupling.a), space_label(section, coupling.b)),
                        coupling.value ? bracket_words(*coupling.value, "W/(m·K)") : tr("none: %1").arg(words(why_missing(findings, coupling.a, coupling.b, LengthSystem::internal, coupling.reason))), {}});
}

void FindingsPanel::add_surface(const Findings& findings) {
    if (findings.surface.empty()) return;
    auto* surface_group = group(tr("Lowest surface temperature"));
    for (const SurfaceFinding& surface : findings.surface) {
        const QString purpose = surface.purpose == Purpose::heat_flow ? tr("resistances for heat flow") : tr("resistances for the surface check");
        QString value = value_words(surface.lowest, "°C", 3);
        if (surface.fRsi) value += tr(", fRsi %1, estimated error %2").arg(value_words(*surface.fRsi, "", 3), value_words(surface.estimate, "", 1));
        auto* row = add(surface_group, {tr("%1, %2").arg(space_label(*findings.section, surface.space), purpose), value, on_grid(surface.at)});
        add(row, {tr("at"), place_words(on_grid(surface.at)), on_grid(surface.at)});
        if (surface.whole)
            add(row, {tr("with what is hidden"), surface.whole->fRsi ? tr("%1, fRsi %2").arg(value_words(surface.whole->lowest, "°C", 3), value_words(*surface.whole->fRsi, "", 3)) : value_words(surface.whole->lowest, "°C", 3),
                      on_grid(surface.whole->at)});
    }
}

void FindingsPanel::add_verdicts(const Findings& findings) {
    if (findings.verdicts.empty()) return;
    auto* verdict_group = group(tr("Mould and limits"));
    for (const SurfaceVerdict& verdict : findings.verdicts) {
        const QString names[] = {tr("fRsi asked by the convention"), tr("mould, by month"), tr("condensation, by month"), tr("psi asked by the convention")};
        auto* row = add(verdict_group, {names[static_cast<int>(verdict.demand)], words(verdict_text(verdict.verdict)), verdict.message.at});
        add(row, {sentence(verdict.message), {}, verdict.message.at});
    }
}

void FindingsPanel::add_seasons(const Findings& findings) {
    if (!findings.seasons) return;
    auto* season_group = group(tr("Through the year, with what the ground stores"));
    for (const SeasonRow& row : season_rows(findings)) add(season_group, {words(row.what), words(row.value), {}});
}

void FindingsPanel::add_flows(const Findings& findings) {
    auto* flow_group = group(tr("Heat flow into the construction"));
    for (std::size_t i = 0; i < findings.heat_flow.size(); ++i)
        add(flow_group, {space_label(*findings.section, static_cast<int>(i)), bracket_words(findings.heat_flow[i], "W/m"), {}});
}

void FindingsPanel::add_elements(const Findings& findings) {
    if (findings.elements.empty()) return;
    auto* element_group = group(tr("Elements that meet here"));
    for (const Element& element : findings.elements) {
        const QString value = element.U ? tr("U %1").arg(value_words(*element.U, "W/(m²·K)")) : element.ground ? tr("ground: floor alone by a second section") : tr("no U: %1").arg(reason_words(element));
        auto* row = add(element_group, {words(element.id), value, element.internal_reference});
        row->setData(0, element_role, words(element.id));
        row->setToolTip(0, tr("%1: choose the row to see on the drawing what its length runs between, and to change it.").arg(words(element.id)));
        if (element.corrected_U) add(row, {tr("U with fixings and air gaps, beside psi"), value_words(*element.corrected_U, "W/(m²·K)"), {}});
        if (element.internal_length) add(row, {tr("internal length"), length_words(to_mm(*element.internal_length)), element.internal_reference});
        if (element.external_length) add(row, {tr("external length"), length_words(to_mm(*element.external_length)), element.external_reference});
        if (!element.layers.empty()) add(row, {tr("surface resistance, warm side"), value_words(element.surface_warm, "m²·K/W"), {}});
        for (const auto& layer : element.layers)
            add(row, {words(layer.name), tr("%1, %2, R %3").arg(value_words(layer.thickness_m * 1000, "mm"), value_words(layer.conductivity, "W/(m·K)"), value_words(layer.resistance, "m²·K/W")), {}});
        if (!element.layers.empty()) add(row, {tr("surface resistance, cold side"), value_words(element.surface_cold, "m²·K/W"), {}});
    }
}

void FindingsPanel::add_derivations(const Findings& findings) {
    if (findings.derivations.empty()) return;
    auto* derivation_group = group(tr("How it was worked out"));
    for (const Derivation& derivation : findings.derivations) {
        auto* row = add(derivation_group, {words(derivation.of), {}, {}});
        add(row, {words(derivation.formula), {}, {}});
        for (const auto& input : derivation.inputs) {
            const QString value = value_words(input.value, input.unit.c_str(), 5);
            add(row, {words(input.name), input.source.empty() ? value : QStringLiteral("%1 – %2").arg(value, words(input.source)), {}});
        }
        for (const auto& note : derivation.notes) add(row, {words(note), {}, {}});
    }
}

}  // namespace wallfoot
