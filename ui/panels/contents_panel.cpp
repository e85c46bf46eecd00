// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/contents_panel.hpp"

#include <QSignalBlocker>
#include <algorithm>

#include "core/text/number_entry.hpp"
#include "ui/paint/section_marks.hpp"
#include "ui/panels/list_group.hpp"
#include "ui/panels/underlay_box.hpp"
#include "ui/panels/words.hpp"
#include "ui/panels/wrapping.hpp"

namespace wallfoot {

namespace {

constexpr int kind_role = Qt::UserRole, id_role = Qt::UserRole + 1, hole_role = Qt::UserRole + 2;

QString size_words(const Outline& outline) {
    const auto [left, right] = std::minmax_element(outline.begin(), outline.end(), [](Point a, Point b) { return a.x < b.x; });
    const auto [low, high] = std::minmax_element(outline.begin(), outline.end(), [](Point a, Point b) { return a.y < b.y; });
    return QStringLiteral("%1 × %2").arg(words(number_text(to_mm(right->x - left->x))), length_words(to_mm(high->y - low->y)));
}

QString temperature_words(const Study& study, const Space& space) {
    try {
        return value_words(space_temperature(study, space), "°C");
    } catch (const InputFault&) {
        return {};
    }
}

}  // namespace

ContentsPanel::ContentsPanel(QWidget* parent) : QTreeWidget(parent) {
    setAccessibleName(tr("Contents"));
    setColumnCount(2);
    setHeaderLabels({tr("Contents"), tr("Material or value")});
    setIndentation(fontMetrics().horizontalAdvance(QLatin1Char('M')));
    wrap_rows(*this);
    connect(this, &QTreeWidget::itemSelectionChanged, this, [this] {
        const auto items = selectedItems();
        if (items.isEmpty() || !items.first()->data(0, kind_role).isValid()) return;
        marked_ = {static_cast<PickedKind>(items.first()->data(0, kind_role).toInt()), items.first()->data(0, id_role).toString(), {}};
        if (const QVariant hole = items.first()->data(0, hole_role); hole.isValid()) marked_.hole = hole.toULongLong();
        emit chosen(marked_);
    });
}

void ContentsPanel::add(QTreeWidgetItem* group, const QString& name, const QString& detail, const Picked& picked) {
    auto* item = new QTreeWidgetItem(group, {name, detail});
    item->setToolTip(0, name);
    item->setToolTip(1, detail);
    if (picked.kind == PickedKind::nothing) {
        item->setFlags(Qt::ItemIsEnabled);
        return;
    }
    item->setData(0, kind_role, static_cast<int>(picked.kind));
    item->setData(0, id_role, picked.id);
    if (picked.hole) item->setData(0, hole_role, static_cast<qulonglong>(*picked.hole));
}

void ContentsPanel::show_section(const Study& study, std::shared_ptr<const Section> section) {
    if (section == section_) return;
    section_ = std::move(section);
    const QSignalBlocker quiet(this);
    clear();
    auto* spaces = list_group(this, tr("Spaces"));
    for (const auto& space : section_->spaces) add(spaces, space_name(*section_, space), temperature_words(study, space), {PickedKind::space, words(space.id), {}});
    auto* pieces = list_group(this, tr("Pieces, topmost first"));
    for (auto piece = section_->pieces.rbegin(); piece != section_->pieces.rend(); ++piece) {
        QString filling = tr("cutout");
        if (piece->fill == Fill::space) filling = tr("air of %1").arg(words(piece->filled_with));
        if (piece->fill == Fill::material) {
            const Material* material = study.find_material(piece->filled_with);
            filling = words(material ? material->name : piece->filled_with);
        }
        add(pieces, name_of(*piece), filling, {PickedKind::piece, words(piece->id), {}});
        for (std::size_t h = 0; h < piece->holes.size(); ++h) {
            Picked hole{PickedKind::piece, words(piece->id)};
            hole.hole = h;
            add(pieces, tr("Hole in %1").arg(name_of(*piece)), size_words(piece->holes[h]), hole);
        }
    }
    if (!section_->membranes.empty()) {
        auto* membranes = list_group(this, tr("Membranes"));
        for (const auto& membrane : section_->membranes) add(membranes, words(membrane.id), name_of(membrane.kind), {PickedKind::membrane, words(membrane.id), {}});
    }
    auto* levels = list_group(this, tr("Levels"));
    for (const LevelMark& mark : level_marks(*section_)) {
        const LevelName name{mark.kind, mark.side};
        add(levels, name_of(name), length_words(to_mm(mark.height)), {PickedKind::level, text_of(name), {}});
    }
    if (levels->childCount() == 0) delete levels;
    const auto group = [&](const QString& name, bool any) { return any ? list_group(this, name) : nullptr; };
    auto* measures = group(tr("Measures"), !section_->stretch.empty());
    for (const Stretch& stretch : section_->stretch)
        add(measures, words(stretch.name.empty() ? stretch.id : stretch.name), length_words(to_mm(stretch_length(stretch))), {PickedKind::stretch, words(stretch.id)});
    auto* dimensions = group(tr("Dimensions"), !section_->dimensions.empty());
    for (const Dimension& dimension : section_->dimensions) add(dimensions, dimension.along == "x" ? tr("Width") : dimension.along == "y" ? tr("Height") : tr("Length"), length_words(dimension_length(dimension)), {PickedKind::dimension, words(dimension.id)});
    auto* hidden = group(tr("Hidden surfaces"), !section_->hidden.empty());
    for (const HiddenSurface& of : section_->hidden) {
        double length = 0;
        for (std::size_t i = 1; i < of.path.size(); ++i) length += distance(of.path[i - 1], of.path[i]) / um_per_mm;
        add(hidden, words(of.reason), length_words(length), {PickedKind::hidden, words(of.id)});
    }
    auto* texts = group(tr("Texts"), !section_->texts.empty());
    for (const Note& note : section_->texts) add(texts, words(note.text).section(QLatin1Char('\n'), 0, 0), {}, {PickedKind::note, words(note.id)});
    if (!section_->underlays.empty()) {
        auto* underlays = list_group(this, tr("Underlays"));
        for (const Underlay& underlay : section_->underlays) add(underlays, underlay_name(study, underlay), underlay_words(study, underlay), {PickedKind::underlay, words(underlay.id), {}});
    }
    mark(marked_);
}

void ContentsPanel::mark(const Picked& picked) {
    marked_ = picked;
    const QSignalBlocker quiet(this);
    clearSelection();
    for (QTreeWidgetItemIterator it(this); *it; ++it)
        if ((*it)->data(0, kind_role).isValid() && (*it)->data(0, kind_role).toInt() == static_cast<int>(picked.kind) &&
            (*it)->data(0, id_role).toString() == picked.id && (*it)->data(0, hole_role).isValid() == picked.hole.has_value() &&
            (!picked.hole || (*it)->data(0, hole_role).toULongLong() == *picked.hole)) {
            setCurrentItem(*it);
            (*it)->setSelected(true);
            scrollToItem(*it);
        }
}

}  // namespace wallfoot
