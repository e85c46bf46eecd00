// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/piece_panel.hpp"

#include <QComboBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSignalBlocker>

#include "core/study/edits.hpp"
#include "core/study/edits_elements.hpp"
#include "core/text/number_entry.hpp"
#include "core/study/underlays.hpp"
#include "ui/paint/labels.hpp"
#include "ui/panels/edit_boxes.hpp"
#include "ui/panels/element_box.hpp"
#include "ui/panels/hidden_box.hpp"
#include "ui/panels/mark_boxes.hpp"
#include "ui/panels/section_box.hpp"
#include "ui/panels/trial_slider.hpp"
#include "ui/panels/underlay_box.hpp"
#include "ui/panels/words.hpp"
#include "ui/window/document.hpp"

namespace wallfoot {

namespace {

constexpr Condition conditions[] = {Condition::dry, Condition::protected_, Condition::exposed, Condition::below_dpc, Condition::below_ground, Condition::saturated};

void shrinkable(QComboBox* list) {
    list->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    list->setMinimumContentsLength(12);
}

}  // namespace

void fill_materials(QComboBox& list, const Study& study) {
    const QSignalBlocker quiet(&list);
    const QVariant before = list.currentData();
    list.clear();
    for (const auto& material : study.materials)
        if (material.kind != MaterialKind::membrane) list.addItem(words(material.name.empty() ? material.id : material.name), words(material.id));
    list.setCurrentIndex(std::max(0, list.findData(before)));
}

PiecePanel::PiecePanel(Document& document, QWidget* parent) : QWidget(parent), document_(document) {
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(6, 6, 6, 6);
    hint_ = new QLabel(this);
    hint_->setWordWrap(true);
    layout->addWidget(hint_);

    piece_box_ = new QWidget(this);
    auto* form = new QFormLayout(piece_box_);
    form->setContentsMargins(0, 0, 0, 0);
    form->setRowWrapPolicy(QFormLayout::WrapLongRows);
    form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
    name_ = new QLineEdit(piece_box_);
    material_ = new QComboBox(piece_box_);
    moisture_ = new QComboBox(piece_box_);
    shrinkable(material_);
    shrinkable(moisture_);
    conductivity_ = new QLabel(piece_box_);
    conductivity_->setWordWrap(true);
    conductivity_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    trial_ = new TrialSlider(piece_box_);
    corners_ = new CornerTable(piece_box_);
    corners_->setAccessibleName(tr("Corners of the piece"));
    corners_->setToolTip(tr("Type a new place; corners of neighbours on the same point go along."));
    form->addRow(tr("&Name"), name_);
    form->addRow(tr("&Filled with"), material_);
    form->addRow(tr("M&oisture"), moisture_);
    form->addRow(tr("In use"), conductivity_);
    form->addRow(tr("&Try"), trial_);
    course_height_ = new QLineEdit(piece_box_);
    course_from_ = new QLineEdit(piece_box_);
    course_height_->setPlaceholderText(tr("none"));
    course_height_->setToolTip(tr("Height of a course of blocks with its joint, in mm; empty: none are shown."));
    course_from_->setToolTip(tr("Height at which the first course begins, in mm."));
    auto* courses = new QHBoxLayout;
    auto* from = new QLabel(tr("fro&m"), piece_box_);
    from->setBuddy(course_from_);
    courses->addWidget(course_height_);
    courses->addWidget(from);
    courses->addWidget(course_from_);
    auto* height = new QLabel(tr("&Courses, mm"), piece_box_);
    height->setBuddy(course_height_);
    form->addRow(height, courses);
    course_height_->setAccessibleName(tr("Height of courses in mm"));
    course_from_->setAccessibleName(tr("First course begins at, in mm"));
    for (QLineEdit* field : {course_height_, course_from_}) connect(field, &QLineEdit::editingFinished, this, &PiecePanel::courses_typed);
    hole_row_ = new QWidget(piece_box_);
    auto* holes = new QHBoxLayout(hole_row_);
    holes->setContentsMargins(0, 0, 0, 0);
    hole_text_ = new QLabel(hole_row_);
    hole_text_->setWordWrap(true);
    fill_hole_ = new QPushButton(tr("Fill"), hole_row_);
    fill_hole_->setAccessibleName(tr("Fill the hole"));
    fill_hole_->setToolTip(tr("Takes the hole out of the piece; the piece itself stays (Shift+H)."));
    holes->addWidget(hole_text_, 1);
    holes->addWidget(fill_hole_);
    form->addRow(tr("Holes"), hole_row_);
    form->addRow(corners_);
    layout->addWidget(piece_box_, 1);
    for (QWidget* field : {static_cast<QWidget*>(name_), static_cast<QWidget*>(material_), static_cast<QWidget*>(moisture_)})
        field->setAccessibleName(static_cast<QLabel*>(form->labelForField(field))->text().remove(QLatin1Char('&')));

    membrane_box_ = new MembraneBox(document_, this);
    space_box_ = new SpaceBox(document_, this);
    level_box_ = new LevelBox(document_, this);
    section_box_ = new SectionBox(document_, this);
    underlay_box_ = new UnderlayBox(document_, this);
    stretch_box_ = new StretchBox(document_, this);
    dimension_box_ = new DimensionBox(document_, this);
    note_box_ = new NoteBox(document_, this);
    hidden_box_ = new HiddenBox(document_, this);
    element_box_ = new ElementBox(document_, this);
    for (PropertyBox* box : {static_cast<PropertyBox*>(membrane_box_), static_cast<PropertyBox*>(space_box_), static_cast<PropertyBox*>(level_box_), static_cast<PropertyBox*>(section_box_), static_cast<PropertyBox*>(stretch_box_),
                             static_cast<PropertyBox*>(dimension_box_), static_cast<PropertyBox*>(note_box_), static_cast<PropertyBox*>(underlay_box_), static_cast<PropertyBox*>(hidden_box_), static_cast<PropertyBox*>(element_box_)}) {
        layout->addWidget(box, box == membrane_box_ ? 1 : 0);
        connect(box, &PropertyBox::told, this, &PiecePanel::told);
        connect(box, &PropertyBox::refused, this, [this] { show_picked(picked_, findings_, current_); });
    }
    layout->addStretch(0);

    moisture_->addItem(tr("auto (from the place)"));
    for (const Condition condition : conditions) moisture_->addItem(name_of(condition), static_cast<int>(condition));

    connect(name_, &QLineEdit::editingFinished, this, [this] {
        const std::string text = name_->text().trimmed().toStdString();
        name_->setModified(false);
        if (!filling_ && picked_.kind == PickedKind::piece && document_.has_study())
            report(document_.edit(tr("Rename piece"), [&](const Section& s) { return rename_piece(s, picked_.id.toStdString(), text); }));
    });
    connect(material_, &QComboBox::currentIndexChanged, this, &PiecePanel::filling_chosen);
    connect(moisture_, &QComboBox::currentIndexChanged, this, [this](int index) {
        if (filling_ || index < 0) return;
        const std::optional<Condition> moisture = index == 0 ? std::nullopt : std::optional(conditions[index - 1]);
        report(document_.edit(tr("Change moisture condition"), [&](const Section& s) { return set_moisture(s, picked_.id.toStdString(), moisture); }));
    });
    connect(fill_hole_, &QPushButton::clicked, this, &PiecePanel::fill_hole_wanted);
    connect(trial_, &TrialSlider::moved, this, [this](double factor) {
        const Piece* piece = picked_.kind == PickedKind::piece && document_.has_study() ? find_piece(document_.section(), picked_.id.toStdString()) : nullptr;
        // The end of a trial is told whatever is picked by then.
        if (factor == 1) emit tried({}, 1);
        else if (piece && piece->fill == Fill::material) emit tried(words(piece->filled_with), factor);
    });
    connect(corners_, &CornerTable::typed, this, &PiecePanel::corner_typed);
    connect(corners_, &CornerTable::refused, this, [this](const QString& text) {
        emit told(text);
        show_picked(picked_, findings_, current_);
    });
    show_picked({}, nullptr, false);
}

void PiecePanel::report(const std::vector<Message>& refusals) {
    emit told(refusals.empty() ? QString() : sentence(refusals.front()));
    if (!refusals.empty()) show_picked(picked_, findings_, current_);
}

void PiecePanel::show_picked(const Picked& picked, std::shared_ptr<const Findings> findings, bool current) {
    picked_ = picked;
    findings_ = std::move(findings);
    current_ = current;
    const std::string id = picked.id.toStdString();
    const bool several = document_.has_study() && !picked.more.empty();
    const auto is = [&](PickedKind kind) { return document_.has_study() && picked.kind == kind && !several; };
    const Piece* piece = is(PickedKind::piece) ? find_piece(document_.section(), id) : nullptr;
    const Membrane* membrane = is(PickedKind::membrane) ? find_membrane(document_.section(), id) : nullptr;
    const Space* space = is(PickedKind::space) ? find_space(document_.section(), id) : nullptr;
    const Stretch* stretch = is(PickedKind::stretch) ? find_stretch(document_.section(), id) : nullptr;
    const Dimension* dimension = is(PickedKind::dimension) ? find_dimension(document_.section(), id) : nullptr;
    const Note* note = is(PickedKind::note) ? find_note(document_.section(), id) : nullptr;
    const Underlay* underlay = is(PickedKind::underlay) ? find_underlay(document_.section(), id) : nullptr;
    const HiddenSurface* hidden = is(PickedKind::hidden) ? find_hidden(document_.section(), id) : nullptr;
    const bool level = is(PickedKind::level), element = is(PickedKind::element), nothing = !piece && !membrane && !space && !level && !element && !stretch && !dimension && !note && !underlay && !hidden && !several;
    const QString pick = tr("Pick a piece, a membrane, a mark or a level on the sheet or in the contents to see and change what it is.");
    hint_->setText(several ? tr("%1 things are picked. They can be moved, copied, turned, mirrored, given a material, grouped or deleted together; the menu Change has it all.").arg(picked.more.size() + 1)
                   : document_.has_study() ? tr("%1 Of the section itself:").arg(pick) : QString());
    hint_->setVisible((nothing || several) && document_.has_study());
    stretch_box_->setVisible(stretch);
    dimension_box_->setVisible(dimension);
    note_box_->setVisible(note);
    hidden_box_->setVisible(hidden);
    element_box_->setVisible(element);
    piece_box_->setVisible(piece);
    membrane_box_->setVisible(membrane);
    space_box_->setVisible(space);
    level_box_->setVisible(level);
    underlay_box_->setVisible(underlay);
    section_box_->setVisible(nothing && document_.has_study());
    filling_ = true;
    if (piece) fill_piece(*piece);
    filling_ = false;
    if (membrane) membrane_box_->show_membrane(*membrane);
    if (space) space_box_->show_space(*space);
    if (underlay) underlay_box_->show_underlay(*underlay);
    if (level) level_box_->show_level(level_of(picked.id).kind);
    if (stretch) stretch_box_->show_stretch(*stretch);
    if (dimension) dimension_box_->show_dimension(*dimension);
    if (note) note_box_->show_note(*note);
    if (hidden) hidden_box_->show_hidden(*hidden);
    if (element) element_box_->show_element(id, findings_, current_);
    if (nothing && document_.has_study()) section_box_->show_section(document_.section());
}

void PiecePanel::fill_piece(const Piece& piece) {
    show_text(*name_, words(piece.name));
    const bool solid = piece.fill == Fill::material;
    moisture_->setEnabled(solid);
    const Material* material = solid ? document_.study()->find_material(piece.filled_with) : nullptr;
    trial_->setEnabled(material && !material->lambda.by_condition.empty());
    fill_fillings(piece);
    moisture_->setCurrentIndex(!solid ? -1 : piece.moisture ? 1 + static_cast<int>(std::find(std::begin(conditions), std::end(conditions), *piece.moisture) - conditions) : 0);
    show_conductivity(piece);
    const std::size_t count = piece.holes.size();
    static_cast<QFormLayout*>(piece_box_->layout())->setRowVisible(hole_row_, count > 0);
    hole_text_->setText(picked_.hole ? tr("%1 of %2 is picked; its corners:").arg(*picked_.hole + 1).arg(count) : count == 1 ? tr("1") : tr("%1: click into one to pick it").arg(count));
    fill_hole_->setEnabled(picked_.hole || count == 1);
    corners_->show_corners(picked_.hole && *picked_.hole < count ? piece.holes[*picked_.hole] : piece.outline);
    show_text(*course_height_, piece.courses ? words(number_text(to_mm(piece.courses->height))) : QString());
    show_text(*course_from_, piece.courses ? words(number_text(to_mm(piece.courses->from))) : QString());
}

void PiecePanel::courses_typed() {
    if (filling_ || picked_.kind != PickedKind::piece || !document_.has_study()) return;
    const std::string height = course_height_->text().trimmed().toStdString(), from = course_from_->text().trimmed().toStdString();
    std::optional<Courses> courses;
    if (!height.empty()) {
        const Entry h = parse_length(height), f = parse_length(from.empty() ? "0" : from);
        if (!h || !f) {
            emit told(sentence(!h ? h.problem : f.problem));
            return;
        }
        courses = Courses{from_mm(*f.value), from_mm(*h.value), {}};
    }
    for (QLineEdit* field : {course_height_, course_from_}) field->setModified(false);
    report(document_.edit(tr("Change courses"), [&](const Section& s) { return set_courses(s, picked_.id.toStdString(), courses); }));
}

/// Materials first, then the air of each space, then the cutout.
void PiecePanel::fill_fillings(const Piece& piece) {
    const QSignalBlocker quiet(material_);
    fill_materials(*material_, *document_.study());
    material_->insertSeparator(material_->count());
    for (const Space& space : document_.section().spaces)
        material_->addItem(tr("air of %1").arg(space_name(document_.section(), space)), QStringList{QStringLiteral("space"), words(space.id)});
    material_->addItem(tr("cutout: taken out, no heat flows in it"), QStringList{QStringLiteral("cutout")});
    const QVariant filled = piece.fill == Fill::material ? QVariant(words(piece.filled_with))
                            : piece.fill == Fill::space  ? QVariant(QStringList{QStringLiteral("space"), words(piece.filled_with)})
                                                         : QVariant(QStringList{QStringLiteral("cutout")});
    material_->setCurrentIndex(material_->findData(filled));
}

void PiecePanel::filling_chosen() {
    if (filling_ || material_->currentIndex() < 0) return;
    const QVariant data = material_->currentData();
    const std::string id = picked_.id.toStdString();
    if (data.typeId() != QMetaType::QStringList) {
        const auto refusals = document_.edit(tr("Change material"), [&](const Section& s) { return set_material(s, id, data.toString().toStdString()); });
        report(refusals);
        if (refusals.empty()) emit material_used(data.toString());
        return;
    }
    const QStringList filling = data.toStringList();
    const Fill fill = filling.size() > 1 ? Fill::space : Fill::cutout;
    report(document_.edit(tr("Change filling"), [&](const Section& s) { return set_fill(s, id, fill, fill == Fill::space ? filling[1].toStdString() : std::string()); }));
}

void PiecePanel::show_conductivity(const Piece& piece) {
    QStringList lines;
    if (piece.fill == Fill::space) lines << tr("air of the space %1").arg(words(piece.filled_with));
    if (piece.fill == Fill::cutout) lines << tr("cutout: nothing flows in it");
    const auto& pieces = document_.section().pieces;
    const int index = static_cast<int>(&piece - pieces.data());
    if (findings_ && current_ && piece.fill == Fill::material)
        for (std::size_t f = 0; f < findings_->conductivity.size() && f < findings_->arrangement.faces.size(); ++f) {
            const Face& face = findings_->arrangement.faces[f];
            if (face.kind != FaceKind::solid || face.piece != index) continue;
            const FaceConductivity& used = findings_->conductivity[f];
            QString line = value_words(used.across, "W/(m·K)");
            if (used.up != used.across) line += tr(" across, %1 up").arg(value_words(used.up, "W/(m·K)"));
            line += tr(", %1").arg(name_of(used.used));
            if (used.undeclared) line += tr(" (%1 is not declared)").arg(name_of(used.asked));
            if (!lines.contains(line)) lines << line;
        }
    conductivity_->setText(lines.isEmpty() ? QStringLiteral("–") : lines.join(QLatin1Char('\n')));
}

void PiecePanel::corner_typed(int row, Point to) {
    const Piece* piece = picked_.kind == PickedKind::piece ? find_piece(document_.section(), picked_.id.toStdString()) : nullptr;
    if (!piece || (picked_.hole && *picked_.hole >= piece->holes.size())) return;
    const Outline& outline = picked_.hole ? piece->holes[*picked_.hole] : piece->outline;
    if (row >= static_cast<int>(outline.size())) return;
    const Point from = outline[static_cast<std::size_t>(row)];
    report(document_.edit(tr("Move corner"), [&](const Section& s) { return move_corner(s, from, to); }));
}

QTableWidget* PiecePanel::corners() const { return corners_; }
QLineEdit* PiecePanel::temperature() const { return space_box_->temperature(); }

}  // namespace wallfoot
