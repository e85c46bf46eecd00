// SPDX-License-Identifier: GPL-3.0-or-later
#include <QDialogButtonBox>
#include <QFileDialog>
#include <QFileInfo>
#include <QFormLayout>
#include <QInputDialog>
#include <QLabel>
#include <QLineEdit>
#include <QMessageBox>
#include <QPushButton>
#include <QSaveFile>
#include <QSettings>
#include <QTimer>
#include <algorithm>
#include <cmath>

#include "core/exchange/dxf.hpp"
#include "core/file/study_file.hpp"
#include "core/geometry/outline_check.hpp"
#include "core/study/edits.hpp"
#include "core/study/underlays.hpp"
#include "core/text/number_entry.hpp"
#include "ui/exchange/pdf_file.hpp"
#include "ui/exchange/picture_file.hpp"
#include "ui/panels/file_name.hpp"
#include "ui/panels/drawing_dialog.hpp"
#include "ui/panels/page_dialog.hpp"
#include "ui/panels/tool_choice.hpp"
#include "ui/panels/underlay_box.hpp"
#include "ui/panels/words.hpp"
#include "ui/window/main_window.hpp"

// What the window does with underlays, and drawings that go out.
namespace wallfoot {

namespace {

constexpr std::size_t most_pieces = 500;  // made of one drawing

/// The place of a variant in the list. Throws InputFault when it was removed.
std::size_t place_of_variant(const Study& study, const std::string& id) {
    const auto found = std::find_if(study.variants.begin(), study.variants.end(), [&](const Variant& one) { return one.id == id; });
    if (found == study.variants.end()) throw InputFault(Message{Severity::fault, "edit-variant-gone", {}, {}, {}});
    return static_cast<std::size_t>(found - study.variants.begin());
}

/// A length typed into a small dialog, in mm; nothing when it was given up.
std::optional<double> ask_length(QWidget* parent, const QString& title, const QString& label) {
    QString problem;
    for (QString text;;) {
        bool agreed = false;
        text = QInputDialog::getText(parent, title, problem.isEmpty() ? label : label + QLatin1Char('\n') + problem, QLineEdit::Normal, text, &agreed);
        if (!agreed) return {};
        const Entry entry = parse_length(text.trimmed().toStdString());
        if (entry && *entry.value > 0) return *entry.value;
        problem = entry ? MainWindow::tr("The length must be above 0.") : sentence(entry.problem);
    }
}

/// What was typed becomes a new file as a whole or not at all.
bool write_whole(const QString& path, const std::string& bytes, QString* reason) {
    QSaveFile file(path);
    if (file.open(QIODevice::WriteOnly) && file.write(bytes.data(), static_cast<qint64>(bytes.size())) == static_cast<qint64>(bytes.size()) && file.commit()) return true;
    *reason = file.errorString();
    return false;
}

}  // namespace

void MainWindow::bind_underlay_commands() {
    bind("underlay.add", [this] {
        if (!document_.has_study()) return;
        const QString path = QFileDialog::getOpenFileName(this, tr("Add an underlay"), QSettings().value(QStringLiteral("folder")).toString(),
                                                          tr("Pictures, PDF and DXF (*.png *.jpg *.jpeg *.pdf *.dxf);;All files (*)"));
        if (!path.isEmpty()) add_underlay_file(path, {});
    });
    bind("underlay.scale", [this] { scale_underlay(); });
    bind("underlay.place", [this] { place_underlay(); });
    bind("underlay.straighten", [this] { straighten_underlay(); });
    bind("underlay.lock", [this] {
        if (const auto underlay = picked_underlay())
            tell(document_.edit(underlay->locked ? tr("Unlock underlay") : tr("Lock underlay"), [&](const Section& s) {
                const Underlay* own = find_underlay(s, underlay->id);
                if (!own) throw InputFault(Message{Severity::fault, "edit-unknown-id", {{"id", underlay->id}}, {}, {}});
                Underlay changed = *own;  // another variant's may be another picture
                changed.locked = !underlay->locked;
                return set_underlay(s, changed);
            }));
    });
    bind("underlay.pieces", [this] { pieces_of_underlay(); });
    bind("underlay.copy_without", [this] { save_copy_without_underlays(); });
    bind("file.export", [this] { export_drawing(); });
    connect(sheet_, &Sheet::file_dropped, this, [this](const QString& path, QPointF mm) { add_underlay_file(path, mm); }, Qt::QueuedConnection);
}

/// The one that is picked, or the only one there is.
std::optional<Underlay> MainWindow::picked_underlay() {
    if (!document_.has_study()) return {};
    const Section& section = document_.section();
    const Underlay* underlay = sheet_->picked().kind == PickedKind::underlay ? find_underlay(section, sheet_->picked().id.toStdString()) : nullptr;
    if (!underlay && section.underlays.size() == 1) underlay = &section.underlays.front();
    if (underlay) return *underlay;
    emit sheet_->told(section.underlays.empty() ? tr("There is no underlay. Underlay › Add puts one below the section.") : tr("Pick the underlay in the contents first."));
    return {};
}

void MainWindow::not_added(const QString& name, const QString& why) {
    emit sheet_->told({});
    QMessageBox::warning(this, tr("Not added"), tr("%1 cannot be added. The study is as it was.\n\n%2").arg(name, why));
}

void MainWindow::arrive(std::function<void()> act) {
    if (!sheet_->dragging()) return act();
    QTimer::singleShot(50, this, [this, act = std::move(act)] { arrive(act); });
}

void MainWindow::read_away(const QString& name, std::function<Background::Done()> read, std::function<void(const QString& why)> failed) {
    emit sheet_->told(tr("Loading %1 …").arg(name));
    const auto attempt = [](const std::function<void()>& act) -> QString {
        try {
            act();
            return {};
        } catch (const InputFault& fault) {
            return sentence(fault.faults());
        } catch (const std::exception& error) {
            return QString::fromUtf8(error.what());
        }
    };
    reading_.run([this, attempt, read = std::move(read), failed = std::move(failed), life = document_.life()]() -> Background::Done {
        Background::Done go_on;
        QString why = attempt([&] { go_on = read(); });
        return [this, attempt, go_on, why, failed, life] {
            arrive([this, attempt, go_on, why, failed, life] {
                if (life != document_.life()) return;  // it was for another study
                const QString trouble = go_on ? attempt(go_on) : why;
                if (!trouble.isEmpty()) failed(trouble);
            });
        };
    });
}

void MainWindow::add_underlay_file(const QString& path, std::optional<QPointF> at) {
    if (!document_.has_study()) return;
    const QString name = QFileInfo(path).fileName(), suffix = QFileInfo(path).suffix().toLower();
    if (suffix == QStringLiteral("dxf")) add_drawing(path, name);
    else if (suffix == QStringLiteral("pdf")) add_page(path, name, at);
    else add_picture(path, name, at);
}

void MainWindow::lay_below(const std::string& variant, Underlay underlay, const AttachedFile& file, QSizeF size_mm, std::optional<QPointF> at, const QString& hint) {
    const std::size_t place = place_of_variant(*document_.study(), variant);
    const Rect& cut = document_.study()->variants[place].section->cut;
    const QPointF middle = at ? *at : QPointF(to_mm(cut.left) + to_mm(cut.width()) / 2, to_mm(cut.bottom) + to_mm(cut.height()) / 2);
    if (!size_mm.isEmpty()) underlay.origin = {from_mm(std::round(middle.x() - size_mm.width() / 2)), from_mm(std::round(middle.y() - size_mm.height() / 2))};
    const auto refusals = change_study(tr("Add underlay"), [&](const Study& study) { return add_underlay(study, place, underlay, file); });
    if (!refusals.empty()) throw InputFault(refusals);
    const Variant& of = document_.study()->variants[place];
    if (place != document_.active()) return emit sheet_->told(tr("%1 lies below the variant \"%2\" now.").arg(words(file.attachment->name), words(of.name)));
    if (sheet_->tool() == Tool::pick && !sheet_->asks_places()) {
        set_activity(Activity::draw);
        sheet_->set_picked({PickedKind::underlay, words(of.section->underlays.back().id), {}});
    }
    emit sheet_->told(hint);
}

void MainWindow::add_picture(const QString& path, const QString& name, std::optional<QPointF> at) {
    read_away(name, [this, path, name, at, variant = document_.variant().id]() -> Background::Done {
        std::string bytes = bytes_of_file(path, attachment_limit);
        const bool png = bytes.compare(0, 4, "\x89PNG") == 0;
        const AttachedFile file = attached_file(png ? "image/png" : "image/jpeg", name.toStdString(), std::move(bytes));
        const auto content = std::make_shared<const UnderlayContent>(sound_content_of(*file.attachment, UnderlayKind::picture, 1));
        return [this, file, content, at, variant] {
            const Rect& cut = document_.study()->variants[place_of_variant(*document_.study(), variant)].section->cut;
            Underlay underlay;
            underlay.attachment = file.hash;
            underlay.scale = std::min(to_mm(cut.width()) / content->size.width(), to_mm(cut.height()) / content->size.height());
            sheet_->underlays().keep(underlay, content);
            lay_below(variant, underlay, file, content->size * underlay.scale, at, tr("Its scale is not known yet: Underlay › Scale by a known length sets it. A photo taken at a slant is straightened first."));
        };
    }, [this, name](const QString& why) { not_added(name, why); });
}

void MainWindow::add_page(const QString& path, const QString& name, std::optional<QPointF> at) {
    read_away(name, [this, path, name, at, variant = document_.variant().id]() -> Background::Done {
        std::string bytes = bytes_of_file(path, attachment_limit);
        const auto pages = std::make_shared<const PdfFile>(bytes);
        const AttachedFile file = attached_file("application/pdf", name.toStdString(), std::move(bytes));
        return [this, pages, file, name, at, variant] {
            PageDialog dialog(pages, reading_, name, this);
            if (dialog.exec() != QDialog::Accepted || !dialog.scale()) return emit sheet_->told({});
            Underlay underlay;
            underlay.kind = UnderlayKind::pdf;
            underlay.opacity = 0.8;  // thin lines
            underlay.page = dialog.page();
            underlay.scale = 25.4 / 72 * *dialog.scale();
            lay_below(variant, underlay, file, dialog.page_size() * underlay.scale, at, tr("Drawn at 1:%1. Underlay › Move onto a point brings it to its place; line ends hold the cursor.").arg(words(number_text(*dialog.scale()))));
        };
    }, [this, name](const QString& why) { not_added(name, why); });
}

void MainWindow::add_drawing(const QString& path, const QString& name) {
    read_away(name, [this, path, name, variant = document_.variant().id]() -> Background::Done {
        const auto bytes = std::make_shared<std::string>(bytes_of_file(path, dxf_byte_limit));
        const auto read = std::make_shared<Drawing>(read_dxf(*bytes));
        return [this, bytes, read, name, variant] {
            DrawingDialog dialog(std::move(*bytes), std::move(*read), name, this);
            if (dialog.exec() != QDialog::Accepted) return emit sheet_->told({});
            Underlay underlay;
            underlay.kind = UnderlayKind::dxf;
            underlay.opacity = 0.8;  // thin lines
            lay_below(variant, underlay, attached_file("image/vnd.dxf", name.toStdString(), dxf_text(dialog.drawing())), {}, {}, tr("Line ends hold the cursor. Underlay › Move onto a point brings it to its place."));
            if (!dialog.pieces_wanted()) return;
            if (document_.variant().id == variant) make_pieces(dialog.outlines());
            else emit sheet_->told(tr("No pieces were made, as another variant is in view by now: go back to the one the drawing was added to, and use Underlay › Closed outlines become pieces."));
        };
    }, [this, name](const QString& why) { not_added(name, why); });
}

void MainWindow::make_pieces(const std::vector<Outline>& outlines) {
    std::string material = choice_->next().material.toStdString();
    if (material.empty() && !document_.study()->materials.empty()) material = document_.study()->materials.front().id;
    std::size_t made = 0, refused = 0;
    tell(document_.edit(tr("Pieces from outlines"), [&](const Section& section) {
        Section result = section;
        made = refused = 0;  // edits may go to several variants, the one told of last
        // The largest first: what lies within another covers it.
        std::vector<Outline> sorted = outlines;
        const auto area = [](const Outline& outline) {
            Area2 sum = 0;
            for (std::size_t i = 0; i < outline.size(); ++i) {
                const Point a = outline[i], b = outline[(i + 1) % outline.size()];
                sum += static_cast<Area2>(a.x) * b.y - static_cast<Area2>(a.y) * b.x;
            }
            return sum < 0 ? -sum : sum;
        };
        std::stable_sort(sorted.begin(), sorted.end(), [&](const Outline& a, const Outline& b) { return area(a) > area(b); });
        for (const Outline& outline : sorted) {
            Piece piece;
            piece.filled_with = material;
            piece.outline = outline;
            try {
                if (made >= most_pieces) throw InputFault(Message{});
                result = add_piece(result, std::move(piece));
                ++made;
            } catch (const InputFault&) {
                ++refused;
            }
        }
        return result;
    }));
    if (made + refused == 0) emit sheet_->told(tr("No closed outline was found. Add the drawing again with a wider gap to be joined, and look at its open ends."));
    else emit sheet_->told(tr("Pieces made: %1, each of the material drawn with next; give them their own.").arg(made) +
                           (refused > 0 ? tr(" Outlines that could not be one, being too small, crossing themselves or too many: %1.").arg(refused) : QString()));
}

void MainWindow::pieces_of_underlay() {
    const auto underlay = picked_underlay();
    if (!underlay) return;
    const auto attachment = document_.study()->attachments.find(underlay->attachment);
    if (underlay->kind != UnderlayKind::dxf || attachment == document_.study()->attachments.end()) {
        emit sheet_->told(tr("Only drawn lines (DXF) have outlines that can become pieces."));
        return;
    }
    constexpr double gap = 0.5;  // mm, as offered when a drawing is added
    std::vector<Outline> outlines;
    try {
        for (const auto& closed : joined(read_dxf(attachment->second->bytes, 1), gap / underlay->scale).closed) {
            Outline& outline = outlines.emplace_back();
            for (const Place p : closed) {
                const Place at = placed(*underlay, p.x, p.y);
                outline.push_back({from_mm(at.x), from_mm(at.y)});
            }
        }
    } catch (const InputFault& fault) {
        return tell(fault.faults());
    }
    make_pieces(outlines);
}

void MainWindow::scale_underlay() {
    const auto underlay = picked_underlay();
    if (!underlay) return;
    sheet_->ask_places({tr("Click one end of a length that is known, such as a written dimension."), tr("Click its other end.")}, underlay->kind != UnderlayKind::picture,
                       [this, id = underlay->id](const std::vector<QPointF>& places) {
                           const auto length = ask_length(this, tr("Known length"), tr("True length between the two places, in mm:"));
                           if (!length) return;
                           tell(document_.edit(tr("Scale underlay"), [&](const Section& s) {
                               const Underlay* present = find_underlay(s, id);
                               return present ? set_underlay(s, calibrated(*present, {places[0].x(), places[0].y()}, {places[1].x(), places[1].y()}, *length)) : s;
                           }));
                       });
}

void MainWindow::place_underlay() {
    const auto underlay = picked_underlay();
    if (!underlay) return;
    sheet_->ask_places({tr("Click a place of the underlay."), tr("Click where that place belongs, such as a corner of the section.")}, true, [this, id = underlay->id](const std::vector<QPointF>& places) {
        tell(document_.edit(tr("Move underlay"), [&](const Section& s) {
            const Underlay* present = find_underlay(s, id);
            if (!present) return s;
            Underlay moved = *present;
            moved.origin = {moved.origin.x + from_mm(places[1].x() - places[0].x()), moved.origin.y + from_mm(places[1].y() - places[0].y())};
            return set_underlay(s, moved);
        }));
    });
}

void MainWindow::straighten_underlay() {
    const auto underlay = picked_underlay();
    if (!underlay) return;
    if (underlay->kind != UnderlayKind::picture) {
        emit sheet_->told(tr("Only a photo can be straightened."));
        return;
    }
    sheet_->ask_places({tr("Click the lower left corner of a rectangle in the photo whose sides are known, such as a block or a door."), tr("Click its lower right corner."), tr("Click its upper right corner."), tr("Click its upper left corner.")},
                       false, [this, id = underlay->id](const std::vector<QPointF>& places) {
                           const auto width = ask_length(this, tr("Known rectangle"), tr("True width of the rectangle, in mm:"));
                           const auto height = width ? ask_length(this, tr("Known rectangle"), tr("True height of the rectangle, in mm:")) : std::nullopt;
                           if (height) straighten(id, places, *width, *height);
                       });
}

void MainWindow::straighten(const std::string& id, const std::vector<QPointF>& places, double width, double height) {
    const Underlay* found = find_underlay(document_.section(), id);
    const auto attachment = found ? document_.study()->attachments.find(found->attachment) : document_.study()->attachments.end();
    if (attachment == document_.study()->attachments.end()) return;
    const QString name = tr("%1, straightened.png").arg(QFileInfo(words(attachment->second->name)).completeBaseName());
    read_away(name, [this, places, width, height, name, present = *found, photo_file = attachment->second, variant = document_.active()]() -> Background::Done {
        const QImage photo = decoded_picture(photo_file->bytes);
        std::array<QPointF, 4> corners;
        for (std::size_t i = 0; i < 4; ++i) {
            const Place own = unplaced(present, places[i].x(), places[i].y());
            corners[i] = {own.x, photo.height() - own.y};
        }
        const Straightened straight = straightened(photo, corners, width, height);
        double factor = 1;
        const AttachedFile file = png_attachment(straight.image, name, &factor);
        Underlay changed = present;
        changed.rotation = 0;
        changed.mirrored = false;
        changed.scale = straight.mm_per_pixel / factor;
        changed.origin = {from_mm(places[0].x() - straight.first.x() * straight.mm_per_pixel), from_mm(places[0].y() - straight.first.y() * straight.mm_per_pixel)};
        return [this, present, changed, file, variant] {
            if (variant >= document_.study()->variants.size()) return;
            const Underlay* now = find_underlay(*document_.study()->variants[variant].section, present.id);
            if (!now || !(*now == present)) return emit sheet_->told(tr("The underlay was changed meanwhile. Straighten it again."));
            emit sheet_->told({});
            tell(change_study(tr("Straighten photo"), [&](const Study& study) { return set_underlay_file(study, variant, changed, file); }));
        };
    }, [this](const QString& why) {
        emit sheet_->told({});
        QMessageBox::warning(this, tr("Not straightened"), tr("The photo cannot be straightened by these four places. It lies as it did.\n\n%1").arg(why));
    });
}

void MainWindow::save_copy_without_underlays() {
    if (!document_.has_study()) return;
    const Study slim = without_underlays(*document_.study());
    const std::size_t with = write_study(*document_.study()).size(), without = write_study(slim).size();
    const QFileInfo own(document_.path());
    const QString offered = document_.path().isEmpty() ? QString() : own.path() + QLatin1Char('/') + tr("%1, without underlays.wallfoot").arg(own.completeBaseName());
    QString path = QFileDialog::getSaveFileName(this, tr("Save a copy without underlays"), offered, tr("Wallfoot studies (*.wallfoot);;All files (*)"));
    path = with_ending(this, path, QStringLiteral(".wallfoot"));
    if (path.isEmpty()) return;
    if (!document_.path().isEmpty() && QFileInfo(path) == own) {
        QMessageBox::warning(this, tr("Not saved"), tr("That is the file of this study itself. Save the copy under another name."));
        return;
    }
    try {
        save_study(slim, path.toStdString());
    } catch (const std::exception& error) {
        QMessageBox::warning(this, tr("Not saved"), QString::fromUtf8(error.what()));
        return;
    }
    const QLocale locale;
    emit sheet_->told(tr("The copy without underlays takes %1 instead of %2: %3 saved. This study is as it was.").arg(locale.formattedDataSize(static_cast<qint64>(without)), locale.formattedDataSize(static_cast<qint64>(with)), locale.formattedDataSize(static_cast<qint64>(with - without))));
}

void MainWindow::export_drawing() {
    if (!document_.has_study()) return;
    const QString dxf = tr("DXF drawing (*.dxf)"), svg = tr("SVG drawing (*.svg)");
    QString chosen = dxf;
    const QFileInfo own(document_.path());
    QString path = QFileDialog::getSaveFileName(this, tr("Export the drawing"), document_.path().isEmpty() ? QString() : own.path() + QLatin1Char('/') + own.completeBaseName() + QStringLiteral(".dxf"), dxf + QStringLiteral(";;") + svg, &chosen);
    path = with_ending(this, path, chosen == svg ? QStringLiteral(".svg") : QStringLiteral(".dxf"));
    if (path.isEmpty()) return;
    const Drawing drawing = plain_drawing(document_.section());
    QString reason;
    if (write_whole(path, QFileInfo(path).suffix().toLower() == QStringLiteral("svg") ? svg_text(drawing) : dxf_text(drawing), &reason))
        emit sheet_->told(tr("The drawing was written to %1, in mm.").arg(QFileInfo(path).fileName()));
    else
        QMessageBox::warning(this, tr("Not written"), tr("The drawing could not be written to\n%1\n\n%2").arg(path, reason));
}

}  // namespace wallfoot
