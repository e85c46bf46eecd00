// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/materials_panel.hpp"

#include <QAction>
#include <QComboBox>
#include <QGridLayout>
#include <QHeaderView>
#include <QLineEdit>
#include <QMimeData>
#include <QPainter>
#include <QScrollBar>
#include <QSettings>
#include <QSignalBlocker>
#include <QToolButton>
#include <QTreeWidget>
#include <algorithm>

#include "core/file/materials_exchange.hpp"
#include "core/study/materials.hpp"
#include "ui/paint/hatches.hpp"
#include "ui/panels/list_group.hpp"
#include "ui/panels/words.hpp"
#include "ui/panels/wrapping.hpp"
#include "ui/sheet/sheet.hpp"
#include "ui/window/document.hpp"

namespace wallfoot {

namespace {

constexpr int key_role = Qt::UserRole, recent_role = Qt::UserRole + 1;
constexpr QSize swatch_size(22, 16);
const QString study_prefix = QStringLiteral("study:"), table_prefix = QStringLiteral("table:"), recent_prefix = QStringLiteral("recent:");
const QString recent_setting = QStringLiteral("recent_materials");
constexpr std::size_t most_recent = 6;

/// A list whose rows can be carried onto the sheet.
class MaterialList : public QTreeWidget {
  public:
    using QTreeWidget::QTreeWidget;

  protected:
    QMimeData* mimeData(const QList<QTreeWidgetItem*>& items) const override {
        auto* data = new QMimeData;
        if (!items.isEmpty()) data->setData(QLatin1String(material_mime), items.first()->data(0, key_role).toString().toUtf8());
        return data;
    }
    QStringList mimeTypes() const override { return {QLatin1String(material_mime)}; }
};

/// The dry value; where none is declared the driest there is, with its condition.
QString conductivity_words(const Material& material) {
    const auto& values = material.lambda.by_condition;
    if (values.empty()) return material.kind == MaterialKind::airspace ? MaterialsPanel::tr("by ISO 6946") : MaterialsPanel::tr("not declared");
    const QString value = value_words(values.begin()->second.value, "");
    return values.begin()->first == Condition::dry ? value : MaterialsPanel::tr("%1 (%2)").arg(value, name_of(values.begin()->first));
}

QString tip(const Material& material) {
    QStringList lines{words(shown_name(material))};
    for (const auto& [condition, lambda] : material.lambda.by_condition) {
        QString line = MaterialsPanel::tr("%1: %2").arg(name_of(condition), value_words(lambda.value, "W/(m·K)"));
        if (!lambda.source.empty()) line += QStringLiteral(" – ") + words(lambda.source);
        lines << line;
    }
    return lines.join(QLatin1Char('\n'));
}

}  // namespace

MaterialsPanel::MaterialsPanel(Document& document, QWidget* parent) : QWidget(parent), document_(document), table_(general_materials()) {
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 2, 0, 0);
    layout->setSpacing(2);
    auto* row = new QHBoxLayout;
    search_ = new QLineEdit(this);
    search_->setPlaceholderText(tr("Search materials"));
    search_->setAccessibleName(tr("Search materials"));
    search_->setClearButtonEnabled(true);
    kinds_ = new QComboBox(this);
    kinds_->setAccessibleName(tr("Kind of material"));
    kinds_->setToolTip(tr("Show materials of one kind only."));
    kinds_->addItem(tr("all kinds"));
    for (const MaterialKind kind : material_kinds()) kinds_->addItem(name_of(kind), static_cast<int>(kind));
    row->addWidget(search_, 1);
    row->addWidget(kinds_);
    layout->addLayout(row);

    list_ = new MaterialList(this);
    list_->setAccessibleName(tr("Materials"));
    list_->setColumnCount(2);
    list_->setHeaderLabels({tr("Material"), tr("Kind, dry W/(m·K)")});
    list_->headerItem()->setToolTip(1, tr("Kind, and the dry conductivity; where none is declared, the driest that is, with its condition."));
    list_->setIndentation(fontMetrics().horizontalAdvance(QLatin1Char('i')));
    list_->setRootIsDecorated(false);
    list_->setIconSize(swatch_size);
    list_->setDragEnabled(true);
    list_->setDragDropMode(QAbstractItemView::DragOnly);
    wrap_rows(*list_);
    // The column of values is as wide as what it holds; names get the rest and wrap.
    list_->header()->setStretchLastSection(false);
    list_->header()->setSectionResizeMode(1, QHeaderView::Fixed);
    list_->header()->resizeSection(1, fontMetrics().horizontalAdvance(list_->headerItem()->text(1)) + 12);
    layout->addWidget(list_, 1);
    buttons_ = new QGridLayout;
    buttons_->setSpacing(2);
    layout->addLayout(buttons_);

    connect(search_, &QLineEdit::textChanged, this, &MaterialsPanel::refresh);
    connect(kinds_, &QComboBox::currentIndexChanged, this, &MaterialsPanel::refresh);
    connect(search_, &QLineEdit::returnPressed, this, [this] {
        for (QTreeWidgetItemIterator it(list_); *it; ++it)
            if ((*it)->data(0, key_role).isValid()) {
                list_->setCurrentItem(*it);
                list_->setFocus(Qt::OtherFocusReason);
                return;
            }
    });
    connect(list_, &QTreeWidget::itemActivated, this, [this](QTreeWidgetItem* item) {
        if (item->data(0, key_role).isValid()) emit give_wanted();
    });
    read_recent();
    refresh();
}

void MaterialsPanel::add_button(QAction* action) {
    auto* button = new QToolButton(this);
    button->setDefaultAction(action);
    button->setToolButtonStyle(Qt::ToolButtonTextOnly);
    button->setFocusPolicy(Qt::TabFocus);
    button->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    // "Give to picked piece" is as long as two others.
    const int n = buttons_->count();
    if (n == 0) buttons_->addWidget(button, 0, 0, 1, 2);
    else buttons_->addWidget(button, (n + 1) / 3, (n + 1) % 3);
}

void MaterialsPanel::set_dark(bool dark) {
    dark_ = dark;
    refresh();
}

void MaterialsPanel::find() {
    search_->setFocus(Qt::ShortcutFocusReason);
    search_->selectAll();
}

bool MaterialsPanel::fits(const Material& material) const {
    if (kinds_->currentData().isValid() && kinds_->currentData().toInt() != static_cast<int>(material.kind)) return false;
    const QString text = words(shown_name(material)) + QLatin1Char(' ') + name_of(material.kind);
    for (const QString& word : search_->text().split(QLatin1Char(' '), Qt::SkipEmptyParts))
        if (!text.contains(word, Qt::CaseInsensitive)) return false;
    return true;
}

QIcon MaterialsPanel::swatch(const Material& material) const {
    const double ratio = devicePixelRatioF();
    QPixmap pixmap(swatch_size * ratio);
    pixmap.setDevicePixelRatio(ratio);
    pixmap.fill(Qt::transparent);
    QPainter painter(&pixmap);
    painter.setRenderHint(QPainter::Antialiasing);
    const SheetColours colours = dark_ ? SheetColours::dark() : SheetColours::light();
    const QRectF box = QRectF(QPointF(), QSizeF(swatch_size)).adjusted(0.5, 0.5, -0.5, -0.5);
    const auto turn = turns_.find(material.id);
    paint_hatch(painter, {QPolygonF(box)}, hatch_of(material.kind), turn == turns_.end() ? 0 : turn->second, box.topLeft(), colours);
    painter.setPen(QPen(colours.ink, 1));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(box);
    painter.end();
    return QIcon(pixmap);
}

int MaterialsPanel::add_rows(QTreeWidgetItem* group, const std::vector<Material>& materials, const QString& prefix) {
    int shown = 0;
    for (const Material& material : materials) shown += add_row(group, material, prefix + words(material.id));
    return shown;
}

bool MaterialsPanel::add_row(QTreeWidgetItem* group, const Material& material, const QString& key) {
    if (!fits(material)) return false;
    auto* item = new QTreeWidgetItem(group, {words(shown_name(material)), name_of(material.kind) + QLatin1Char('\n') + conductivity_words(material)});
    item->setIcon(0, swatch(material));
    item->setData(0, key_role, key);
    item->setFlags(Qt::ItemIsEnabled | Qt::ItemIsSelectable | Qt::ItemIsDragEnabled);
    for (int column = 0; column < 2; ++column) item->setToolTip(column, tip(material));
    return true;
}

QString MaterialsPanel::key_of_recent(const Material& material) const {
    const Material* own = document_.has_study() ? document_.study()->find_material(material.id) : nullptr;
    if (own && *own == material) return study_prefix + words(material.id);
    const bool general = std::find(table_.materials.begin(), table_.materials.end(), material) != table_.materials.end();
    return (general ? table_prefix : recent_prefix) + words(material.id);
}

void MaterialsPanel::read_recent() {
    const std::string kept = QSettings().value(recent_setting).toString().toStdString();
    recent_.clear();
    if (kept.empty()) return;
    try {
        recent_ = read_materials_json(kept);
    } catch (const InputFault&) {
        // Settings of another version, or damaged: there are none then.
    }
    if (recent_.size() > most_recent) recent_.resize(most_recent);
}

void MaterialsPanel::used(const std::string& id) {
    const Material* material = document_.has_study() ? document_.study()->find_material(id) : nullptr;
    // A mix is nothing without its parts.
    if (!material || !material->mix.empty()) return;
    read_recent();  // another window may have been at work
    std::erase_if(recent_, [&](const Material& one) { return one.id == id; });
    recent_.insert(recent_.begin(), *material);
    if (recent_.size() > most_recent) recent_.resize(most_recent);
    QSettings().setValue(recent_setting, QString::fromStdString(materials_json(recent_)));
    refresh();
}

void MaterialsPanel::edited(const Material& before) {
    read_recent();
    if (std::find(recent_.begin(), recent_.end(), before) != recent_.end()) used(before.id);
}

void MaterialsPanel::refresh() {
    const auto group_of = [](const QTreeWidgetItem* item) { return item->parent() ? item->parent()->text(0) : QString(); };
    const QString before = list_->currentItem() ? list_->currentItem()->data(0, key_role).toString() : QString();
    const QString group_before = list_->currentItem() ? group_of(list_->currentItem()) : QString();
    const int place = list_->verticalScrollBar()->value();
    const QSignalBlocker quiet(list_);
    list_->clear();
    turns_.clear();
    int shown = 0;
    if (!recent_.empty()) {
        auto* recent = list_group(list_, tr("Used last"));
        recent->setData(0, recent_role, true);
        if (document_.has_study()) turns_ = hatch_turns(*document_.study(), document_.section());
        for (const Material& material : recent_) {
            const QString key = key_of_recent(material);
            const auto now = key.startsWith(recent_prefix) ? std::nullopt : material_of(key);
            shown += add_row(recent, now ? now->material : material, key);
        }
        if (recent->childCount() == 0) delete recent;
        turns_.clear();
    }
    if (document_.has_study()) {
        turns_ = hatch_turns(*document_.study(), document_.section());
        auto* own = list_group(list_, tr("In this study"));
        const int rows = add_rows(own, document_.study()->materials, study_prefix);
        if (rows == 0) delete own;
        shown += rows;
    }
    turns_.clear();
    auto* general = list_group(list_, tr("General table, copied into the study when used"));
    for (const Message& fault : table_.faults) {
        auto* item = new QTreeWidgetItem(general, {sentence(fault)});
        item->setFlags(Qt::ItemIsEnabled);
        item->setFirstColumnSpanned(true);
    }
    const int rows = add_rows(general, table_.materials, table_prefix);
    if (rows == 0 && table_.faults.empty()) delete general;
    if (shown + rows == 0) list_group(list_, tr("No material fits. Search for less, or choose all kinds."));
    for (QTreeWidgetItemIterator it(list_); *it; ++it)
        if (!before.isEmpty() && (*it)->data(0, key_role).toString() == before && (list_->currentItem() == nullptr || group_of(*it) == group_before)) list_->setCurrentItem(*it);
    list_->verticalScrollBar()->setValue(place);
}

void MaterialsPanel::mark(const std::string& id) {
    for (QTreeWidgetItemIterator it(list_); *it; ++it)
        if ((*it)->data(0, key_role).toString() == study_prefix + words(id) && !(*it)->parent()->data(0, recent_role).toBool()) {
            list_->setCurrentItem(*it);
            list_->scrollToItem(*it);
            return;
        }
}

std::optional<MaterialsPanel::Marked> MaterialsPanel::material_of(const QString& key) const {
    if (key.startsWith(study_prefix) && document_.has_study())
        if (const Material* material = document_.study()->find_material(key.mid(study_prefix.size()).toStdString())) return Marked{*material, true};
    if (key.startsWith(recent_prefix))
        for (const Material& material : recent_)
            if (words(material.id) == key.mid(recent_prefix.size())) return Marked{material, false};
    if (key.startsWith(table_prefix))
        for (const Material& material : table_.materials)
            if (words(material.id) == key.mid(table_prefix.size())) return Marked{material, false};
    return std::nullopt;
}

std::optional<MaterialsPanel::Marked> MaterialsPanel::marked() const {
    return list_->currentItem() ? material_of(list_->currentItem()->data(0, key_role).toString()) : std::nullopt;
}

}  // namespace wallfoot
