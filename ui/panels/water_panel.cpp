// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/water_panel.hpp"

#include <QPushButton>
#include <QScrollBar>
#include <QTreeWidget>
#include <QVBoxLayout>
#include <algorithm>
#include <string>
#include <vector>

#include "ui/panels/words.hpp"
#include "ui/panels/wrapping.hpp"

namespace wallfoot {

namespace {

constexpr int way_role = Qt::UserRole, piece_role = Qt::UserRole + 1;

}  // namespace

WaterPanel::WaterPanel(QWidget* parent) : QWidget(parent) {
    auto* rows = new QVBoxLayout(this);
    rows->setContentsMargins(0, 0, 0, 0);
    list_ = new QTreeWidget(this);
    list_->setAccessibleName(tr("The water's way"));
    list_->setHeaderLabel(tr("The water's way"));
    list_->setIndentation(fontMetrics().horizontalAdvance(QLatin1Char('M')));
    list_->setSelectionMode(QAbstractItemView::SingleSelection);
    wrap_rows(*list_);
    add_ = new QPushButton(tr("Draw the &proposed membrane"), this);
    add_->setToolTip(tr("Adds what is proposed for the marked piece to this variant, its laps stated as sealed (to be ensured on site), as one step of undo."));
    state_ = new QPushButton(tr("Where &water comes from…"), this);
    state_->setToolTip(tr("States soil, rain, cavity, standing water and the water level of this variant."));
    rows->addWidget(list_, 1);
    damp_ = new QPushButton(tr("What &damp costs…"), this);
    damp_->setToolTip(tr("Shows psi with the picked piece in every moisture condition, as table and plot, and another material beside it."));
    rows->addWidget(state_);
    rows->addWidget(damp_);
    rows->addWidget(add_);
    const auto choose = [this](QTreeWidgetItem* item) {
        if (!item) return;
        if (const int piece = marked_piece(); piece >= 0) emit piece_chosen(words(report_->section->pieces[piece].id));
        if (item->data(0, way_role).isValid()) {
            const QPointF at = item->data(0, way_role).toPointF();
            emit place_chosen({from_mm(at.x()), from_mm(at.y())});
        }
    };
    connect(list_, &QTreeWidget::itemClicked, this, choose);
    connect(list_, &QTreeWidget::itemActivated, this, choose);
    connect(list_, &QTreeWidget::currentItemChanged, this, &WaterPanel::refresh_button);
    connect(state_, &QPushButton::clicked, this, &WaterPanel::state_wanted);
    connect(damp_, &QPushButton::clicked, this, &WaterPanel::damp_wanted);
    connect(add_, &QPushButton::clicked, this, [this] {
        if (const int piece = marked_piece(); piece >= 0) emit add_wanted(piece);
    });
    refresh_button();
}

QTreeWidgetItem* WaterPanel::group(const QString& name) {
    auto* item = new QTreeWidgetItem(list_, {name});
    QFont bold = font();
    bold.setBold(true);
    item->setFont(0, bold);
    item->setExpanded(true);
    return item;
}

void WaterPanel::add_piece(QTreeWidgetItem* group, const PieceWater& piece) {
    const auto add = [&](QTreeWidgetItem* parent, const Message& message) {
        auto* item = new QTreeWidgetItem(parent, {sentence(message)});
        item->setToolTip(0, item->text(0));
        item->setData(0, piece_role, piece.piece);
        if (message.at) item->setData(0, way_role, QPointF(to_mm(message.at->x), to_mm(message.at->y)));
        return item;
    };
    QTreeWidgetItem* first = nullptr;
    for (const Message& message : sentences(*report_, piece)) {
        auto* item = add(first ? first : group, message);
        if (!first) first = item;
    }
    if (const auto remedy = report_->remedies.find(piece.piece); remedy != report_->remedies.end())
        for (const Message& message : sentences(*report_, remedy->second)) add(first, message);
    first->setExpanded(true);
}

void WaterPanel::show_report(std::shared_ptr<const WaterReport> report) {
    if (report == report_ && report) return;
    remember();
    report_ = std::move(report);
    list_->clear();
    if (!report_) return refresh_button();
    const auto of = [&](const PieceWater& piece) { return report_->remedies.contains(piece.piece) ? 0 : piece.enclosed && piece.state != WaterState::reached ? 2 : piece.state == WaterState::lap_not_proven ? 1 : piece.state == WaterState::reached ? 3 : 4; };
    const auto cost = [&](const PieceWater& piece) {
        const auto remedy = report_->remedies.find(piece.piece);
        return remedy == report_->remedies.end() ? 0.0 : remedy->second.answer == RemedyAnswer::proposed ? remedy->second.cost : 1e300;
    };
    const QStringList names{tr("Masonry that water reaches"), tr("Relies on a lap that is not proven"), tr("Enclosed: cannot dry"), tr("Other parts that water reaches"), tr("No path drawn")};
    for (int g = 0; g < names.size(); ++g) {
        std::vector<const PieceWater*> pieces;
        for (const PieceWater& piece : report_->way.pieces)
            if (of(piece) == g) pieces.push_back(&piece);
        if (pieces.empty()) continue;
        // What the least membrane keeps dry first; what no membrane helps last.
        std::stable_sort(pieces.begin(), pieces.end(), [&](const PieceWater* a, const PieceWater* b) { return cost(*a) < cost(*b); });
        auto* head = group(names[g]);
        for (const PieceWater* piece : pieces) add_piece(head, *piece);
    }
    if (!report_->notes.empty()) {
        auto* head = group(tr("Taken for granted"));
        for (const Message& note : report_->notes) (new QTreeWidgetItem(head, {sentence(note)}))->setToolTip(0, sentence(note));
    }
    for (QTreeWidgetItemIterator it(list_); *it; ++it)
        if ((*it)->data(0, piece_role).isValid() && report_->section->pieces[(*it)->data(0, piece_role).toInt()].id == marked_) {
            list_->setCurrentItem(*it);
            break;
        }
    list_->verticalScrollBar()->setValue(scrolled_);
    refresh_button();
}

void WaterPanel::remember() {
    if (!report_) return;
    const int piece = marked_piece();
    marked_ = piece < 0 ? std::string() : report_->section->pieces[piece].id;
    scrolled_ = list_->verticalScrollBar()->value();
}

void WaterPanel::show_nothing(const QString& why) {
    remember();
    report_.reset();
    list_->clear();
    new QTreeWidgetItem(list_, {why});
    refresh_button();
}

int WaterPanel::marked_piece() const {
    const auto* item = list_->currentItem();
    return report_ && item && item->data(0, piece_role).isValid() ? item->data(0, piece_role).toInt() : -1;
}

void WaterPanel::refresh_button() {
    bool proposed = false;
    if (report_)
        if (const auto remedy = report_->remedies.find(marked_piece()); remedy != report_->remedies.end())
            proposed = remedy->second.answer == RemedyAnswer::proposed;
    add_->setEnabled(proposed);
}

}  // namespace wallfoot
