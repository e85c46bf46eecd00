// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/office_dialog.hpp"

#include <QDialogButtonBox>
#include <QDir>
#include <QFileDialog>
#include <QFileInfo>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPainter>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QStandardPaths>
#include <QVBoxLayout>

#include "core/file/whole_file.hpp"
#include "core/text/message.hpp"
#include "ui/panels/file_name.hpp"
#include "ui/panels/words.hpp"
#include "ui/report/letterhead.hpp"

namespace wallfoot {

namespace {

QString kept_office_path() { return QStandardPaths::writableLocation(QStandardPaths::AppLocalDataLocation) + QStringLiteral("/report-template.json"); }

/// Why something could not be done with a template; empty when it could.
QString office_trouble(const std::function<void()>& act) {
    try {
        act();
        return {};
    } catch (const InputFault& fault) {
        return sentence(fault.faults());
    } catch (const std::exception& error) {
        return words(error.what());
    }
}

}  // namespace

std::shared_ptr<const OfficeTemplate> kept_office(QString* trouble) {
    std::shared_ptr<const OfficeTemplate> office;
    if (!QFileInfo::exists(kept_office_path())) return office;
    const QString why = office_trouble([&] {
        auto read = std::make_shared<const OfficeTemplate>(load_office_template(kept_office_path().toStdString()));
        need_printable(*read);
        office = std::move(read);
    });
    if (trouble) *trouble = why;
    return office;
}

QString keep_office(const OfficeTemplate& office) {
    return office_trouble([&] {
        const QString path = kept_office_path();
        if (office.empty()) {
            if (QFileInfo::exists(path) && !QFile::remove(path)) throw std::runtime_error(QObject::tr("%1 cannot be removed.").arg(path).toStdString());
            return;
        }
        need_printable(office);
        QDir().mkpath(QFileInfo(path).path());
        save_whole(write_office_template(office), path.toStdString(), "template");
    });
}

OfficeDialog::OfficeDialog(const OfficeTemplate& office, QWidget* parent) : QDialog(parent) {
    setWindowTitle(tr("Template of the reports"));
    auto* rows = new QVBoxLayout(this);
    auto* about = new QLabel(tr("Stands on all your reports and short answers. It is kept for you on this computer, not in the study."), this);
    about->setWordWrap(true);
    rows->addWidget(about);
    auto* form = new QFormLayout;
    name_ = new QLineEdit(this);
    form->addRow(tr("Na&me of the office"), name_);
    const auto box = [&](const QString& label, const QString& hint, int lines) {
        auto* edit = new QPlainTextEdit(this);
        edit->setPlaceholderText(hint);
        edit->setTabChangesFocus(true);
        edit->setFixedHeight(fontMetrics().lineSpacing() * lines + 14);
        QString plain = label;
        edit->setAccessibleName(plain.remove(QLatin1Char('&')));
        form->addRow(label, edit);
        return edit;
    };
    contact_ = box(tr("Con&tact"), tr("One line each: address, telephone, e-mail; at most 8."), 3);
    auto* logo_row = new QHBoxLayout;
    picture_ = new QLabel(this);
    picture_->setMinimumSize(150, 48);
    picture_->setAccessibleName(tr("Logo"));
    auto* choose = new QPushButton(tr("Choose a &logo…"), this);
    auto* none = new QPushButton(tr("&No logo"), this);
    logo_row->addWidget(picture_, 1);
    logo_row->addWidget(choose);
    logo_row->addWidget(none);
    form->addRow(tr("Logo"), logo_row);
    before_ = box(tr("Text &before the answer"), tr("Such as a greeting, or what you were asked to do."), 3);
    end_ = box(tr("Text at the &end"), tr("Such as your terms, or who signs."), 3);
    foot_ = new QLineEdit(this);
    foot_->setPlaceholderText(tr("One line at the foot of every page."));
    form->addRow(tr("&Foot line"), foot_);
    rows->addLayout(form);
    told_ = new QLabel(this);
    told_->setWordWrap(true);
    told_->setTextFormat(Qt::PlainText);
    rows->addWidget(told_);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    auto* open = buttons->addButton(tr("O&pen a template…"), QDialogButtonBox::ActionRole);
    auto* save = buttons->addButton(tr("Save a cop&y…"), QDialogButtonBox::ActionRole);
    auto* clear = buttons->addButton(tr("Clea&r"), QDialogButtonBox::ActionRole);
    for (QPushButton* button : {choose, none, open, save, clear}) button->setAutoDefault(false);
    rows->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(clear, &QPushButton::clicked, this, [this] { show_office({}); });
    connect(none, &QPushButton::clicked, this, [this] {
        logo_.reset();
        show_logo();
    });
    connect(choose, &QPushButton::clicked, this, [this] {
        if (const QString path = QFileDialog::getOpenFileName(this, tr("Logo"), {}, tr("Pictures (*.png *.jpg *.jpeg *.svg)")); !path.isEmpty()) take_logo(path);
    });
    connect(open, &QPushButton::clicked, this, [this] {
        if (const QString path = QFileDialog::getOpenFileName(this, tr("Open a template"), {}, tr("Template (*.json)")); !path.isEmpty()) open_template(path);
    });
    connect(save, &QPushButton::clicked, this, [this] {
        if (this->office().empty()) return told_->setText(sentence("template-empty"));
        if (const QString why = trouble(); !why.isEmpty()) return told_->setText(why);
        QString path = QFileDialog::getSaveFileName(this, tr("Save a copy of the template"), QStringLiteral("template.json"), tr("Template (*.json)"));
        path = with_ending(this, path, QStringLiteral(".json"));
        if (path.isEmpty()) return;
        const QString why = office_trouble([&] { save_whole(write_office_template(this->office()), path.toStdString(), "template"); });
        told_->setText(why.isEmpty() ? tr("The copy is in %1; a report by the command line takes it with --template.").arg(path) : why);
    });
    setMinimumWidth(fontMetrics().averageCharWidth() * 84);
    show_office(office);
}

QString OfficeDialog::told() const { return told_->text(); }

QString OfficeDialog::trouble() const {
    const OfficeTemplate office = this->office();
    if (office.contact.size() > most_contact_lines) return sentence("template-contact");
    return office_trouble([&] { need_printable(office); });
}

void OfficeDialog::accept() {
    if (const QString why = trouble(); !why.isEmpty()) return told_->setText(why);
    QDialog::accept();
}

void OfficeDialog::show_office(const OfficeTemplate& office) {
    name_->setText(words(office.office));
    QStringList lines;
    for (const std::string& line : office.contact) lines << words(line);
    contact_->setPlainText(lines.join(QLatin1Char('\n')));
    before_->setPlainText(words(office.before_answer));
    end_->setPlainText(words(office.at_end));
    foot_->setText(words(office.foot));
    logo_ = office.logo;
    show_logo();
    told_->clear();
}

void OfficeDialog::show_logo() {
    picture_->setText({});
    if (!logo_) {
        picture_->setText(tr("none"));
        return;
    }
    OfficeTemplate alone;
    alone.logo = logo_;
    const double height = letterhead_height(alone, 272);
    QPixmap shown(QSize(280, static_cast<int>(height) + 1) * devicePixelRatioF());
    shown.setDevicePixelRatio(devicePixelRatioF());
    shown.fill(Qt::white);
    QPainter painter(&shown);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setRenderHint(QPainter::SmoothPixmapTransform);
    paint_letterhead(painter, alone, QRectF(4, 2, 272, height));
    picture_->setPixmap(shown);
}

void OfficeDialog::take_logo(const QString& path) {
    told_->setText(office_trouble([&] {
        OfficeTemplate alone;
        alone.logo = office_logo(read_whole(path.toStdString()), path.toStdString());
        need_printable(alone);
        logo_ = std::move(alone.logo);
    }));
    show_logo();
}

void OfficeDialog::open_template(const QString& path) {
    std::optional<OfficeTemplate> read;
    const QString why = office_trouble([&] {
        auto office = load_office_template(path.toStdString());
        need_printable(office);
        read = std::move(office);
    });
    if (read) show_office(*read);
    told_->setText(why);
}

OfficeTemplate OfficeDialog::office() const {
    OfficeTemplate office;
    office.office = name_->text().trimmed().toStdString();
    for (const QString& line : contact_->toPlainText().split(QLatin1Char('\n')))
        if (!line.trimmed().isEmpty()) office.contact.push_back(line.trimmed().toStdString());
    office.before_answer = before_->toPlainText().trimmed().toStdString();
    office.at_end = end_->toPlainText().trimmed().toStdString();
    office.foot = foot_->text().trimmed().toStdString();
    office.logo = logo_;
    return office;
}

}  // namespace wallfoot
