// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/other_study.hpp"

#include <QApplication>
#include <QFileInfo>
#include <QPointer>
#include <algorithm>

#include "core/file/study_file.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

OtherStudy::OtherStudy(QObject* parent) : QObject(parent) { pool_.setMaxThreadCount(1); }

OtherStudy::~OtherStudy() {
    stop();
    pool_.clear();
    pool_.waitForDone();
}

void OtherStudy::stop() {
    if (running_) running_->cancel();
    running_.reset();
    for (Compared& of : variants_)
        if (!of.findings && of.why == tr("being worked out…")) of.why = tr("stopped");
}

std::size_t OtherStudy::worked_out() const {
    return static_cast<std::size_t>(std::count_if(variants_.begin(), variants_.end(), [](const Compared& of) { return of.findings != nullptr; }));
}

void OtherStudy::take(std::shared_ptr<const Study> study, const QString& why) {
    variants_.clear();
    for (const Variant& variant : study->variants) variants_.push_back({variant.id, variant.name, variant.section, nullptr, why, study, name_});
}

void OtherStudy::open(const QString& path) {
    stop();
    variants_.clear();
    problem_.clear();
    name_ = QFileInfo(path).completeBaseName();
    running_ = std::make_shared<Context>();
    pool_.start([path = path.toStdString(), context = running_, self = QPointer(this)] {
        // In the window's thread, and only while this very work is wanted.
        const auto tell = [&](auto act) {
            QMetaObject::invokeMethod(qApp, [self, context, act] {
                if (!self || self->running_ != context) return;
                act(*self);
                emit self->changed();
            });
        };
        const auto fail = [&](const QString& problem) {
            tell([problem](OtherStudy& other) {
                other.running_.reset();
                other.problem_ = problem;
            });
        };
        std::shared_ptr<const Study> study;
        try {
            study = std::make_shared<const Study>(load_study(path).study);
        } catch (const InputFault& fault) {
            return fail(sentence(fault.faults()));
        } catch (const std::exception& failure) {
            return fail(words(failure.what()));
        }
        tell([study](OtherStudy& other) { other.take(study, tr("being worked out…")); });
        for (std::size_t v = 0; v < study->variants.size(); ++v) {
            std::shared_ptr<const Findings> findings;
            QString why;
            try {
                findings = find(*study, study->variants[v], {}, *context);
                if (context->cancelled()) return;
                if (findings->has_fault()) {
                    why = sentence(faults_of(findings->messages));
                    findings.reset();
                }
            } catch (const Cancelled&) {
                return;
            } catch (const InputFault& fault) {
                why = sentence(fault.faults());
            } catch (const std::exception& failure) {
                why = words(failure.what());
            }
            const bool last = v + 1 == study->variants.size();
            tell([v, findings, why, last](OtherStudy& other) {
                other.variants_[v].findings = findings;
                other.variants_[v].why = why;
                if (last) other.running_.reset();
            });
        }
    });
}

}  // namespace wallfoot
