// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/detail_dialog.hpp"

#include <QCheckBox>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QGridLayout>
#include <QGroupBox>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPainter>
#include <QPushButton>
#include <QScreen>
#include <QScrollArea>
#include <QVBoxLayout>
#include <algorithm>
#include <vector>

#include "core/arrangement/arrangement.hpp"
#include "core/text/number_entry.hpp"
#include "ui/paint/paint.hpp"
#include "ui/panels/faults_dialog.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

SheetColours colours_of(const QWidget& widget) {
    return widget.palette().color(QPalette::Base).lightness() < 128 ? SheetColours::dark() : SheetColours::light();
}

QString unit_words(const DetailParameter& parameter) {
    return parameter.unit == "courses" ? QString() : QStringLiteral(" ") + words(parameter.unit);
}

}  // namespace

/// A section as on the sheet, to be looked at.
class DetailPicture : public QWidget {
  public:
    using QWidget::QWidget;

    void show_section(std::shared_ptr<const Study> study, std::size_t variant) {
        study_ = std::move(study);
        variant_ = variant;
        arrangement_ = arrange(*study_, *study_->variants[variant].section);
        update();
    }
    const Arrangement& arrangement() const { return arrangement_; }
    QSize sizeHint() const override { return {fontMetrics().height() * 26, fontMetrics().height() * 26}; }
    QSize minimumSizeHint() const override { return {fontMetrics().height() * 14, fontMetrics().height() * 14}; }

  protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        SectionLook look;
        look.colours = colours_of(*this);
        painter.fillRect(rect(), look.colours.paper);
        if (!study_) return;
        painter.setRenderHint(QPainter::Antialiasing);
        const Section& section = *study_->variants[variant_].section;
        paint_section(painter, View::fitting(section.cut, size()), *study_, section, &arrangement_, look);
    }

  private:
    std::shared_ptr<const Study> study_;
    std::size_t variant_ = 0;
    Arrangement arrangement_;
};

DetailDialog::DetailDialog(StarterDetails details, QWidget* parent) : QDialog(parent), details_(std::move(details)) {
    setWindowTitle(tr("New from a detail"));
    auto* layout = new QVBoxLayout(this);
    auto* columns = new QHBoxLayout;
    layout->addLayout(columns, 1);
    columns->addLayout(make_left(), 4);
    fields_ = new QScrollArea(this);
    fields_->setWidgetResizable(true);
    fields_->setFrameShape(QFrame::NoFrame);
    fields_->setFocusPolicy(Qt::NoFocus);
    fields_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    columns->addWidget(fields_, 5);
    columns->addLayout(make_right(), 7);

    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    ok_ = buttons->button(QDialogButtonBox::Ok);
    ok_->setEnabled(false);
    connect(buttons, &QDialogButtonBox::accepted, this, &DetailDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &DetailDialog::reject);
    layout->addWidget(buttons);
    connect(list_, &QListWidget::currentRowChanged, this, &DetailDialog::show_detail);
    list_->setCurrentRow(0);

    const int em = fontMetrics().horizontalAdvance(QLatin1Char('M'));
    const QSize room = screen() ? screen()->availableGeometry().size() - QSize(2 * em, 4 * fontMetrics().height()) : QSize(10'000, 10'000);
    resize(std::min(room.width(), 105 * em), std::min(room.height(), fontMetrics().height() * 42));
    list_->setFocus();
}

QLayout* DetailDialog::make_left() {
    auto* left = new QVBoxLayout;
    list_ = new QListWidget(this);
    list_->setObjectName(QStringLiteral("details"));
    list_->setAccessibleName(tr("Details"));
    list_->setWordWrap(true);
    list_->setTextElideMode(Qt::ElideNone);
    list_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    for (const Detail& detail : details_.details) list_->addItem(words(detail.name));
    about_ = new QLabel(this);
    about_->setObjectName(QStringLiteral("about"));
    about_->setWordWrap(true);
    site_ = new QGroupBox(tr("Site faults, one variant more for each"), this);
    new QVBoxLayout(site_);
    left->addWidget(list_, 1);
    left->addWidget(about_);
    left->addWidget(site_);
    costs_ = new QPushButton(tr("&What they cost…"), this);
    costs_->setObjectName(QStringLiteral("costs"));
    costs_->setToolTip(tr("A table of what each of these faults does to psi, fRsi, the water's way and the rules, the highest rise of psi first."));
    left->addWidget(costs_);
    connect(costs_, &QPushButton::clicked, this, [this] {
        auto* dialog = new FaultsDialog(detail(), settings_, this);
        dialog->setAttribute(Qt::WA_DeleteOnClose);
        dialog->open();
    });
    return left;
}

QLayout* DetailDialog::make_right() {
    auto* right = new QVBoxLayout;
    variant_ = new QComboBox(this);
    variant_->setObjectName(QStringLiteral("variant"));
    variant_->setAccessibleName(tr("Variant shown in the picture"));
    variant_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    picture_ = new DetailPicture(this);
    picture_->setObjectName(QStringLiteral("picture"));
    picture_->setAccessibleName(tr("Picture of the section"));
    told_ = new QLabel(this);
    told_->setObjectName(QStringLiteral("told"));
    told_->setWordWrap(true);
    // Two lines are kept free, so that the picture does not jump when something is said.
    told_->setMinimumHeight(2 * fontMetrics().lineSpacing());
    told_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    right->addWidget(variant_);
    right->addWidget(picture_, 1);
    right->addWidget(told_);
    connect(variant_, &QComboBox::activated, this, [this] { look(); });
    return right;
}

const Detail& DetailDialog::detail() const { return details_.details[static_cast<std::size_t>(list_->currentRow())]; }

void DetailDialog::show_detail(int index) {
    if (index < 0) return;
    settings_ = {};
    wrong_.clear();
    faults_.clear();
    about_->setText(words(detail().about));
    auto* all = new QWidget(fields_);
    auto* grid = new QGridLayout(all);
    grid->setColumnStretch(0, 1);
    std::vector<QWidget*> order{list_};
    qDeleteAll(site_->findChildren<QCheckBox*>());
    for (const DetailSwitch& fault : detail().switches) order.push_back(add_fault(fault));
    site_->setVisible(!detail().switches.empty());
    costs_->setVisible(!detail().switches.empty());
    for (const DetailParameter& parameter : detail().parameters)
        order.push_back(parameter.is_choice() ? add_choice(grid, parameter) : add_number(grid, parameter));
    grid->setRowStretch(grid->rowCount(), 1);
    fields_->setWidget(all);
    order.push_back(variant_);
    for (std::size_t i = 1; i < order.size(); ++i) setTabOrder(order[i - 1], order[i]);
    make("base");
}

QWidget* DetailDialog::add_number(QGridLayout* grid, const DetailParameter& parameter) {
    QWidget* parent = grid->parentWidget();
    const int row = grid->rowCount();
    auto* line = new QLineEdit(QString::fromStdString(number_text(parameter.standard)) + unit_words(parameter), parent);
    line->setObjectName(words(parameter.id));
    line->setAccessibleName(words(parameter.name));
    line->setToolTip(tr("%1 to %2").arg(QString::fromStdString(number_text(parameter.least)), QString::fromStdString(number_text(parameter.most))) + unit_words(parameter));
    line->setFixedWidth(8 * fontMetrics().horizontalAdvance(QLatin1Char('M')));
    auto* label = new QLabel(words(parameter.name), parent);
    label->setWordWrap(true);
    label->setBuddy(line);
    auto* fault = new QLabel(parent);
    fault->setObjectName(QStringLiteral("fault.") + words(parameter.id));
    fault->setWordWrap(true);
    QPalette red = fault->palette();
    red.setColor(QPalette::WindowText, colours_of(*this).fault);
    fault->setPalette(red);
    fault->hide();
    faults_[parameter.id] = fault;
    grid->addWidget(label, row, 0);
    grid->addWidget(line, row, 1);
    grid->addWidget(fault, row + 1, 0, 1, 2);
    connect(line, &QLineEdit::textEdited, this, [this, id = parameter.id](const QString& text) { set(id, text.toStdString()); });
    return line;
}

QWidget* DetailDialog::add_choice(QGridLayout* grid, const DetailParameter& parameter) {
    const int row = grid->rowCount();
    auto* list = new QComboBox(grid->parentWidget());
    list->setObjectName(words(parameter.id));
    list->setAccessibleName(words(parameter.name));
    list->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    for (const DetailOption& option : parameter.options) list->addItem(words(option.name), words(option.id));
    list->setCurrentIndex(list->findData(words(parameter.standard_option)));
    auto* label = new QLabel(words(parameter.name), grid->parentWidget());
    label->setBuddy(list);
    grid->addWidget(label, row, 0, 1, 2);
    grid->addWidget(list, row + 1, 0, 1, 2);
    connect(list, &QComboBox::currentIndexChanged, this, [this, list, id = parameter.id] { set(id, list->currentData().toString().toStdString()); });
    return list;
}

QWidget* DetailDialog::add_fault(const DetailSwitch& fault) {
    auto* box = new QCheckBox(words(fault.name), site_);
    box->setObjectName(words(fault.id));
    box->setToolTip(words(fault.about));
    site_->layout()->addWidget(box);
    connect(box, &QCheckBox::toggled, this, [this, id = fault.id](bool on) { tick(id, on); });
    return box;
}

void DetailDialog::set(const std::string& id, const std::string& text) {
    wrong_.erase(id);
    try {
        set_parameter(detail(), settings_, id, text);
    } catch (const InputFault& fault) {
        wrong_[id] = sentence(fault.faults().front());
    }
    make();
}

void DetailDialog::tick(const std::string& id, bool on) {
    std::erase(settings_.switches, id);
    if (on) add_switch(detail(), settings_, id);
    make(on ? id : "base");
}

void DetailDialog::make(const std::string& shown) {
    const std::string wanted = shown.empty() ? variant_->currentData().toString().toStdString() : shown;
    wrong_.erase("");
    try {
        study_ = std::make_shared<const Study>(make_study(detail(), settings_));
        variant_->clear();
        for (const Variant& variant : study_->variants) variant_->addItem(words(variant.name), words(variant.id));
        variant_->setCurrentIndex(std::max(0, variant_->findData(words(wanted))));
        variant_->setEnabled(study_->variants.size() > 1);
    } catch (const InputFault& fault) {
        wrong_[""] = sentence(fault.faults().front());
    }
    for (const auto& [id, label] : faults_) {
        const auto wrong = wrong_.find(id);
        label->setText(wrong == wrong_.end() ? QString() : wrong->second);
        label->setVisible(wrong != wrong_.end());
    }
    ok_->setEnabled(study() != nullptr);
    costs_->setEnabled(study() != nullptr);
    look();
}

void DetailDialog::look() {
    if (!study_) return;
    picture_->show_section(study_, static_cast<std::size_t>(std::max(0, variant_->currentIndex())));
    const auto wrong = wrong_.find("");
    const auto& messages = picture_->arrangement().messages;
    if (wrong != wrong_.end()) told_->setText(wrong->second);
    else if (!wrong_.empty()) told_->setText(tr("One of the fields is to be settled; the picture shows what was right before."));
    else if (!messages.empty()) told_->setText(sentence(messages));
    else told_->setText(variant_->currentIndex() > 0 ? words(study_->variants[static_cast<std::size_t>(variant_->currentIndex())].note) : QString());
}

void DetailDialog::accept() {
    if (study()) QDialog::accept();
}

}  // namespace wallfoot
