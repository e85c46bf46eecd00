// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/equal_dialog.hpp"

#include <QApplication>
#include <QClipboard>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPlainTextEdit>
#include <QPointer>
#include <QPushButton>
#include <QScreen>
#include <QSpinBox>
#include <QVBoxLayout>
#include <algorithm>

#include "core/text/refuse_faults.hpp"
#include "ui/panels/parameter_choice.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

constexpr Micrometres usual_course = 225'000;  // of a leaf without courses of its own

/// What is asked of whole courses; no leaves: a parameter is asked instead.
struct CoursesAsked {
    std::vector<std::string> leaves;
    std::string block;
    std::size_t most = 8;
    std::string block_if_any() const { return leaves.empty() ? std::string() : block; }
};

Parameter conductivity_of(const std::vector<std::string>& pieces) {
    Parameter parameter;
    parameter.targets = pieces;
    return parameter;
}

}  // namespace

EqualDialog::EqualDialog(std::shared_ptr<const Study> study, const std::string& variant_id, const QString& piece, QWidget* parent) : QDialog(parent), study_(std::move(study)), variant_id_(variant_id) {
    const Variant& variant = *study_->find_variant(variant_id_);
    setWindowTitle(tr("Equal partner"));
    pool_.setMaxThreadCount(1);
    auto* rows = new QVBoxLayout(this);
    auto* head = new QLabel(tr("What would make \"%1\" as good as another variant: every value of one parameter at which both are equal, or how many whole courses of another block, or that there is none. The study stays as it is.").arg(words(variant.name.empty() ? variant.id : variant.name)), this);
    head->setWordWrap(true);
    rows->addWidget(head);
    auto* form = new QFormLayout;
    target_ = new QComboBox(this);
    target_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    for (const Variant& other : study_->variants)
        if (other.id != variant_id_) target_->addItem(words(other.name.empty() ? other.id : other.name), words(other.id));
    form->addRow(tr("As &good as"), target_);
    by_ = new QComboBox(this);
    by_->addItem(tr("psi"));
    by_->addItem(tr("fRsi"));
    by_->addItem(tr("psi and fRsi, both"));
    form->addRow(tr("&In"), by_);
    form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
    rows->addLayout(form);
    way_ = new QComboBox(this);
    way_->addItem(tr("a parameter: conductivity, thickness, depth, membrane"));
    way_->addItem(tr("whole courses of another block"));
    form->addRow(tr("B&y way of"), way_);
    courses_ = courses_box(variant);
    rows->addWidget(courses_);
    choice_ = new ParameterChoice(study_, variant_id_, tr("&By"), ParameterChoice::Offered::numbers, piece, this);
    rows->addWidget(choice_);
    auto* row = new QHBoxLayout;
    start_ = new QPushButton(tr("&Find"), this);
    start_->setDefault(true);
    stop_ = new QPushButton(tr("S&top"), this);
    row->addWidget(start_);
    row->addWidget(stop_);
    row->addStretch(1);
    rows->addLayout(row);
    answer_ = new QPlainTextEdit(this);
    answer_->setReadOnly(true);
    answer_->setTabChangesFocus(true);
    answer_->setAccessibleName(tr("The answer"));
    rows->addWidget(answer_, 1);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
    copy_ = buttons->addButton(tr("&Copy as text"), QDialogButtonBox::ActionRole);
    rows->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(copy_, &QPushButton::clicked, this, [this] { QApplication::clipboard()->setText(answer_->toPlainText()); });
    connect(start_, &QPushButton::clicked, this, &EqualDialog::run);
    connect(stop_, &QPushButton::clicked, this, [this] {
        if (running_) running_->cancel();
    });
    connect(leaves_, &QListWidget::itemChanged, this, &EqualDialog::choice_changed);
    connect(most_, &QSpinBox::valueChanged, this, &EqualDialog::choice_changed);
    connect(choice_, &ParameterChoice::changed, this, &EqualDialog::choice_changed);
    for (QComboBox* box : {target_, by_, way_, block_}) connect(box, &QComboBox::currentIndexChanged, this, &EqualDialog::choice_changed);
    const int em = fontMetrics().horizontalAdvance(QLatin1Char('M'));
    const QSize room = screen() ? screen()->availableGeometry().size() - QSize(2 * em, 4 * fontMetrics().height()) : QSize(10'000, 10'000);
    resize(std::min(room.width(), 76 * em), std::min(room.height(), fontMetrics().height() * 38));
    choice_changed();
}

/// The other block, and the leaves whose courses may be changed to it: all masonry drawn as rectangles, unless unticked.
QWidget* EqualDialog::courses_box(const Variant& variant) {
    auto* box = new QWidget(this);
    auto* form = new QFormLayout(box);
    form->setContentsMargins(0, 0, 0, 0);
    block_ = new QComboBox(box);
    for (const Material& material : study_->materials)
        if (material.kind == MaterialKind::masonry) block_->addItem(words(material.name.empty() ? material.id : material.name), words(material.id));
    form->addRow(tr("&Block"), block_);
    leaves_ = new QListWidget(box);
    leaves_->setAccessibleName(tr("Leaves whose courses may change"));
    for (const Piece& piece : variant.section->pieces) {
        const Material* material = study_->find_material(piece.filled_with);
        if (!material || material->kind != MaterialKind::masonry || piece.outline.size() != 4 || !piece.holes.empty()) continue;
        auto* item = new QListWidgetItem(name_of(piece), leaves_);
        item->setData(Qt::UserRole, words(piece.id));
        item->setFlags(Qt::ItemIsEnabled | Qt::ItemIsSelectable | Qt::ItemIsUserCheckable);
        item->setCheckState(Qt::Checked);
    }
    leaves_->setMaximumHeight(fontMetrics().height() * 7);
    form->addRow(tr("In these lea&ves"), leaves_);
    most_ = new QSpinBox(box);
    most_->setRange(1, 40);
    most_->setValue(8);
    most_->setAccessibleName(tr("Most courses that are tried"));
    form->addRow(tr("At &most, courses"), most_);
    return box;
}

bool EqualDialog::by_courses() const { return way_->currentIndex() == 1; }

std::vector<std::string> EqualDialog::chosen_leaves() const {
    std::vector<std::string> chosen;
    for (int i = 0; i < leaves_->count(); ++i)
        if (leaves_->item(i)->checkState() == Qt::Checked) chosen.push_back(leaves_->item(i)->data(Qt::UserRole).toString().toStdString());
    return chosen;
}

EqualDialog::~EqualDialog() {
    if (running_) running_->cancel();
    pool_.clear();
    pool_.waitForDone();
}

void EqualDialog::choice_changed() {
    if (running_) running_->cancel();
    ++asked_;
    busy_ = false;
    courses_->setVisible(by_courses());
    choice_->setVisible(!by_courses());
    const QString of_courses = block_->count() == 0 ? tr("The study has no masonry to take instead.") : chosen_leaves().empty() ? tr("Tick at least one leaf; one drawn as a rectangle has courses.") : QString();
    const QString problem = target_->count() == 0 ? tr("There is no other variant to be as good as. Make one first (Ctrl+D).") : by_courses() ? of_courses : choice_->problem();
    answer_->setPlainText(problem);
    start_->setEnabled(problem.isEmpty() && (by_courses() || choice_->change()));
    stop_->setEnabled(false);
    copy_->setEnabled(false);
}

void EqualDialog::run() {
    const auto change = choice_->change();
    if (busy_ || (!by_courses() && !change) || target_->currentIndex() < 0) return;
    busy_ = true;
    start_->setEnabled(false);
    stop_->setEnabled(true);
    copy_->setEnabled(false);
    answer_->setPlainText(tr("being worked out…"));
    EqualAsked wanted;
    wanted.measures.clear();
    if (!by_courses()) {
        const auto [low, high] = std::minmax_element(change->numbers.begin(), change->numbers.end());
        wanted = {*change, *low, *high, {}, std::max(2, static_cast<int>(change->numbers.size()) - 1)};
    }
    const CoursesAsked courses{by_courses() ? chosen_leaves() : std::vector<std::string>{}, block_->currentData().toString().toStdString(), static_cast<std::size_t>(most_->value())};
    const QString title = by_courses() ? tr("courses of %1").arg(block_->currentText()) : choice_->title();
    if (by_->currentIndex() != 1) wanted.measures.push_back(Measure::psi);
    if (by_->currentIndex() != 0) wanted.measures.push_back(Measure::fRsi);
    running_ = std::make_shared<Context>();
    pool_.start([study = study_, variant_id = variant_id_, wanted, courses, title, other = target_->currentData().toString().toStdString(), context = running_, asked = ++asked_, self = QPointer(this)] {
        QString text;
        bool found = false;
        try {
            const Variant &variant = *study->find_variant(variant_id), &to = *study->find_variant(other);
            const auto target = wallfoot::find(*study, to, {}, *context);
            refuse_faults(target->messages);
            text = tr("%1 as good as %2, by %3\n").arg(words(variant.name), words(to.name), title);
            if (courses.leaves.empty()) text += words(equal_text(wanted.parameter, equal_parameter(*study, variant, wanted, *target, {}, *context)));
            else text += words(equal_courses_text(equal_courses(*study, variant, courses.leaves, courses.block, *target, usual_course, courses.most, wanted.measures, {}, *context)));
            text += QLatin1Char('\n') + tr("What heat does not decide:") + QLatin1Char('\n');
            for (const Message& message : beside_heat(*study, variant, courses.leaves.empty() ? wanted.parameter : conductivity_of(courses.leaves), courses.block_if_any())) text += QStringLiteral("  ") + sentence(message) + QLatin1Char('\n');
            found = true;
        } catch (const Cancelled&) {
            text = tr("Stopped.");
        } catch (const InputFault& fault) {
            text = sentence(fault.faults());
        } catch (const std::exception& failure) {
            text = words(failure.what());
        }
        QMetaObject::invokeMethod(qApp, [self, asked, text, found] {
            if (self && self->asked_ == asked) self->ended(text, found);
        });
    });
}

void EqualDialog::ended(const QString& text, bool found) {
    busy_ = false;
    running_.reset();
    answer_->setPlainText(text);
    start_->setEnabled(true);
    stop_->setEnabled(false);
    copy_->setEnabled(found);
}

}  // namespace wallfoot
