// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/pack_dialog.hpp"

#include <QFileInfo>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QTimer>
#include <QVBoxLayout>

#include "core/file/whole_file.hpp"
#include "core/text/message.hpp"
#include "solver/report/pack.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

/// What the thread that packs and the dialog share.
struct PackDialog::Run {
    std::atomic<int> percent{0};
    Context context{[this](double share) { percent = static_cast<int>(100 * share); }};
};

PackDialog::PackDialog(std::shared_ptr<const Study> study, const QString& path, QWidget* parent) : QDialog(parent), run_(std::make_shared<Run>()) {
    setWindowTitle(tr("Pack for a checker"));
    setAttribute(Qt::WA_DeleteOnClose);
    auto* column = new QVBoxLayout(this);
    text_ = new QLabel(tr("Working out all variants for %1…").arg(QFileInfo(path).fileName()), this);
    text_->setWordWrap(true);
    text_->setTextFormat(Qt::PlainText);
    text_->setMinimumWidth(420);
    bar_ = new QProgressBar(this);
    button_ = new QPushButton(tr("Stop"), this);
    column->addWidget(text_);
    column->addWidget(bar_);
    column->addWidget(button_, 0, Qt::AlignRight);
    connect(button_, &QPushButton::clicked, this, &QDialog::close);
    auto* look = new QTimer(this);
    connect(look, &QTimer::timeout, this, [this] { bar_->setValue(run_->percent); });
    look->start(100);
    work_.run([this, run = run_, study, path]() -> Background::Done {
        QString text;
        try {
            std::vector<const Variant*> variants;
            for (const Variant& variant : study->variants) variants.push_back(&variant);
            const Pack pack = make_pack(*study, variants, run->context);
            run->context.check();
            save_whole(pack.bytes, path.toStdString(), "pack");
            text = tr("The pack is in %1.").arg(path);
            if (!pack.converged) text += QLatin1Char('\n') + tr("One of the results is not as close as was asked; results.csv tells its bounds.");
        } catch (const Cancelled&) {
            return {};
        } catch (const InputFault& fault) {
            text = tr("There is no pack: %1").arg(sentence(fault.faults()));
        } catch (const std::exception& error) {
            text = tr("There is no pack: %1").arg(QString::fromUtf8(error.what()));
        }
        return [this, text] { finish(text); };
    });
}

PackDialog::~PackDialog() { run_->context.cancel(); }

QString PackDialog::told() const { return text_->text(); }

void PackDialog::finish(const QString& text) {
    text_->setText(text);
    bar_->hide();
    button_->setText(tr("Close"));
    adjustSize();
}

}  // namespace wallfoot
